// The words of the register's screens, as those of the roads are brought: in English,
// with the language in use laid over them as soon as it is chosen.

import { followers, lay } from "../words.js";
import { words } from "./words.en.js";

export { words };

const OTHERS = { de: () => import("./words.de.js"), es: () => import("./words.es.js") };

const english = lay(words, {});

followers.push(speak);
await speak(document.documentElement.lang);

async function speak(language) {
  let other = { words: english };
  try {
    other = (await OTHERS[language]?.()) ?? other;
  } catch {
    // Not fetched before the network went.
  }
  lay(other.words, words);
}
