// Words of a group of screens that come after the first one: in English, with the
// language in use laid over them as soon as it is chosen. Where that is not on the
// phone they stay in English.

import { followers, lay } from "./words.js";

/**
 * Keep a group's words in the language in use.
 * @param {object} words in English; the others are laid over them in place
 * @param {Record<string, () => Promise<{words: object}>>} others by language
 */
export async function followLanguage(words, others) {
  const english = lay(words, {});
  const speak = async (language) => {
    let other = { words: english };
    try {
      other = (await others[language]?.()) ?? other;
    } catch {
      // Not fetched before the network went.
    }
    lay(other.words, words);
  };
  followers.push(speak);
  await speak(document.documentElement.lang);
}
