// What is said of an item besides whether it is fit for use. The reason it is not is
// that it was taken out of use; it was in hand at a STOP;
// or, counted, it is in place elsewhere by what this phone has heard: named last on a
// subject by a line that stands, and not said since to have come back. It is marked,
// never forbidden: nobody may have recorded its return.

import { entriesOf } from "../device/book.js";
import { dayClockText, monoMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { knownItems } from "./items.js";
import { issued, model, readAll, subjectTitle } from "./model.js";
import { inOrder } from "./numbers.js";
import { offeredAs } from "./offered.js";
import { fill, h, holdOff } from "./parts.js";
import { sheetHere } from "./told.js";
import { words } from "./later.js";

const text = words.hanging;
let kept = {};

/** Mark what a list offers for a field. @param {HTMLElement} list */
export async function mark(open, step, field, list, typed) {
  const keys = [...list.querySelectorAll("[data-value]")];
  for (const key of keys) {
    const { first, said, warns } = offeredAs(open, step, field, key.dataset.value);
    if (first && !key.dataset.unfit) key.dataset.first = "yes";
    if (warns) say(key, "offered", "yes", said);
    else if (said && !key.dataset.offered) note(key, "offered", "yes", said);
    const named = namedBefore(open, step, key.dataset.value, field.items);
    if (named && !key.dataset.named) {
      note(key, "named", "yes", named);
    }
    if (key.dataset.unfit && knownItems(open)[key.dataset.value].out) {
      say(key, "out", "yes", text.out);
    }
    const stop = stoppedWith(open, key.dataset.value, field.items);
    if (stop) say(key, "stopped", "yes", stop);
  }
  // Drawn anew, a list says at once what it said before.
  if (kept.basis?.[0] === open.subject) sayHanging(keys, kept.known);
  inTurn(open, step, field, list, keys, typed);
  sayHanging(keys, await hangElsewhere(open));
  // A key that came under a thumb just now takes no tap.
  if (inTurn(open, step, field, list, keys, typed)) holdOff(list, monoMs());
}

/** Order what a list offers: a typed number is a label's own first of all. What has
 * counted uses is chosen one after the other: what is free comes first, from the one
 * after the last chosen on. @returns {boolean} whether anything moved */
function inTurn(open, step, field, list, keys, typed) {
  const known = knownItems(open);
  const counted = countedOf(open);
  const last = Object.values(open.state.steps[step].lines)
    .filter(({ status }) => status !== "discarded").sort((a, b) => b.at - a.at)
    .map(({ values }) => known[values?.[field.id]]?.label).find(Boolean);
  const wanted = /^\d+$/.test(typed) ? Number(typed) : undefined;
  const weights = [
    ({ label }) => wanted !== undefined && Number(label.match(/\d+/)?.[0]) !== wanted,
    ({ first }) => !first,
    ({ isCounted, unfit }) => isCounted && unfit,
    ({ isCounted, hangs }) => isCounted && hangs,
    ({ isCounted, label }) => isCounted && last && inOrder(label, last) <= 0,
  ];
  const rank = ({ dataset: { value, first, unfit, hangs } }) => {
    const one = { label: known[value].label, first, unfit, hangs,
      isCounted: counted.has(value) };
    return weights.reduce((sum, weighs) => 2 * sum + (weighs(one) ? 1 : 0), 0);
  };
  const ranks = new Map(keys.map((key) => [key, rank(key)]));
  const sorted = [...keys].sort((a, b) => ranks.get(a) - ranks.get(b));
  const stands = [...list.querySelectorAll("[data-value]")];
  const moves = stands.length === sorted.length
    && sorted.some((key, place) => key !== stands[place]);
  if (moves) list.prepend(...sorted);
  return moves;
}

/** @returns {string|undefined} where an item hangs elsewhere, as far as is known now */
export function hangsNow({ subject }, item) {
  const there = kept.basis?.[0] === subject && kept.known?.get(item);
  return there ? saidOf(there) : undefined;
}

function sayHanging(keys, found = new Map()) {
  for (const key of keys) {
    const there = found.get(key.dataset.value);
    if (there) say(key, "hangs", there.subject, saidOf(there));
  }
}

function say(key, sort, value, said) {
  if (key.dataset[sort]) return;
  note(key, sort, value, said);
  if (key.getAttribute("aria-pressed") === "false") {
    key.querySelector(".icon").replaceWith(icon("warn"));
  }
}

function note(key, sort, value, said) {
  key.dataset[sort] = value;
  key.querySelector(".words").append(h("small", {}, said));
}

// Of what was got ready for this subject, as a lot of the day before, where.
function namedBefore({ sheet, state }, step, id, kind) {
  const told = Object.keys(state.steps).filter((one) => one !== step
    && sheet.steps[one].class === "gated")
    .flatMap((one) => (sheet.steps[one].fields ?? []).filter(({ items }) =>
      items === kind).flatMap((field) => linesOf({ state }, one)
      .filter(({ values }) => values?.[field.id] === id)
      .map(({ at }) => ({ at, title: sheet.steps[one].title }))));
  const last = told.sort((a, b) => a.at - b.at).at(-1);
  return last && text.named(last.title, dayClockText(last.at));
}

// What stopped the work while an item was in hand, by the STOP card that says what may
// be at fault. It is marked, not forbidden: the power may have failed, not the jack.
function stoppedWith({ sheet, entries }, id, kind) {
  const cards = (sheet.cards ?? []).filter(({ items }) => items === kind);
  const cardOf = (stop) => cards.find((card) => card.id === stop.about.reason);
  const stop = entries.findLast((one) => one.kind === "stopped" && cardOf(one)
    && inHand(sheet, entries, one, kind) === id);
  return stop && text.stopped(dayClockText(stop.at), cardOf(stop).title);
}

// What of a kind was last used before a STOP; what was only got ready is not in hand.
function inHand({ steps }, entries, stop, kind) {
  return entries.slice(0, entries.indexOf(stop)).map(({ step, values }) =>
    (steps[step]?.class === "gated" ? undefined
      : (steps[step]?.fields ?? []).filter(({ items }) => items === kind)
        .map(({ id }) => values?.[id]).find(Boolean))).findLast(Boolean);
}

/** What a point's own lines name and hangs elsewhere, told once it is known.
 * @returns {HTMLElement} */
export function hangingNote(open, point) {
  const place = h("div", { id: "hanging" });
  const names = new Set(open.sheet.points[point].covers.flatMap((step) =>
    linesOf(open, step).flatMap(({ values }) => Object.values(values))));
  hangElsewhere(open).then((found) => {
    const told = [...found].filter(([item]) => names.has(item));
    fill(place, ...told.map(([item, there]) => h("p.careful", { "data-item": item },
      icon("warn"), `${knownItems(open)[item].label}: ${saidOf(there)}`)));
  }).catch(reportError);
  return place;
}

function saidOf({ subject, at }) {
  return text.there(subjectTitle(subject), dayClockText(at));
}

/** @returns {Promise<Map<string, {subject:string, at:number}>>} by item; of the subject
 *   that is open itself nothing is said */
async function hangElsewhere(open) {
  const others = (await issued()).filter((one) => one !== open.subject);
  const told = await Promise.all(others.map(entriesOf));
  // What is recorded here moves nothing elsewhere.
  const basis = [open.subject, model.items, ...told];
  if (basis.length !== kept.basis?.length
    || basis.some((one, place) => one !== kept.basis[place])) {
    kept = { basis, found: look(open, others, told) };
  }
  const mine = kept;
  mine.known = await mine.found;
  return mine.known;
}

async function look(open, others, told) {
  const last = lastNamed(others, told, countedOf(open));
  const back = others.filter((one) => givesBack(sheetHere(one)).some(({ of }) =>
    of.some((each) => last.has(each))));
  const all = await readAll([...new Set([...last.keys(), ...back])]);
  return standing(all.filter(({ state }) => state), countedOf(open));
}

function countedOf(open) {
  return new Set(Object.entries(knownItems(open))
    .filter(([, { numbers }]) => numbers?.uses_max !== undefined).map(([id]) => id));
}

// Where it was named last it is, or was: only those subjects need be read whole.
function lastNamed(subjects, told, counted) {
  const last = new Map();
  subjects.forEach((subject, place) => told[place].forEach(({ at, values = {} }) => {
    for (const item of Object.values(values)) {
      if (counted.has(item) && !(last.get(item)?.at > at)) {
        last.set(item, { subject, at });
      }
    }
  }));
  return new Set([...last.values()].map(({ subject }) => subject));
}

/** @param {object[]} all subjects with sheet and state @param {Set<string>} counted */
export function standing(all, counted) {
  const back = new Map();
  for (const { sheet, state } of all) {
    for (const { step, of } of givesBack(sheet)) {
      if (state.steps[step].status !== "done") continue;
      const lines = Object.values(state.steps[step].lines);
      const at = Math.max(...lines.map((one) => one.at));
      for (const each of of) back.set(each, Math.max(at, back.get(each) ?? 0));
    }
  }
  const found = new Map();
  for (const open of all) {
    for (const { at, values } of Object.keys(open.sheet.steps).flatMap((step) =>
      linesOf(open, step))) {
      for (const item of Object.values(values).filter((one) => counted.has(one))) {
        if (!(found.get(item)?.at > at)) found.set(item, { subject: open.subject, at });
      }
    }
  }
  return new Map([...found].filter(([, { subject, at }]) =>
    !(back.get(subject) >= at)));
}

function linesOf({ state }, step) {
  return Object.values(state.steps[step]?.lines ?? {})
    .filter(({ status }) => status !== "discarded");
}

function givesBack(sheet) {
  return Object.entries(sheet?.steps ?? {})
    .filter(([, one]) => one.gives_back?.length)
    .map(([step, one]) => ({ step, of: one.gives_back }));
}
