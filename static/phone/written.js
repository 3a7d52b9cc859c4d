// A reason half typed is kept on the phone until it is signed, whatever becomes of the
// browser. It is no entry and counts as nothing.

import { dayClockText, wallMs } from "../device/clock.js";
import { dropMeta, getMeta, putMeta } from "../device/database.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { fill, h } from "./parts.js";
import { reasonPicker } from "./reasons.js";
import { words } from "./later.js";

/** Not where answers of forms are kept: no form goes on with it. */
const PLACE = "written/";

/**
 * A picker as `reasonPicker` makes it, that begins with what was left typed here.
 * @param {string} kind which ready-made reasons @param {string} about what is signed
 * @param {() => void} [changed] @param {string} [offered] what stands there at first
 * @returns {{element:HTMLElement, text:() => string, take:(said:string) => void,
 *   done:() => Promise<void>}} `done` forgets it, once it is signed
 */
export function keptReason(kind, about, changed = () => {}, offered = "") {
  const { subject, state } = model.open;
  const key = `${PLACE}${[subject, state.attempt, kind, about].join("/")}`;
  const note = h("p.careful", { hidden: true });
  let touched = false;
  const picker = reasonPicker(kind, () => {
    touched = true;
    note.hidden = true;
    keep(key, picker.text(), offered);
    changed();
  });
  picker.take(offered);
  const takeUp = ({ said, at }) => {
    picker.take(said);
    note.hidden = false;
    fill(note, icon("pen"), `${words.unsaved.title}, ${dayClockText(at)}`);
  };
  getMeta(key).then((row) => { if (row && !touched) takeUp(row); });
  picker.element.append(note);
  return { ...picker, done: () => dropMeta(key) };
}

// A full phone keeps nothing half typed, but keeps nobody from signing.
function keep(key, said, offered) {
  const isNew = said !== "" && said !== offered.trim();
  (isNew ? putMeta(key, { key, said, at: wallMs() }) : dropMeta(key)).catch(() => {});
}
