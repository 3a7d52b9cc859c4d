// What a typed figure would mean, said before it is saved: where it stands in its band,
// and, by the very rules that will judge it, what saving the form would raise. It is a
// thought: nothing is signed or kept, and SAVE never waits for it.

import { isSaving } from "./asking.js";
import { earlyTexts, hourTexts } from "./backwards.js";
import { doubtsOf, hourDoubts } from "./doubts.js";
import { draftOf, isOffered } from "./draft.js";
import { gravityOf, spent, tooOld, unfitOf, unfitTexts } from "./gravity.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { newsOf } from "./notice.js";
import { parseFigure, quantityText } from "./numbers.js";
import { fill, h } from "./parts.js";
import { restsOn } from "./reading.js";
import { scale } from "./scale.js";
import { faultTitle, shownFigures } from "./speak.js";
import { suit } from "./suited.js";
import { sayTaken } from "./taken.js";
import { endedBy, thoughtOf } from "./thought.js";
import { fit } from "./uncover.js";
import { sayWanted } from "./wanted.js";

const text = words.means;
/** Figures come one after the other: until then each would be judged by itself. */
const PAUSE_MS = 250;
/** Fewer digits than this, or more, are not tried in another order. */
const [LEAST_DIGITS, MOST_DIGITS] = [3, 5];
/** So many orders of the digits are judged by the rules. */
const MOST_TRIED = 3;
/** A figure that no gauge of the kind can show: the form says so by itself. */
const UNREAD = { graver: [], texts: [], shows: [], doubts: [], tone: "red" };
const MARKS = { green: "tick", yellow: "warn", red: "cross" };

/**
 * The place over the keys that says what a figure means, a moment after it was typed.
 * @param {object} form @param {object} entry its active question
 * @returns {HTMLElement|null} null where nothing is typed, or nothing could be said
 */
export function panel(form, entry) {
  clearTimeout(form.weighing);
  const { field, span } = entry;
  const checked = form.open.sheet.steps[form.step].checks?.length;
  if (entry.text === "" || !(span || checked)) return null;
  const { value } = parseFigure(entry.text, field.places ?? 0);
  if (value === undefined) return null;
  const element = h("div.means", { id: "means", role: "status", tabindex: "0" });
  fill(element, h("p.verdict", {}, quantityText(value, field.unit, field.places)),
    span ? scale(span, value, field) : null);
  element.hidden = !span;
  const settle = () => {
    if (element.isConnected && !form.busy) say(element, form, entry, value);
  };
  form.weighing = setTimeout(settle, PAUSE_MS);
  return element;
}

/**
 * The place over the keys that warns of what saving would raise, where no figure being
 * typed says it: all is answered, or one tap at the target would save.
 * @returns {HTMLElement|null} hidden where saving raises nothing
 */
export function warning(form, entry) {
  sayWanted(form);
  if (entry.text && entry.field?.kind === "number") return null;
  clearTimeout(form.weighing);
  suit(form, entry);
  const aims = entry.target !== undefined && entry.value === undefined;
  if (entry.target !== undefined) sayTaken(form);
  const then = aims ? withAnswer(form, entry, entry.target) : form;
  // What goes on to another question raises nothing yet; nor does what nobody answered.
  const doubts = entry.when ? hourDoubts(form) : [];
  if (!isSaving(then) && doubts.length === 0) return null;
  const isOpen = isOffered(form, entry) && !entry.text;
  const element = h("div.means", { id: "means", role: "status", tabindex: "0" });
  element.hidden = true;
  form.weighing = setTimeout(() => {
    if (element.isConnected && !form.busy) {
      warn(element, isSaving(then) ? foreseen(then)
        : { tone: "yellow", graver: [], texts: [], doubts }, isOpen);
    }
  }, PAUSE_MS);
  return element;
}

function warn(element, { tone, graver, texts, doubts }, isOpen) {
  if (tone === "green") return;
  // That it is still asked, its row says: the key alone shows that it matters.
  element.hidden = isOpen && tone === "yellow" && doubts.length === 0;
  element.classList.add(tone);
  fill(element, h("p.verdict", {}, icon(MARKS[tone]),
    [...graver, ...doubts].join(" \u00b7 ")),
  texts.length ? h("p", {}, texts.join(" \u00b7 ")) : null);
  markKeys(element);
}

// SAVE, and the target that saves at once, show that something would be raised.
function markKeys(element) {
  const dock = element.closest("#dock");
  for (const key of dock?.querySelectorAll('[data-key="go"], .target') ?? []) {
    key.dataset.warns = "yes";
    key.querySelector(".icon")?.replaceWith(icon("warn"));
  }
}

/** The form with another answer to one question. */
export function withAnswer(form, entry, value) {
  return { ...form, entries: form.entries.map((one) =>
    (one === entry ? { ...one, value } : one)) };
}

function say(element, form, entry, value) {
  const { field, span } = entry;
  const told = entry.value === undefined ? UNREAD : foreseen(form);
  // Within one band, it may be beyond another.
  const passes = (one) => foreseen(withAnswer(form, entry, one)).checks
    .every((check) => !restsOn(form.open, form.step, check, field));
  const stands = span && standing(span, value, field, passes);
  // What no gauge shows lies inside nothing, though no end bounds it on that side.
  const word = told === UNREAD && !stands?.far ? "" : stands?.word;
  const tone = worst(told.tone, stands?.tone ?? "green");
  if (!span && told.graver.length + told.doubts.length === 0) return;
  element.hidden = false;
  element.classList.add(tone);
  if (stands?.far) element.classList.add("far");
  // How grave it is comes first; the keys leave little room.
  const more = [stands?.hint, ...stands?.hint ? [] : told.doubts, entry.awaits,
    ...told.shows, ...told.texts].filter(Boolean);
  // What is wrong with something else is no cross before a figure that is inside.
  const isWell = stands?.tone === "green" && told !== UNREAD && tone === "red"
    && !told.doubts.length && !told.checks.some((check) =>
      restsOn(form.open, form.step, check, field));
  const said = h(isWell ? "p.verdict.well" : "p.verdict", {},
    icon(MARKS[isWell ? "green" : tone]),
    [quantityText(value, field.unit, field.places), word].filter(Boolean).join(": "));
  const grave = told.graver.length ? h("p", {}, isWell ? icon(MARKS[tone]) : null,
    h("b", {}, told.graver.join(" \u00b7 "))) : null;
  fill(element, ...(isWell ? [grave, said] : [said, grave]),
    span ? scale(span, value, field) : null,
    more.length ? h("p", {}, more.join(" \u00b7 ")) : null);
  fit(element);
  if (tone !== "green") markKeys(element);
}

function worst(...tones) {
  return ["red", "yellow", "green"].find((one) => tones.includes(one));
}

/**
 * Where a figure stands in its band, in words.
 * @param {import("./limits.js").Span} span @param {number} value
 * @param {{unit?:string, places?:number, low?:number, high?:number}} field
 * @param {(value:number) => boolean} [passes] whether all else is content with another
 * @returns {{word:string, tone:string, far:boolean, hint?:string}}
 */
export function standing({ low, high, never }, value, field, passes = () => true) {
  const off = (by) => quantityText(by, "", field.places);
  const hint = hintOf({ low, high }, value, field, passes);
  if (value > never) {
    return { word: text.capped(off(value - never)), tone: "red", far: true, hint };
  }
  const [below, above] = [value < low, value > high];
  if (!below && !above) return { word: text.inside, tone: "green", far: false };
  const by = below ? low - value : value - high;
  const edge = Math.abs(below ? low : high);
  const far = by > Math.max(low !== undefined && high !== undefined ? high - low : 0,
    edge / 4);
  const word = below ? (far ? text.farBelow : text.below)
    : (far ? text.farAbove : text.above);
  return { word: word(off(by)), tone: "yellow", far, hint };
}

// Nothing is guessed for anybody: it only asks whether that was it.
function hintOf({ low, high }, value, field, passes) {
  const [least, most] = [low ?? field.low, high ?? field.high];
  if (value >= least && value <= most) return undefined;
  const fits = (one) => one >= least && one <= most && one !== value;
  const said = (one) => quantityText(one, field.unit, field.places);
  // Short of its half or double a figure is more likely meant than misplaced.
  const isMeant = value < least ? value * 2 > least : value < most * 2;
  const tens = isMeant ? undefined : [value * 10, value / 10].find((one) =>
    Number.isInteger(one) && fits(one) && passes(one));
  if (tens !== undefined) return text.ten(said(tens));
  const digits = String(Math.abs(value));
  // Of one end alone nearly any order would do.
  if (low === undefined || high === undefined || digits.length < LEAST_DIGITS
    || digits.length > MOST_DIGITS) return undefined;
  const middle = (low + high) / 2;
  const swapped = [...new Set(orders(digits))].filter((one) => one[0] !== "0")
    .map((one) => Math.sign(value) * Number(one)).filter(fits)
    .sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))
    .slice(0, MOST_TRIED).find(passes);
  return swapped === undefined ? undefined : text.swapped(said(swapped));
}

function orders(digits) {
  if (digits.length < 2) return [digits];
  return [...digits].flatMap((digit, place) =>
    orders(digits.slice(0, place) + digits.slice(place + 1)).map((rest) =>
      digit + rest));
}

/** What saving the form as it is filled in now would raise, by the rules themselves. */
export function foreseen(form) {
  const { open, step } = form;
  const thought = { ...draftOf(form), person: model.shift?.person,
    device: model.identity?.device };
  const then = thoughtOf(open, thought);
  const after = { ...open, scene: then.scene, state: then.state,
    entries: then.entries };
  const early = [...earlyTexts(after, step, form.line),
    ...hourTexts(after, then.entry)];
  const news = newsOf(then.entry, open.state, after);
  const was = open.state.steps[step];
  const told = ({ failed = [], cautions = [] } = {}) => [...failed, ...cautions];
  const fresh = (id) => told(news.line).includes(id) || !told(was).includes(id);
  const [raised, careful] = [news.raised.filter(fresh), news.careful.filter(fresh)];
  // That its gate is shut, the form says already, though not that it was when a typed
  // time says; and what was so before, saving this does not raise.
  const there = new Set(open.state.nonconformances.map(({ id }) => id));
  const others = news.faults.filter(({ code, id }) => !there.has(id)
    && !(code === "gate_shut" && was.refusals.length));
  const checks = (open.sheet.steps[step].checks ?? []).filter(({ id }) =>
    raised.includes(id) || careful.includes(id));
  const unfit = unfitOf(open.sheet, step, raised);
  const figures = news.line?.shows ?? {};
  const [doubts, old] = [doubtsOf(form), tooOld(open, after, then.entry)];
  const ended = endedBy(then).map((id) => text.ended(titleOf(open.sheet, id)));
  const graver = [...new Set([...checks, ...unfit].map((check) =>
    gravityOf(check, after)))];
  return {
    checks, doubts,
    tone: raised.length + others.length + old.length ? "red"
      : [careful, early, ended, doubts].some((all) => all.length) ? "yellow" : "green",
    graver: [...spent(open, then.state), ...old, ...graver,
      ...(others.length && !raised.length ? [words.nonconformance.title] : []),
      ...ended],
    texts: [...checks.map((check) => check.text),
      ...unfitTexts(after, step, unfit, news.line),
      ...early, ...others.map((one) =>
      faultTitle(one, { ...after, people: model.people }))],
    shows: shownFigures(open.sheet, step, Object.keys(figures).length ? figures
      : after.state.steps[step].shows),
  };
}
