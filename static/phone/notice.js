// What was saved last and what it means: said on the joint and on the next form.

import { dayClockText, wallMs } from "../device/clock.js";
import { isWanted } from "./column.js";
import { endsLater, isLater } from "./copying.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { h } from "./parts.js";
import { checkText, failureTexts, faultTitle, flagTexts } from "./speak.js";
import { words } from "./words.js";

const NOTICE_MS = 8_000;

/** What was saved last and what it means, for some seconds. */
export function notice() {
  const { notice: said } = model;
  if (!said || wallMs() - said.at > NOTICE_MS) return null;
  if (said.subject !== model.open?.subject) return null;
  return h(`div.notice.${said.tone}`, { id: "notice" },
    h("b", {}, said.head), ...said.lines.map((line) => h("p", {}, line)));
}

/** Leave word for the joint screen of what was saved and what it means. */
export function saidSaved(entry, label, before) {
  const { sheet, state, subject } = model.open;
  // Somebody went on to another subject while this was saved.
  if (subject !== entry.subject) return;
  const head = `${words.joint.saved(dayClockText(entry.at))} \u00b7 ${label}`;
  if (model.unread) {
    model.notice = { at: wallMs(), subject, tone: "yellow", head,
      lines: [words.joint.unread, model.unread.message] };
    return;
  }
  const { careful, faults, flagged, line, tone } = newsOf(entry, before, model.open);
  const checks = sheet.steps[entry.step]?.checks ?? [];
  const means = (ids) => checks.filter((one) => ids.includes(one.id))
    .map((one) => one.text);
  const step = state.steps[entry.step];
  model.notice = {
    at: wallMs(), subject, head, tone,
    lines: [
      ...(line?.failed ?? []).map((id) => checkText(sheet, entry.step, id)),
      ...(step ? failureTexts(sheet, entry.step, step) : []),
      ...means(careful), ...flagged,
      ...faults.map((one) => faultTitle(one, { ...model.open, people: model.people })),
      ...Object.keys(state.milestones).filter((id) => !(id in before.milestones))
        .map((id) => words.joint.reached(titleOf(sheet, id))),
      ...sheet.flow.filter((id) => before.steps[id]?.status === "off"
        && sheet.steps[id].class === "gated" && isWanted(state, id))
        .map((id) => words.joint.calledFor(sheet.steps[id].title)),
    ],
  };
}

/**
 * What an entry changed: checks it fails or is cautioned by, nonconformances besides.
 * @param {object} before the state without it @param {object} open sheet and state
 * @returns {{raised:string[], careful:string[], faults:object[], flagged:string[],
 *   line?:object, tone:string}}
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
  const faults = state.nonconformances.filter((one) => !known.has(one.id)
    && !names.includes(one.check) && !(copied && endsLater(one, { sheet, state })));
  const tone = raised.length + faults.length ? "red"
    : careful.length + flagged.length ? "yellow" : "green";
  return { raised, careful, faults, flagged, line, tone };
}

// Whether all that this phone recorded since a clock's beginning was written down was
// written down later too: then nobody was told here that its time is over.
function heldBack(fault, { id, device }, entries) {
  const began = entries.find((one) => one.id === fault.entry);
  return began !== undefined && isLater(began) && !entries.some((one) => one.id !== id
    && one.device === device && one.step && one.made > began.made && !isLater(one));
}
