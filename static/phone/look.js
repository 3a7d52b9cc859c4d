// How this phone is set to look, kept beside the settings where it is read at once: a
// night theme must not begin with a white page, nor STOP wait for the storage.

const NAME = "look";

/** Take on what was kept. @returns {string|undefined} the language chosen */
export function wearKept() {
  const { language, ...look } = kept();
  wear(look);
  return language;
}

/** Take on a theme and a hand. */
export function wear({ theme = "sun", hand = "right" }) {
  Object.assign(document.documentElement.dataset, { theme, hand });
}

/** Keep what is seen of the settings. */
export function keepLook({ theme, hand, language }) {
  try {
    localStorage.setItem(NAME, JSON.stringify({ theme, hand, language }));
  } catch {
    // Full, or forbidden here: the next start looks as the page was served.
  }
}

function kept() {
  try {
    return JSON.parse(localStorage.getItem(NAME)) ?? {};
  } catch {
    return {};
  }
}
