// The words in use: English, with another language laid over it when a person chooses
// one or the phone itself is set to it. Screens hold parts of `words`, so these are
// changed in place and never replaced. A language that is not on the phone yet leaves
// everything as it is.

import { useLocale } from "../device/clock.js";
import { useCountry } from "./numbers.js";
import { words } from "./words.en.js";

export { words };

/** Words kept elsewhere: each is told the language and waited for. */
export const followers = [];

/** Each language in its own words. */
export const LANGUAGES = { en: "English", de: "Deutsch", es: "Español" };

const OTHERS = { de: () => import("./words.de.js"), es: () => import("./words.es.js") };

let english;
let spoken = "en";
let asked = 0;

/** @returns {string} the language chosen, else the phone's own, else English */
export function languageOf(chosen) {
  return [chosen, ...navigator.languages.map((tag) => tag.slice(0, 2))]
    .find((one) => one in LANGUAGES) ?? "en";
}

/**
 * Speak a language from now on: words, dates and decimal signs.
 * @returns {Promise<boolean>} false if its words are not on this phone
 */
export async function speak(language) {
  const mine = asked += 1;
  english ??= spoken === language ? undefined : lay(words, {});
  let other = { words: english };
  try {
    other = (await OTHERS[language]?.()) ?? other;
  } catch {
    // Not fetched before the network went.
    return false;
  }
  if (mine !== asked) return true;
  if (spoken !== language) {
    words.rules = {};
    lay(other.words, words);
    spoken = language;
  }
  // Of two countries with one language, the phone's own settings say which.
  const tag = navigator.languages.find((one) => one.startsWith(`${language}-`))
    ?? words.tag;
  useLocale(tag);
  useCountry(tag);
  document.documentElement.lang = language;
  await Promise.all(followers.map((told) => told(language)));
  return true;
}

/** Lay words over others, in place: screens hold parts of them. */
export function lay(over, onto) {
  for (const [name, value] of Object.entries(over)) {
    const deeper = value?.constructor === Object;
    onto[name] = deeper ? lay(value, onto[name] ?? {}) : value;
  }
  return onto;
}
