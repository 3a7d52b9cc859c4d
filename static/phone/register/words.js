// The words of these screens, in the language in use.

import { followLanguage } from "../following.js";
import { words } from "./words.en.js";

await followLanguage(words, {
  de: () => import("./words.de.js"), es: () => import("./words.es.js"),
});

export { words };
