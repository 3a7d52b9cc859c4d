// What was recorded since something went wrong, for whoever decides what becomes of it:
// the same read again, and what makes a joint safe or ready to begin again. What was
// read side by side with it is told as well, and not as read again.

import { phoneName } from "./disputed.js";
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

function readAgain(open, fault, fields, entry) {
  const { step, line = "" } = fault;
  const { sheet, state } = open;
  const [at, read] = Object.entries(state.steps[step].lines)
    .find(([, { entries }]) => entries.includes(entry.id)) ?? [];
  if (!read || (line && at !== line && !sheet.steps[step].series)) return [];
  const isLater = hasSeen(open, entry.id, fault.entry);
  const anew = entry.kind === "done" && isLater;
  const kind = anew ? words.point.again : words.entry[entry.kind];
  const figures = fields.filter(({ id }) => entry.values?.[id] !== undefined)
    .map((one) => `${one.label} ${valueText(sheet, one, entry.values[one.id])}`);
  // How it stands is known of what counts now.
  const stands = read.status === "disputed" || read.entries.at(-1) === entry.id
    ? standing(sheet, step, read) : [];
  const whose = line || !at ? "" : labelled(sheet, step, at);
  return [h("p.fact", { "data-since": entry.id }, icon(anew ? "again" : "pen"),
    [`${kind}${whose}: ${byWhom(entry)}`,
      // Of two side by side each is named with the phone it was read on.
      ...(isLater ? [] : [phoneName(entry.device)]), ...figures, ...stands].join(DOT))];
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

// What the author of one of them had not seen. By the order of entries alone it would
// be chance whether what was read side by side is told.
function since(open, faults) {
  return open.entries.filter((entry) => faults.some((fault) => fault.entry
    && entry.id !== fault.entry && !hasSeen(open, fault.entry, entry.id)));
}

/** Whether the author of an entry had another in sight. */
function hasSeen({ scene: { view: { history } } }, id, other) {
  const { index } = history.graph;
  return history.saw(index.get(id), index.get(other));
}
