// The sheet that may lie over a screen (a PIN). It never covers STOP, and goes away
// unsigned when another screen is asked for.

let leaveNow = () => {};

/** Open the sheet. @param {() => void} left told if it is put away unsigned */
export function openOver(left) {
  const over = document.getElementById("over");
  over.hidden = false;
  leaveNow = left;
  return over;
}

/** Close the sheet after it did its work. */
export function closeOver() {
  leaveNow = () => {};
  const over = document.getElementById("over");
  over.hidden = true;
  over.replaceChildren();
}

/** Put the sheet away unsigned. */
export function leaveOver() {
  leaveNow();
}
