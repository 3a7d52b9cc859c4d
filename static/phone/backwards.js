// What surely is out of order about a line: a kit on the face before it was mixed, or
// one that was discarded. Nobody but a person can say what is wrong, or what becomes
// of it. The rules take neither for a fault; it is said wherever the line is read, and
// before it is saved.

import { elapsedMs, MINUTE_MS } from "../core/clocks.js";
import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { h } from "./parts.js";
import { lineLabel } from "./speak.js";
import { words } from "./later.js";

/** @returns {string[]} that a line of a step ended before it began, or began with what
 * was discarded, in words */
export function earlyTexts(open, step, line) {
  const titleOf = (id) => open.sheet.steps[id].title;
  return [...backwards(open, step, line).map((one) =>
    words.line.early(titleOf(one.step), dayClockText(one.at))),
  ...thrownAway(open, step, line).map(({ start, until }) =>
    words.line.thrown(titleOf(start), titleOf(until)))];
}

/** The same of every line of a step. @returns {HTMLElement[]} */
export function earlyList(open, step) {
  return Object.keys(open.state.steps[step].lines).flatMap((line) =>
    earlyTexts(open, step, line).map((said) => h("p.careful", { "data-early": line },
      icon("warn"), [lineLabel(open.sheet, step, line), said].filter(Boolean)
        .join(" \u00b7 "))));
}

/**
 * What surely is out of order: more than the minute that is typed, on every clock.
 * @param {object} open sheet and scene; without a scene nothing is known
 * @returns {{step:string, at:number}[]} what began the line, said to be later
 */
export function backwards({ sheet, scene }, step, line) {
  if (!scene) return [];
  return (sheet.clocks ?? []).filter((one) => one.per_line && sheet.steps[one.until]
    && [one.start, one.until].includes(step)).flatMap(({ start, until }) => {
    const [began, ended] = [start, until].map((one) => scene.lines(one).get(line));
    if (![began, ended].every(counts)) return [];
    const [from, to] = [began, ended].map((one) => scene.view.moment(one));
    return elapsedMs(from, to, true) < -MINUTE_MS ? [{ step: start, at: from.at }] : [];
  });
}

// A line that goes on though what began it was discarded, and nothing else began it.
function thrownAway({ sheet, scene }, step, line) {
  if (!scene) return [];
  const clocks = (sheet.clocks ?? []).filter((one) => one.per_line
    && sheet.steps[one.until]);
  const began = (one) => scene.lines(one.start).get(line);
  return clocks.filter((one) => [one.start, one.until].includes(step)
    && began(one)?.discarded && counts(scene.lines(one.until).get(line))
    && !clocks.some((other) => other.until === one.until && counts(began(other))));
}

/**
 * The spare that takes the place of what was thrown away and is on all the same: begun,
 * and not on yet. What the plan needs the race itself leads to.
 * @returns {{step:string, line:string}|undefined}
 */
export function inPlaceOf({ sheet, state }) {
  const clocks = (sheet.clocks ?? []).filter((one) => one.per_line
    && sheet.steps[one.until]);
  return [...new Set(clocks.map(({ until }) => until))].map((step) => {
    const { lines = [] } = sheet.steps[step];
    const on = state.steps[step].lines;
    const isFit = (read) => read !== undefined && read.status !== "discarded";
    const began = (id) => clocks.filter(({ until }) => until === step)
      .map(({ start }) => state.steps[start].lines[id]).filter(Boolean);
    const isGood = ({ id }) => began(id).some(isFit);
    const isWrong = (one) => began(one.id).length > 0 && !isGood(one)
      && isFit(on[one.id]);
    const put = lines.filter((one) => isGood(one) && isFit(on[one.id])).length;
    const next = lines.find((one) => isGood(one) && !on[one.id]);
    return next && !next.need && lines.some(isWrong)
      && put < lines.filter(({ need }) => need).length
      ? { step, line: next.id } : undefined;
  }).find(Boolean);
}

/** @returns {string[]} that a correction states a time that does not count, and which
 * does, in words */
export function hourTexts({ sheet, scene }, { kind, step, line = "", about }) {
  if (kind !== "correction" || about.at === undefined || !scene) return [];
  const read = scene.lines(step)
    .get(sheet.steps[step].series ? about.target : line);
  const at = read && scene.view.moment(read).at;
  return about.at > at ? [words.line.hour(dayClockText(at))] : [];
}

function counts(line) {
  return line !== undefined && !line.discarded && !line.disputed;
}
