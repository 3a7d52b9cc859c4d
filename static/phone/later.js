// Brings the words of the screens that come after the first one, and lays them beside
// the others, and the look of what only they show: whoever shows such a screen imports
// them before asking for any.

import { words as english } from "./later.en.js";
import { followers, lay, words } from "./words.js";

const OTHERS = { de: () => import("./later.de.js"), es: () => import("./later.es.js") };

followers.push(speak);
await Promise.all([speak(document.documentElement.lang), dress()]);

export { words };

async function speak(language) {
  let other = { words: english };
  try {
    other = (await OTHERS[language]?.()) ?? other;
  } catch {
    // Not fetched before the network went: they stay in English.
  }
  lay(english, words);
  lay(other.words, words);
}

// Not fetched before the network went, it leaves them plain.
function dress() {
  const link = document.createElement("link");
  Object.assign(link, { rel: "stylesheet", href: "/phone/css/later.css" });
  return new Promise((done) => {
    link.onload = link.onerror = done;
    document.head.append(link);
  });
}
