// What runs on while somebody types, looks or decides: the minutes in hand, and a STOP
// that another phone pulled. It stands above every screen of the joint but its own, in
// the frame, so that it moves by itself while nothing below is drawn anew.

import { clockText, dayClockText, monoMs, wallMs } from "../device/clock.js";
import { isWrittenLater } from "./copying.js";
import { disputeTexts } from "./disputed.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { model } from "./model.js";
import { outlasting } from "./outlasting.js";
import { h } from "./parts.js";
import { lineLabel, personName, spanText, valueText } from "./speak.js";
import { chalkTitle, hand, handText, minutesOf, SHORT_MS } from "./strip.js";
import { stopBefore } from "./undecided.js";
import { routeOf, unsavedHere } from "./unsaved.js";

/** What stood on the line of the form that is open, when it came. */
let stood = {};
/** What was said aloud, and when: once, however often the block is filled anew. */
let heard = {};
const HEARD_MS = 10_000;

const SCREENS = ["form", "line", "point", "nonconformance", "stop"];

/** Say it as it is now; failing, it keeps nothing else of the frame from being drawn.
 * @param {HTMLElement} place in the frame */
export function tell(place) {
  try {
    tellAll(place);
  } catch (fault) {
    reportError(fault);
  }
}

function tellAll(place) {
  const { open } = model;
  const { hash } = location;
  const [name, subject, card, line] = hash.slice(2).split("/").map(decodeURIComponent);
  // A card says itself what is left, and that it is in force.
  const isAbove = SCREENS.includes(name) && !(name === "stop" && card)
    && open?.state && open.subject === subject;
  if (stood.hash !== hash || !isAbove) stood = { hash };
  const told = h("div", { id: place.id },
    ...isAbove ? [stopOf(open), inHand(open, wallMs()),
      name === "form" ? stopBefore(open, card) : null,
      name === "form" ? beside(open, card, line === "-" ? "" : line ?? "") : null]
      : name === "joint" && open?.state && open.subject === subject
        ? [leftInRace(open)] : []);
  // What says the same stays as it is: put in anew it would be read aloud once more.
  const coming = [...told.childNodes];
  for (const old of [...place.childNodes]) {
    if (!coming.some((one) => one.isEqualNode(old))) old.remove();
  }
  coming.forEach((one, at) => {
    const old = place.childNodes[at];
    if (!old?.isEqualNode(one)) place.insertBefore(one, old ?? null);
  });
}

function aloud(kind, said) {
  if (heard[kind]?.said !== said) heard = { ...heard, [kind]: { said, at: monoMs() } };
  return monoMs() - heard[kind].at < HEARD_MS ? { role: "alert" } : {};
}

// Of which STOP, for whoever did not pull it.
function stopOf({ sheet, state: { stopped } }) {
  if (!stopped) return null;
  const card = sheet.cards?.find(({ id }) => id === stopped.reason);
  return h("p.inhand.red", { id: "stop-told", ...aloud("stop", stopped.at) },
    icon("stop"), [words.bar.stop, card?.title ?? stopped.reason, clockText(stopped.at)]
      .join(" \u00b7 "));
}

// Whoever reads a line again that two phones read differently sees what each says.
function beside(open, step, line) {
  const found = open.state.steps[step]?.lines[line];
  return found?.status !== "disputed" ? meanwhile(open, step, line)
    : h("div.inhand.yellow", { id: "two-readings" },
      ...disputeTexts(open, step, found).slice(1).map((said) =>
        h("p", {}, icon("warn"), said)));
}

// What another phone read on the line of an open form since it came: told before it is
// saved, which nothing forbids.
function meanwhile({ sheet, state, entries }, step, line) {
  const found = state.steps[step]?.lines[line];
  if (!("entry" in stood)) stood.entry = found?.entry;
  const entry = entries.find(({ id }) => id === found?.entry);
  if (!entry || entry.id === stood.entry || sheet.steps[step].series
    || entry.device === model.identity?.device) return null;
  const said = (sheet.steps[step].fields ?? []).filter(({ kind, id }) =>
    kind === "number" && found.values[id] !== undefined)
    .map((field) => valueText(sheet, field, found.values[field.id]));
  return h("p.inhand.yellow", { id: "meanwhile", ...aloud("entry", entry.id) },
    icon("warn"), [words.line.meanwhile, ...said, clockText(entry.at),
      personName(model.people, entry.person)].join(" \u00b7 "));
}

// In a race the column is below the minutes: what was left half typed leads from here.
function leftInRace(open) {
  const { running, slow } = minutesOf(open, wallMs());
  const kept = unsavedHere(open).at(-1);
  if (!running || slow || !kept) return null;
  const { sheet } = open;
  const { step, line } = kept;
  return h("button.inhand.yellow", { type: "button", id: "left-unsaved",
    onclick: () => { location.hash = `#${routeOf(kept)}`; } }, icon("pen"),
  [words.unsaved.title, lineLabel(sheet, step, line) || sheet.steps[step].title]
    .join(" \u00b7 "));
}

// Where it may only be parted, or was, nothing is green.
const pressing = (left) => Math.min(left, SHORT_MS - 1);

// The minutes while figures are typed; nothing where none press.
function inHand(open, now) {
  const minutes = minutesOf(open, now);
  const { running, slow, chalk, inHandMs, off } = minutes;
  const [next] = outlasting(open, now).filter(({ past }) => !past);
  if (!running && next) {
    return hand(pressing(next.at - now), {}, [dayClockText(next.at), next.title,
      spanText(next.at - now)].join(" \u00b7 "));
  }
  if (!running || slow || !(off || chalk?.line || inHandMs !== undefined)) return null;
  if (isWrittenLater(open, minutes, now)) return null;
  const left = inHandMs ?? chalk.at - now;
  const what = inHandMs === undefined ? chalkTitle(open.sheet, chalk) : "";
  // What presses is never a day away: its hour is enough.
  return hand(off ? pressing(left) : left, {}, [clockText(chalk.at), what,
    off ? `${left > 0 ? "" : "+ "}${spanText(left)}` : handText(left)]
    .filter(Boolean).join(" \u00b7 "),
  inHandMs !== undefined && minutes.guessed);
}
