// Shows entries as codes for another phone's camera: one code where they fit, else
// frames that run round by themselves until the other phone has them all.

import { framesOf, FrameFault } from "../../device/roads/frames.js";
import { packed, ParcelFault } from "../../device/roads/parcel.js";
import {
  everythingOf, keySignedFor, newHere, oneEntry, wholeRoster,
} from "../../device/roads/pick.js";
import { model } from "../model.js";
import { button, fill, h } from "../parts.js";
import { words } from "./words.js";
import { codeOf, drawCode } from "./code.js";

const text = words.roads;
const FRAME_MS = 700;
const PICK = {
  new: newHere, all: everythingOf, one: oneEntry, key: keySignedFor,
  roster: wholeRoster,
};

export const title = () => text.show;

/** Show what params [what, subject, entry] name. @returns {() => void} */
export function mount(element, { dock, params }) {
  const [what, ...which] = params;
  const view = { element, dock, place: 0, frames: [], running: true };
  prepare(view, what, which);
  const timer = setInterval(() => {
    if (view.running && view.frames.length > 1) turn(view, 1);
  }, FRAME_MS);
  return () => clearInterval(timer);
}

// A key signed for is of no subject: the phone that asked waits for this.
function isAnswer(what, [subject]) {
  return what === "key" || (what === "one" && !subject);
}

async function prepare(view, what, which) {
  const rows = await (PICK[what] ?? newHere)(...which);
  if (rows.length === 0) {
    fill(view.element, h("p.big", {}, text.nothing));
    return;
  }
  try {
    view.frames = await framesOf(await packed(model.identity.site, rows));
  } catch (fault) {
    if (!(fault instanceof ParcelFault || fault instanceof FrameFault)) throw fault;
    fill(view.element, h("p.bad", { role: "alert" }, text.tooMuch));
    return;
  }
  view.canvas = codeOf(view.frames[0], text.codeOf(rows.length));
  fill(view.element, view.canvas,
    h("p.hint", {}, isAnswer(what, which) ? text.answerHint
      : text.showHint(rows.length)));
  fill(view.dock, keys(view));
  turn(view, 0);
}

function keys(view) {
  if (view.frames.length === 1) return h("p.hint", {}, text.oneCode);
  // Which of them is shown stands on a key: below the code a small screen ends.
  view.count = h("span", { id: "frame" });
  const hold = button("plain", { mark: "wait", label: text.hold, note: view.count,
    id: "hold", "aria-pressed": "false",
    onclick: () => {
      view.running = !view.running;
      hold.setAttribute("aria-pressed", view.running ? "false" : "true");
    } });
  const step = (id, mark, label, by) => button("plain", { mark, label, id,
    onclick: () => { view.running = false; turn(view, by); } });
  return h("div.ask", {}, hold, h("div.pair", {},
    step("frame-before", "back", text.before, -1),
    step("frame-after", "now", text.after, 1)));
}

function turn(view, by) {
  const of = view.frames.length;
  view.place = (view.place + by + of) % of;
  drawCode(view.canvas, view.frames[view.place]);
  view.canvas.dataset.frame = String(view.place + 1);
  view.canvas.dataset.of = String(of);
  if (view.count) view.count.textContent = text.frame(view.place + 1, of);
}
