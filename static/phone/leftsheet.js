// A sheet of paper that was being copied when the browser ended, or the shift did:
// somebody is asked whether it goes on, and nobody copies on by mistake.

import { dayClockText, dayText, monoMs, wallMs } from "../device/clock.js";
import { copyingOf, hold, raceRuns, shiftNow } from "./copying.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { model } from "./model.js";
import { button, h, holdOff } from "./parts.js";

const text = words.instead;
let came = 0;

// One that was in hand before, of which nobody said yet whether it still is.
function copyingLeft({ subject }) {
  const sheet = model.copying;
  if (sheet?.subject !== subject || copyingOf({ subject })) return undefined;
  const isToday = dayText(sheet.noted) === dayText(wallMs());
  return isToday || sheet.shift === shiftNow() ? sheet : undefined;
}

/**
 * Asks whether a sheet left is still being copied. In a race that runs it asks nobody:
 * there the keys are for what is done now. @returns {HTMLElement|null}
 */
export function copyingAsked(open, draw) {
  const sheet = copyingLeft(open);
  if (!sheet || !model.shift || raceRuns(open, sheet.noted)) return null;
  const answer = (sort, mark, label, kept) => button("choice", {
    mark, label, "data-copying": sort, onclick: () => hold(kept).then(draw),
  });
  const asked = h("div.ask", { id: "copying-left" },
    h("p.careful", {}, icon("pen"), text.copyingLeft(sheet.writer,
      dayClockText(sheet.at))),
    answer("on", "pen", text.copyingOn, sheet),
    answer("end", "cross", text.copyingNow, undefined));
  // In place of the keys that were drawn first it takes no tap that was meant for them.
  if (!document.getElementById("copying-left")) came = monoMs();
  holdOff(asked, came);
  return asked;
}
