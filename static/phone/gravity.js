// How grave it is what saving a form would raise, and what is wrong with its items.

import { clockText } from "../device/clock.js";
import { isTold } from "./copying.js";
import { words } from "./later.js";
import { deadlinesOf, isOwn, titleOf } from "./minutes.js";
import "./named.js";
import { checkText, failureTexts, lineLabel } from "./speak.js";
import { handText } from "./strip.js";

const text = words.means;

/** A figure above its table ends a life from the minute it is saved for.
 * @returns {string[]} */
export function spent({ sheet, state }, after) {
  return sheet.clocks.filter((clock) => isOwn(clock)
    && after.clocks[clock.id]?.status === "over"
    && state.clocks[clock.id]?.status === "running")
    .map(({ title }) => text.spent(title));
}

/** What a line would begin is over before it is saved: "In the duct by 15:40: 6 min
 * too late". @returns {string[]} */
export function tooOld({ state }, after, { line, step, made: now }) {
  const { sheet } = after;
  return sheet.clocks.filter((one) => one.per_line && one.start === step && line)
    .flatMap((clock) => {
      const [was, found] = [state, after.state].map(({ clocks }) =>
        clocks[`${clock.id}/${line}`]);
      const [first] = found && !found.ended && found.start !== was?.start
        ? deadlinesOf(clock, found, now) : [];
      if (!(first?.at <= now)
        || !isTold(after, { step, line, at: first.at }, now)) return [];
      const said = `${first.title} ${clockText(first.at)}: ${handText(first.at - now)}`;
      return `${lineLabel(sheet, step, line)} \u00b7 ${said}`;
    });
}

/** @returns {string} "Nonconformance, shuts Weight off the gear" */
export function gravityOf({ id, raises, blocks }, { state, sheet }) {
  if (raises === "caution") return text.caution;
  const found = state.nonconformances.find((one) => one.check === id
    && one.status !== "closed");
  const gates = (found?.shuts ?? blocks ?? []).map((gate) => titleOf(sheet, gate));
  const grave = raises === "block" ? text.fails : words.nonconformance.title;
  return gates.length ? `${grave}, ${text.shuts(gates.join(", "))}` : grave;
}

/** What is wrong with an item is no check of the plan, but raises as one: before a gate
 * it fails the step, in the race it is a nonconformance.
 * @returns {{id:string, said:string, raises:string}[]} */
export function unfitOf({ steps }, step, raised) {
  return raised.filter((id) => id.includes(":")).map((said) => ({
    said, id: said.split(":")[1],
    raises: steps[step].class === "raced" ? "nonconformance" : "block",
  }));
}

/** @returns {string[]} the same in words, as they are told once it is saved */
export function unfitTexts({ sheet, state }, step, unfit, line = {}) {
  const all = unfit.map(({ said }) => said);
  const isSaid = (id) => all.includes(id);
  const found = state.steps[step];
  return [...(line.failed ?? []).filter(isSaid).map((id) =>
    checkText(sheet, step, id, line)),
  ...failureTexts(sheet, step, { ...found, failed: found.failed.filter(isSaid) })];
}
