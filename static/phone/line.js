// One recorded line: what it says, every entry behind it, and how to mend it openly:
// read again, correct with a reason, or discard a batch.

import { addsPhoto } from "../core/entries.js";
import { dayClockText, monoMs } from "../device/clock.js";
import { earlyTexts, hourTexts } from "./backwards.js";
import { disputeTexts, phoneName } from "./disputed.js";
import { icon } from "./icons.js";
import { knownItems } from "./items.js";
import { outsideOf } from "./judged.js";
import { sayMissing } from "./missing.js";
import "./named.js";
import { photosOf } from "./photos.js";
import { model } from "./model.js";
import { badge, button, fill, h, holdOff } from "./parts.js";
import { signAndSay } from "./signing.js";
import {
  checkText, flagTexts, lineLabel, personName, shownFigures, stateBadge, valueText,
} from "./speak.js";
import { isOfLoss } from "./turns.js";
import { keptReason } from "./written.js";
import { words } from "./later.js";

const text = words.line;
const SHORTEST = 3;

let heading = "";

export const title = () => heading;

/** Show a line; params [subject, step, line]. @returns {() => void} */
export function mount(element, { dock, go, params }) {
  const [subject, step, lineParam, then] = params;
  const line = lineParam === "-" ? "" : lineParam;
  const { sheet, state } = model.open;
  const said = sheet.steps[step];
  const found = state.steps[step]?.lines[line];
  heading = said.series ? said.title : lineLabel(sheet, step, line) || said.title;
  if (!found) {
    go(`/joint/${subject}`);
    return () => {};
  }
  const route = `/form/${subject}/${step}`;
  fill(element, ...facts(model.open, step, line), ...history(sheet, step, line, found));
  fill(dock, h("div.ask", {},
    h("div.pair", {},
      said.series ? null : button("plain", { mark: "cross", label: text.discard,
        note: takesAway(found), id: "discard",
        onclick: () => discard(dock, go, subject, step, line) }),
      button("plain", { mark: "photo", label: words.photo.add, id: "add-photo",
        onclick: () => go(`${route}/${lineParam}/photo`) })),
    h("div.pair", {},
      button("plain", { mark: "pen", label: text.correct, id: "correct",
        onclick: () => go(`${route}/${lineParam}/correct`) }),
      button("plain", { mark: "again", label: text.retake, id: "retake",
        onclick: () => go(`${route}/${said.series ? "-" : lineParam}/again`) }))));
  if (then === "discard" && !said.series) discard(dock, go, subject, step, line);
  return () => {};
}

function facts(open, step, line) {
  const { sheet, state } = open;
  const fields = sheet.steps[step].fields ?? [];
  const found = state.steps[step].lines[line];
  const whole = ofWhole(open, step);
  const failed = [...found.failed, ...whole.failed];
  return [
    h("div.headline", {}, found.status === "ok" && isOfLoss(sheet.steps[step])
      ? badge("red", "cross", words.lost.gone) : stateBadge(
        found.status === "ok" && failed.length ? "failed" : found.status)),
    ...corrections(open, found),
    ...(found.status === "disputed" ? contradicting(open, step, found)
      : [h("dl.facts", {}, ...fields.flatMap((field) => [
        h("dt", {}, field.label),
        h("dd", { "data-field": field.id }, ...figure(open, step, line, field)),
      ]))]),
    ...[found.shows, whole.shows].flatMap((shows) => shownFigures(sheet, step, shows))
      .map((one) => h("p.figure", {}, one)),
    ...failed.map((id) =>
      h("p.bad", {}, icon("cross"), checkText(sheet, step, id, found))),
    ...[...[...found.cautions, ...whole.cautions].map((id) =>
      checkText(sheet, step, id)), ...earlyTexts(open, step, line)].map((said) =>
      h("p.careful", {}, icon("warn"), said)),
  ];
}

// Neither of two that contradict is what was read: who read what, and what settles it.
function contradicting(open, step, found) {
  const [what, ...readings] = disputeTexts(open, step, found);
  return [h("p.bad", {}, icon("cross"), what),
    ...readings.map((one) => h("p.careful", { "data-reading": "" }, icon("warn"), one)),
    h("p", { id: "settles" }, text.settles)];
}

// To discard is no choice between two readings.
function takesAway({ status, entries }) {
  const read = model.open.entries.filter(({ id, kind }) =>
    entries.includes(id) && kind !== "correction");
  return status === "disputed" && read.length > 1 ? text.takesAway(read.length) : "";
}

// That a reading was corrected, and why, stands above what is read now.
function corrections({ entries }, found) {
  return entries.filter((one) => found.entries.includes(one.id)
    && one.kind === "correction" && !addsPhoto(one)).map((one) =>
    h("p.careful", { "data-corrected": one.id }, icon("pen"), [words.entry.correction,
      dayClockText(one.at), one.about.reason].join(" \u00b7 ")));
}

// What a step's lines are worth together is what its one line is worth; of several no
// line is in limits by itself while together they are not.
function ofWhole({ sheet, state }, step) {
  const { lines, shows, failed, cautions } = state.steps[step];
  if (sheet.steps[step].series) return { failed: [], cautions: [], shows: {} };
  const isOne = Object.keys(lines).length === 1;
  return { failed, cautions: isOne ? cautions : [], shows: isOne ? shows : {} };
}

// A figure beyond what it may be says so itself, with its limit.
function figure(open, step, line, field) {
  const { values } = open.state.steps[step].lines[line];
  const said = valueText(open.sheet, field, values[field.id]);
  const outside = open.scene && values[field.id] !== undefined
    && outsideOf(open, step, line, field, values);
  return [said, outside ? h(`small.${outside.tone === "red" ? "bad" : "careful"}`, {},
    icon(outside.tone === "red" ? "cross" : "warn"), outside.limit) : null];
}

// Of a line read again after it was discarded, what was read and discarded as well.
function history(sheet, step, line, found) {
  const { entries: all } = model.open;
  const { attempt } = all.find(({ id }) => id === found.entry) ?? {};
  const isOf = (one) => !sheet.steps[step].series && one.step === step
    && (one.line ?? "") === line && one.attempt === attempt;
  const entries = all.filter((one) => found.entries.includes(one.id) || isOf(one));
  const isDisputed = found.status === "disputed";
  return [h("h2", {}, text.history), ...entries.map((entry) => h("article.rest", {},
    h("p.restwho", {}, [
      addsPhoto(entry) ? words.photo.added : words.entry[entry.kind] ?? entry.kind,
      dayClockText(entry.at), personName(model.people, entry.person),
      ...(isDisputed ? [phoneName(entry.device)] : []),
    ].join(" \u00b7 ")),
    ...(sheet.steps[step].fields ?? [])
      .filter((field) => entry.values[field.id] !== undefined)
      .map((field) => h("p", {},
        `${field.label}: ${valueText(sheet, field, entry.values[field.id])}`)),
    entry.about.at === undefined ? null
      : h("p", {}, `${words.form.rows.when}: ${dayClockText(entry.about.at)}`),
    ...hourTexts(model.open, entry).map((said) =>
      h("p.careful", {}, icon("warn"), said)),
    entry.about.reason && !addsPhoto(entry)
      ? h("p", {}, `${text.reason}: ${entry.about.reason}`) : null,
    entry.about.writer ? h("p", {}, `${words.form.writtenBy}: ${entry.about.writer}`)
      : null,
    ...marksOf(entry, sheet), photosOf([entry])))];
}

function marksOf(entry, sheet) {
  return flagTexts(model.open.state, entry, sheet).map((said) =>
    h("p.careful", {}, icon("warn"), said));
}

function discard(dock, go, subject, step, line) {
  const { sheet, state } = model.open;
  const reason = keptReason(isOfKit(model.open, step) ? "discarded_kit" : "discarded",
    `${step}/${line}`);
  const note = h("p.note", { role: "alert" });
  const whole = [...new Set([sheet.steps[step].title, lineLabel(sheet, step, line)])]
    .filter(Boolean).join(" \u00b7 ");
  const warns = takesAway(state.steps[step].lines[line]);
  let busy = false;
  const sign = async () => {
    const about = { reason: reason.text() };
    const short = about.reason.length < SHORTEST;
    sayMissing(note, short ? words.point.whyFirst : "");
    if (busy || short) return;
    if (!model.shift) {
      go("/people");
      return;
    }
    busy = true;
    const draft = { kind: "discarded", step, line, about };
    if (await signAndSay([draft], model.shift, whole)) {
      reason.done();
      go(`/joint/${subject}`);
    }
    busy = false;
  };
  fill(dock, h("div.ask", {}, reason.element, note, button("main.red", {
    mark: "cross", label: text.discard, note: warns, id: "discard-now", onclick: sign,
  })));
  holdOff(dock, monoMs());
}

/** Whether the lines of a step are of kits: it, or one with the same lines, names for
 * each a lot, which is neither calibrated nor counted. @returns {boolean} */
export function isOfKit(open, step) {
  const { steps } = open.sheet;
  const linesOf = (one) => JSON.stringify((one.lines ?? []).map(({ id }) => id));
  const items = Object.values(knownItems(open));
  const isLot = ({ kind, items: wanted, calibrated }) => kind === "item" && !calibrated
    && !items.some((one) => one.kind === wanted
      && (one.numbers?.uses_max !== undefined || "slope" in (one.numbers ?? {})));
  return Boolean(steps[step].lines) && Object.values(steps).some((one) =>
    linesOf(one) === linesOf(steps[step]) && (one.fields ?? []).some(isLot));
}
