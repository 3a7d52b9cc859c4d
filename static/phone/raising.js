// Reporting a nonconformance by hand: what is known of it is offered.

import { monoMs, wallMs } from "../device/clock.js";
import { currentOf, raceBegan } from "./column.js";
import { askedAt } from "./copying.js";
import { callsOff, stopLeft } from "./decided.js";
import { apartOf, sayNothingLeft } from "./instead.js";
import { nextActs, titleOf } from "./minutes.js";
import { model } from "./model.js";
import { timeOver } from "./overtime.js";
import { button, fill, h, holdOff } from "./parts.js";
import { signAndSay } from "./signing.js";
import { partedAt } from "./turns.js";
import { stopFirst } from "./undecided.js";
import { keptReason } from "./written.js";
import { words } from "./later.js";

const text = words.nonconformance;
const SHORTEST = 3;

// What a STOP card is about is offered as it is, and can be written over; elsewhere the
// step in hand is named, and what is wrong with it is to be said behind that.
export function raise(element, dock, go, id) {
  const { sheet, subject } = model.open;
  const card = (sheet.cards ?? []).find((each) => each.id === id);
  const place = inHand(model.open);
  const where = card || !place ? "" : `${place}: `;
  const reason = keptReason("nonconformance", card?.id ?? "", undefined,
    card?.title ?? where);
  const note = h("p.note", { role: "alert" });
  let busy = false;
  const sign = async () => {
    const about = { text: reason.text() };
    if (!model.shift) go("/people");
    else if (behind(about.text, where).length < SHORTEST) fill(note, text.why);
    else if (!busy) {
      busy = true;
      const entry = await signAndSay([{ kind: "nonconformance", about }], model.shift);
      busy = false;
      if (!entry) return;
      reason.done();
      go(`/nonconformance/${subject}`);
    }
  };
  fill(element, h("h2", {}, text.what), reason.element, note,
    h("p.hint", {}, text.shuts), h("p.hint", {}, text.who));
  fill(dock, h("div.ask", {}, ofTheStop(id, async () => {
    const said = await sayNothingLeft(model.open, stopLeft(model.open), go);
    if (said) go(`/joint/${subject}`);
  }), button("main.red", {
    mark: "warn", label: text.raise, id: "report-now", onclick: sign,
  })));
  // What a STOP card is about could be signed as it stands: not by a second tap.
  holdOff(dock, monoMs());
}

// What the joint's screen leads with: never the race's next step where it was parted, a
// STOP is in force or called it off, or its time is over.
function inHand(open) {
  if (partedAt(open)) return titleOf(open.sheet, apartOf(open.sheet));
  const { stopped } = open.state;
  const left = stopLeft(open);
  if (stopped || (left && (callsOff(open, left) || stopFirst(open)))) {
    const { reason } = stopped ?? left.stop.about;
    return open.sheet.cards?.find(({ id }) => id === reason)?.title;
  }
  if (!raceBegan(open)) return open.sheet.steps[currentOf(open)]?.title;
  const [act] = nextActs(open, askedAt(open));
  return timeOver(open, wallMs())?.title
    ?? open.sheet.steps[act?.step ?? currentOf(open)]?.title;
}

// The step named beforehand says nothing yet; whoever writes over it has said it.
function behind(said, where) {
  const named = where.trim();
  return said.startsWith(named) ? said.slice(named.length).trim() : said;
}

// Of a STOP made safe of which nothing is to be decided, somebody says just that.
function ofTheStop(id, done) {
  const left = stopLeft(model.open);
  if (!left || left.stop.about.reason !== id || left.reported.length) return null;
  return button("plain", { mark: "tick", label: text.nothingLeft, id: "nothing-left",
    onclick: done });
}
