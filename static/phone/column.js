// The column of steps and gates: one line each, the current one open. Its rail is the
// keyed edge of a joint, a tooth a step.

import { dayClockText } from "../device/clock.js";
import { foldItem, isMarked, runsOf, stepBadge } from "./folds.js";
import { pointItem } from "./gateitem.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { button, h, rowButton } from "./parts.js";
import {
  checkText, failureTexts, photosMissing, refusalText, shownFigures,
} from "./speak.js";
import { toneOf } from "./states.js";
import { lineList, unsavedList } from "./steplines.js";
import { heldUntil, isTooLate, tooEarly } from "./turns.js";
import { unsavedHere } from "./unsaved.js";
import { words } from "./words.js";

const text = words.joint;
/** About as many rows as a screen shows, with one of them before the current one. */
const [ROWS_BEFORE, ROWS_SEEN] = [1, 6];
const BEHIND = new Set(["off", "done", "released", "waived"]);

/**
 * @returns {string|undefined} the first step or point that still wants something; in a
 *   further attempt what every further attempt begins with, a reading that failed, at
 *   last a gate passed over. What would be too old by the time it counts comes last.
 */
export function currentOf(open) {
  const { sheet, state } = open;
  const again = sheet.flow.find((id) => sheet.steps[id]?.again && isWanted(state, id));
  const asked = (id) => isWanted(state, id) && sheet.steps[id].class !== "make_safe";
  const isNext = (id) => (state.steps[id]
    ? asked(id) && !heldUntil(state, id) && !isTooLate(sheet, state, id)
    : !BEHIND.has(state.points[id].status) && !isBehind(sheet, state, id));
  const early = tooEarly(open)?.steps;
  const flow = early ? sheet.flow.slice(0, sheet.flow.indexOf(early[0])) : sheet.flow;
  return again ?? failedOf(open, flow) ?? flow.find(isNext)
    ?? early?.find(isNext)
    ?? sheet.flow.find((id) => neverReleased(sheet, state, id))
    ?? sheet.flow.find(asked);
}

// What was read and does not count is read again before anything else is begun: where
// nothing forbids it, and it need not wait for a gate still to be passed.
function failedOf({ sheet, state }, flow) {
  const gate = flow.findIndex((id) => sheet.points[id]?.class === "hold"
    && !BEHIND.has(state.points[id].status) && !isBehind(sheet, state, id));
  return flow.slice(0, gate < 0 ? undefined : gate).find((id) => {
    const { status, refusals, failed, lines } = state.steps[id] ?? {};
    // What a gate forbade is decided, not done again.
    return status === "failed" && !refusals.length && (failed.length > 0
      || Object.values(lines).some((line) => line.status === "failed"));
  });
}

// A gate that was passed and never released still wants its release when all else is
// done: without it nothing is complete.
function neverReleased({ points }, state, id) {
  return ["ready", "called", "refused"].includes(state.points[id]?.status)
    && points[id].class !== "surveillance";
}

/** Say whether a step is asked for and not done. @returns {boolean} */
export const isWanted = ({ steps }, id) => !BEHIND.has(steps[id]?.status ?? "off");

/**
 * What must be done before a step or point can be: the step that a failed reading
 * called for, or the reading that a gate finds too old.
 * @returns {string[]} steps
 */
export function calledFor({ sheet, state }, id) {
  if (sheet.steps[id]) {
    if (state.steps[id].status !== "failed") return [];
    const later = sheet.flow.slice(sheet.flow.indexOf(id) + 1);
    const gate = later.findIndex((one) => sheet.points[one]);
    return later.slice(0, gate < 0 ? undefined : gate).filter((one) =>
      sheet.steps[one].when && sheet.steps[one].class === "gated"
        && isWanted(state, one));
  }
  return (state.points[id].refusals ?? []).flatMap(({ facts }) => {
    const asked = sheet.points[id].requires
      ?.find((one) => one.id === facts?.requirement)?.must.value;
    const step = asked?.to === "now" ? asked.from.step : undefined;
    return step && state.steps[step]?.status === "done" ? [step] : [];
  });
}

/** The whole flow as a column; what is behind is folded. @returns {HTMLElement} */
export function column(open, view, select) {
  const now = view.next === undefined ? currentOf(open) : view.next;
  const current = view.selected ?? now;
  [view.later, view.early] = [waitsFor(open), tooEarly(open)];
  view.select = select;
  view.unfolded ??= new Set();
  const flow = open.sheet.flow.filter((id) => open.state.steps[id]?.status !== "off");
  const runs = runsOf(open, flow, now, view);
  const rows = runs.map(([id, ...more]) => {
    if (more.length) {
      return foldItem(open, [id, ...more], () => {
        view.unfolded.add(id);
        select(view.selected);
      });
    }
    const item = open.sheet.steps[id] ? stepItem : pointItem;
    return item(open, view, id, id === current, select);
  });
  // What will be seen is laid out at once: the browser finds it out in a second round.
  const seen = Math.max(0, runs.findIndex(([id]) => id === current) - ROWS_BEFORE);
  for (const row of rows.slice(seen, seen + ROWS_SEEN)) row.classList.add("near");
  return h("ol.column", {}, ...rows);
}

/**
 * Drawn anew, steps out of sight are only guessed in height: what is looked at stays.
 * @returns {() => void} to be told once it was drawn
 */
export function lookedAt(element) {
  const top = (one) => one.getBoundingClientRect().top;
  const rows = [...element.querySelectorAll(".tooth > .row")];
  // Nothing is measured before there is anything to keep in place.
  const seen = rows.length > 0 && element.scrollTop > 0
    && rows.find((one) => top(one) >= top(element));
  if (!seen) return () => {};
  const [before, { step, point, fold }] = [top(seen), seen.parentElement.dataset];
  const id = step ?? point ?? fold;
  const rowOf = (sort) => `[data-${sort}="${id}"] > .row`;
  return () => {
    const after = element.querySelector(["step", "point", "fold"].map(rowOf).join());
    if (after) element.scrollTop += top(after) - before;
  };
}

// What comes after a gate still to be passed waits for it, even where the rules would
// let it be recorded. @returns {Map<string, string>} step or point -> that gate
function waitsFor({ sheet, state }) {
  const gate = sheet.flow.find((id) => sheet.points[id]?.class === "hold"
    && !BEHIND.has(state.points[id].status) && !isBehind(sheet, state, id));
  const after = gate ? sheet.flow.slice(sheet.flow.indexOf(gate) + 1) : [];
  return new Map(after.map((id) => [id, gate]));
}

/** Whether a race runs or ran: adhesive was mixed, or what comes after it was done and
 * no gate still to be passed lies before it; a temperature may be read at any time.
 * What was discarded began nothing but a clock. */
export function raceBegan(open) {
  const { sheet: { clocks = [], steps }, state } = open;
  const later = waitsFor(open);
  return Object.entries(state.steps).some(([id, { lines }]) =>
    steps[id].class === "raced" && !steps[id].series
      && (clocks.some(({ start }) => start === id) ? Object.keys(lines).length > 0
        : !later.has(id) && Object.values(lines).some(({ status }) =>
          status !== "discarded")));
}

// A gate that did its work is behind us, even when its release has run out since; what
// is seen in passing waits for nobody.
function isBehind(sheet, state, id) {
  const { class: kind, shuts = [] } = sheet.points[id];
  return kind === "surveillance" || shuts.some((step) =>
    Object.keys(state.steps[step]?.lines ?? {}).length > 0);
}

/** Whether a gate did its work, or stands open: nothing shuts it any more. */
export function isPast({ sheet, state }, id) {
  return ["released", "waived"].includes(state.points[id]?.status)
    || (sheet.points[id] !== undefined && isBehind(sheet, state, id));
}

function stepItem(open, view, id, isCurrent, select) {
  const { sheet, state } = open;
  const step = sheet.steps[id];
  const found = state.steps[id];
  // What keeps people safe, or may be read as well, is there and never asked for.
  const idle = Object.keys(found.lines).length === 0
    && (step.class === "make_safe" || found.status === "done");
  const later = found.status === "open" && Object.keys(found.lines).length === 0
    && view.later.get(id);
  const status = idle ? "idle" : later ? "later" : found.status;
  const tone = status === "done" && isMarked(found, step) ? "yellow" : toneOf(status);
  return h(`li.tooth.${tone}`, { "data-step": id, "data-status": status },
    rowButton(step.title, stepBadge(found, status, step), progress(open, view, id),
      isCurrent, () => select(isCurrent ? null : id)),
    isCurrent ? h("div.card.current", {},
      step.caution ? h("p.caution", {}, icon("warn"), step.caution) : null,
      step.help ? h("p.help", {}, step.help) : null,
      later ? h("p.careful", {}, icon("wait"),
        text.comesAfter(sheet.points[later].title)) : null,
      shutList(open, view, id), failures(sheet, id, found),
      ...shownFigures(sheet, id, found.shows).map((one) => h("p.figure", {}, one)),
      ...unsavedList(open, view, id), ...lineList(open, view, id),
      step.caution ? h("p.help", {}, text.method) : null) : null);
}

function progress(open, { early }, id) {
  const [step, { lines }] = [open.sheet.steps[id], open.state.steps[id]];
  const until = heldUntil(open.state, id)
    ?? (early?.steps[0] === id && early.from);
  const all = (step.lines ?? []).filter((line) => line.need).length;
  const read = Object.values(lines).filter(({ status }) => status !== "discarded")
    .length;
  const lacking = Object.keys(lines)
    .reduce((sum, line) => sum + photosMissing(open, id, line), 0);
  return [
    until ? text.comesAfter(dayClockText(until)) : "",
    step.series ? read || "" : all > 1 ? text.of(read, all) : "",
    lacking ? words.photo.missing(lacking) : "",
    unsavedHere(open).some((one) => one.step === id) ? words.unsaved.title : "",
  ].filter(Boolean).join(" \u00b7 ");
}

function shutList({ sheet, state, subject }, view, id) {
  const { refusals } = state.steps[id];
  if (!refusals.length) return null;
  const gates = refusals.filter((one) => one.code === "condition_open");
  // Whoever reads that a gate or a witness is missing gets there from here.
  const points = [...new Set(refusals.filter((one) => !gates.includes(one))
    .map(({ facts }) => facts?.point).filter((point) => sheet.points[point]))];
  return h("div", {}, h("ul.refusals", {}, ...refusals.map((one) =>
    h("li", {}, icon("lock"), refusalText(one, sheet, model.people, state)))),
  ...gates.map(({ facts }) => button("plain", {
    mark: "note", label: words.conditions.close, note: sheet.points[facts.point].title,
    onclick: () => view.go(`/point/${subject}/${facts.point}`),
  })), ...points.map((point) => button("plain", {
    mark: "shield", label: text.openPoint, note: sheet.points[point].title,
    "data-opens": point, onclick: () => view.go(`/point/${subject}/${point}`),
  })));
}

function failures(sheet, id, found) {
  const all = [...failureTexts(sheet, id, found)
    .map((said) => h("li.red", {}, icon("cross"), said)),
  ...found.cautions.map((check) => h("li.yellow", {}, icon("warn"),
    checkText(sheet, id, check)))];
  return all.length ? h("ul.refusals", {}, ...all) : null;
}
