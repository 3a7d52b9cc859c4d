// What a point's work came through, for whoever signs it: that it is a further attempt
// and what it began with, the clock the work was done against, and what was
// nonconforming there and how that was decided.

import { dayClockText } from "../device/clock.js";
import { concerns } from "./concerning.js";
import { icon } from "./icons.js";
import { isOwn, titleOf } from "./minutes.js";
import { model } from "./model.js";
import { quantityText } from "./numbers.js";
import { h } from "./parts.js";
import { byWhom, faultTitle, valueText } from "./speak.js";
import { words } from "./later.js";

const DOT = " \u00b7 ";
const PPM_A_TENTH = 1_000;

/** @returns {HTMLElement[]} what came before a point's release, the attempt first */
export function cameBefore(open, point) {
  const { attempts } = open.state;
  return [
    attempts > 1 ? h("article.rest", { id: "attempt" },
      h("p.resthead", {}, h("b", {}, words.joint.attempt(attempts))),
      ...begunWith(open)) : null,
    ...clocksOf(open, point), ...decided(open, point),
  ].filter(Boolean);
}

// Parted and cleaned, and the times that had to pass since.
function begunWith({ sheet, state }) {
  return sheet.flow.filter((id) => sheet.steps[id]?.again).flatMap((id) => [
    ...Object.values(state.steps[id].lines).map((read) =>
      h("p.fact", {}, `${sheet.steps[id].title}: ${byWhom(read)}`)),
    ...(sheet.holds ?? []).filter(({ after }) => after === id)
      .map(({ id: hold, title }) => ({ title, ...state.holds?.[hold] }))
      .filter(({ until }) => until !== undefined).map(({ title, status, until }) =>
        h(`p.fact.${status === "over" ? "good" : "careful"}`, {},
          icon(status === "over" ? "tick" : "wait"),
          `${title}: ${dayClockText(until)}`)),
  ]);
}

// Adhesive is judged against its clock: what began it, what it asked for, what met it,
// and the temperatures it counts that are not among the point's own readings.
function clocksOf(open, point) {
  const { sheet, state } = open;
  const { covers } = sheet.points[point];
  return (sheet.clocks ?? []).filter((clock) => isOwn(clock)
    && covers.includes(clock.start) && state.clocks[clock.id]).map((clock) =>
    h("article.rest", { "data-clock": clock.id },
      h("p.resthead", {}, h("b", {}, clock.title), h("span.restwho", {},
        quantityText(Math.ceil(state.clocks[clock.id].used_ppm / PPM_A_TENTH), "%",
          1))),
      ...clockTimes(open, clock, "").map((said) => h("p.fact", {}, said)),
      ...(clock.temps ?? []).filter(({ step }) => !covers.includes(step))
        .flatMap(({ step, field }) => tempText(open, step, field) ?? [])
        .map((said) => h("p.fact", {}, said))));
}

/** @returns {string[]} when a clock began, what it asks for by when, and what met it */
export function clockTimes({ sheet, state }, clock, line) {
  const found = state.clocks[line ? `${clock.id}/${line}` : clock.id];
  if (!found) return [];
  const met = state.milestones[clock.until]?.at
    ?? state.steps[clock.until]?.lines[line]?.at;
  return [`${titleOf(sheet, clock.start)}: ${dayClockText(found.start)}`,
    ...(found.ended && met ? [`${titleOf(sheet, clock.until)}: ${dayClockText(met)}`]
      : []),
    ...clock.ratios.filter(({ id }) => found.deadlines?.[id] !== undefined)
      .map(({ id, title }) => `${title}: ${dayClockText(found.deadlines[id])}`)];
}

function tempText({ sheet, state }, step, id) {
  const field = sheet.steps[step].fields?.find((one) => one.id === id);
  const read = Object.values(state.steps[step].lines)
    .filter(({ values }) => values[id] !== undefined);
  const said = read.map(({ values, at }) =>
    `${valueText(sheet, field, values[id])} (${dayClockText(at)})`);
  return field && read.length ? [`${field.label}: ${said.join(DOT)}`] : null;
}

// What was decided of a nonconformance that this point stands behind.
function decided(open, point) {
  const { state, entries } = open;
  return state.nonconformances.filter((fault) => fault.disposition
    && concerns(open, fault, point)).map((fault) => {
    const entry = entries.find(({ id }) => id === fault.disposition);
    return h("p.careful", { "data-decided": fault.id }, icon("warn"),
      [faultTitle(fault, { ...open, people: model.people }),
        `${words.nonconformance.verdicts[fault.verdict]}: ${entry?.about.reason ?? ""}`,
        entry ? byWhom(entry) : ""].filter(Boolean).join(DOT));
  });
}
