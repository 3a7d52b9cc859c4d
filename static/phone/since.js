// What was recorded since something went wrong, for whoever decides what becomes of it:
// the same read again, and what makes a joint safe or ready to begin again.

import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { h } from "./parts.js";
import { byWhom, checkText, lineLabel, valueText } from "./speak.js";
import { words } from "./later.js";

const DOT = " \u00b7 ";
/** The latest count; of many rounds nobody reads all. */
const MOST = 4;
const DONE = new Set(["done", "anyway", "copied"]);

/**
 * What was read of the same since a nonconformance.
 * @param {object[]} fields what it is about @returns {HTMLElement[]} the latest
 */
export function readSince(open, fault, fields) {
  // A time that is over is read by nobody.
  if (!open.sheet.steps[fault.step] || fault.code === "clock_over") return [];
  return since(open, [fault]).flatMap((entry) => readAgain(open, fault, fields, entry))
    .slice(-MOST);
}

function readAgain(open, { step, line = "" }, fields, entry) {
  const { sheet, state } = open;
  const [at, read] = Object.entries(state.steps[step].lines)
    .find(([, { entries }]) => entries.includes(entry.id)) ?? [];
  if (!read || (line && at !== line && !sheet.steps[step].series)) return [];
  const kind = entry.kind === "done" ? words.point.again : words.entry[entry.kind];
  const figures = fields.filter(({ id }) => entry.values?.[id] !== undefined)
    .map((one) => `${one.label} ${valueText(sheet, one, entry.values[one.id])}`);
  // How it stands is known of what counts now.
  const stands = read.entries.at(-1) === entry.id ? standing(sheet, step, read) : [];
  return [h("p.fact", { "data-since": entry.id }, icon("again"), [
    [`${kind}${line || !at ? "" : labelled(sheet, step, at)}: ${byWhom(entry)}`],
    figures, stands].flat().join(DOT))];
}

function labelled(sheet, step, line) {
  const label = lineLabel(sheet, step, line);
  return label ? `, ${label}` : "";
}

function standing(sheet, step, { status, failed, cautions }) {
  const texts = [...failed, ...cautions].map((id) => checkText(sheet, step, id));
  return texts.length ? texts : [words.state[status] ?? status];
}

/**
 * What was done since the first of some nonconformances that makes safe, or that every
 * further attempt begins with. @returns {HTMLElement|null}
 */
export function laterSteps(open, faults) {
  const { steps } = open.sheet;
  const later = since(open, faults).filter(({ kind, step }) => kind === "made_safe"
    || (DONE.has(kind) && (steps[step]?.again || steps[step]?.class === "make_safe")));
  return later.length ? h("article.rest", { id: "since" },
    ...later.slice(-MOST).map((entry) => h("p.fact", {}, icon("shield"),
      `${whatOf(open.sheet, entry)}: ${byWhom(entry)}`))) : null;
}

function whatOf(sheet, { kind, step, line }) {
  return step ? titleOf(sheet, step) + labelled(sheet, step, line)
    : words.entry[kind];
}

// Entries are in the order in which each saw those before it.
function since({ entries }, faults) {
  const named = new Set(faults.map(({ entry }) => entry));
  const first = entries.findIndex(({ id }) => named.has(id));
  return first < 0 ? [] : entries.slice(first + 1);
}
