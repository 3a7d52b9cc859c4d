// What was saved last and what it means: said on the joint and on the next form.

import { dayClockText, wallMs } from "../device/clock.js";
import { isWanted } from "./column.js";
import { endsLater, isLater } from "./copying.js";
import { titleOf } from "./minutes.js";
import { changed, model, onceLifted } from "./model.js";
import { h } from "./parts.js";
import { checkText, failureTexts, faultTitle, flagTexts, saidOf } from "./speak.js";
import { words } from "./words.js";

const NOTICE_MS = 8_000;

/** What was saved last and what it means, for some seconds. */
export function notice() {
  const { notice: said } = model;
  const left = said ? NOTICE_MS - (wallMs() - said.at) : 0;
  if (left <= 0 || said.subject !== model.open?.subject) return null;
  const element = h(`div.notice.${said.tone}`, { id: "notice" },
    h("b", {}, said.head), ...said.lines.map((line) => h("p", {}, line)));
  import("./amend.js").then((one) => one.add(element, said), () => {});
  // Its time is over on a screen that nothing draws anew as well.
  setTimeout(() => onceLifted(() => element.remove()), left);
  return element;
}

/** Leave word for the joint screen of what was saved and what it means. */
export function saidSaved(entry, label, before) {
  const { subject } = model.open;
  // Somebody went on to another subject while this was saved.
  if (subject !== entry.subject) return;
  model.notice = { at: wallMs(), subject, ...wordOf(entry, label, before) };
  // What was drawn when it was saved knew nothing of it yet.
  changed();
}

function wordOf(entry, label, before) {
  const { sheet, state } = model.open;
  const saved = words.joint[entry.kind === "copied" ? "copied" : "saved"];
  const head = `${saved(dayClockText(entry.at))} \u00b7 ${label}`;
  if (model.unread) {
    return { tone: "yellow", head, lines: [words.joint.unread, model.unread.message] };
  }
  const news = newsOf(entry, before, model.open);
  const { careful, faults, flagged, line, others, tone } = news;
  const checks = sheet.steps[entry.step]?.checks ?? [];
  const means = (ids) => checks.filter((one) => ids.includes(one.id))
    .map((one) => one.text);
  const step = state.steps[entry.step];
  const context = { ...model.open, people: model.people };
  const reached = Object.keys(state.milestones)
    .filter((id) => !(id in before.milestones));
  return {
    head, tone, reached, entry, wrong: line && news.raised.length,
    lines: [
      ...(line?.failed ?? []).map((id) => checkText(sheet, entry.step, id, line)),
      ...(step ? failureTexts(sheet, entry.step, step) : []),
      ...means(careful), ...flagged,
      ...faults.map((one) => faultTitle(one, context)),
      ...others.map((one) => words.joint.otherReading(saidOf(one, context))),
      ...reached.map((id) => words.joint.reached(titleOf(sheet, id))),
      ...sheet.flow.filter((id) => before.steps[id]?.status === "off"
        && sheet.steps[id].class === "gated" && isWanted(state, id))
        .map((id) => words.joint.calledFor(sheet.steps[id].title)),
    ],
  };
}

/**
 * What an entry changed: checks it fails or is cautioned by, nonconformances besides.
 * @param {object} before the state without it @param {object} open sheet and state
 * @returns {{raised:string[], careful:string[], faults:object[], others:object[],
 *   flagged:string[], line?:object, tone:string}} `others`: what is wrong with another
 *   reading of this line, which was judged by nobody while the two were in dispute
 */
export function newsOf(entry, before, { sheet, state, entries }) {
  const step = state.steps[entry.step];
  const line = step?.lines[sheet.steps[entry.step]?.series
    ? entry.about.target ?? entry.id : entry.line];
  const raised = [...(line?.failed ?? []), ...(step?.failed ?? [])];
  const names = raised.map((id) => id.split(":").at(-1));
  const careful = [...(line?.cautions ?? []), ...(step?.cautions ?? [])];
  const flagged = flagTexts(state, entry, sheet, ["late", "item_elsewhere"]);
  // Of what is copied, a time is told as over once its end is copied too; before that,
  // to whoever next records something as it happens.
  const copied = isLater(entry);
  const known = new Set(before.nonconformances.filter((one) => !(endsLater(one,
    { sheet, state: before }) && (copied || heldBack(one, entry, entries))))
    .map(({ id }) => id));
  const found = state.nonconformances.filter((one) => !known.has(one.id)
    && !names.includes(one.check) && !(copied && endsLater(one, { sheet, state })));
  const others = found.filter((one) => isOfAnother(one, entry));
  const faults = found.filter((one) => !others.includes(one));
  const tone = raised.length + faults.length ? "red"
    : careful.length + flagged.length + others.length ? "yellow" : "green";
  return { raised, careful, faults, others, flagged, line, tone };
}

function isOfAnother({ code, entry: about, line = "", step }, entry) {
  return step === entry.step && line === (entry.line ?? "") && code !== "clock_over"
    && about !== undefined && about !== entry.id;
}

// Whether all that this phone recorded since a clock's beginning was written down was
// written down later too: then nobody was told here that its time is over.
function heldBack(fault, { id, device }, entries) {
  const began = entries.find((one) => one.id === fault.entry);
  return began !== undefined && isLater(began) && !entries.some((one) => one.id !== id
    && one.device === device && one.step && one.made > began.made && !isLater(one));
}
