// A race whose time is past while its joint is still open: what the alarm says to do,
// and the keys that lead then. What goes on is recorded from the column, and nothing is
// locked; once the joint is closed, or the time over decided, the race leads again.

import { clockText } from "../device/clock.js";
import { toldDeadlines } from "./copying.js";
import { timeDecided } from "./decided.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { isPassed, minutesInHand, titleOf } from "./minutes.js";
import { button, h } from "./parts.js";

/**
 * @returns {{isOpen:boolean, apart:string, start:number, over?:object, part?:object,
 *   isPartPast:boolean}|null} the end of its life, once past, and of parting, which is
 *   that of its life where the plan sets none; null
 *   where nothing was put on that can be taken off
 */
function overtimeOf(open, now) {
  const { sheet, state } = open;
  const minutes = minutesInHand(open, now);
  const apart = sheet.flow.find((id) => sheet.steps[id]?.again);
  if (!apart || !minutes.running || minutes.slow) return null;
  const past = toldDeadlines(open, minutes, now).filter(({ at }) => at <= now);
  const life = minutes.deadlines.findLast(({ raises }) => raises);
  const part = minutes.deadlines.find(({ at, raises }) => !raises && at >= life?.at);
  return {
    apart, part, start: minutes.start,
    isOpen: !isPassed(sheet, state, minutes.startStep),
    over: past.includes(life) && !timeDecided(open, life) ? life : undefined,
    isPartPast: past.includes(part ?? life),
  };
}

/** What to do, in few words: the method statement and the engineer say more.
 * @returns {string} of a time of the race that is past */
export function toDo(open, now) {
  const found = overtimeOf(open, now);
  if (!found) return "";
  const { late, apart, closed } = words.alarm;
  if (!found.isOpen) return found.over ? closed : "";
  if (found.isPartPast) {
    return [words.alarm.unclosed, found.part?.text].filter(Boolean).join(" ");
  }
  return found.over ? apart : late;
}

/** @returns {object|undefined} the end of a life that is past and not decided */
export function timeOver(open, now) {
  return overtimeOf(open, now)?.over;
}

/** Whether the end of its life leads: past, and the joint still open.
 * @returns {boolean} */
export function timeLeads(open, now) {
  const found = overtimeOf(open, now);
  return Boolean(found?.isOpen && found.over);
}

/** Whether nobody may count on parting it clean any more. @returns {boolean} */
export function partPast(open, now) {
  return Boolean(overtimeOf(open, now)?.isPartPast);
}

/**
 * The keys of a joint still open past its life: taking off what can still be taken off,
 * and whoever decides. @returns {HTMLElement|null} null while the race leads
 */
export function overtimeKeys(open, now, go) {
  if (!timeLeads(open, now)) return null;
  const { apart, isPartPast, over, part, start } = overtimeOf(open, now);
  const isOn = Object.values(open.state.steps[apart].lines).every(({ at }) =>
    at < start);
  const pair = h("div.pair", {},
    isOn ? button(isPartPast ? "plain" : "main.green", {
      mark: "shield", label: titleOf(open.sheet, apart), id: "made-apart",
      note: part && !isPartPast && `${part.title} ${clockText(part.at)}`,
      onclick: () => go(`/form/${open.subject}/${apart}`),
    }) : null,
    button("main.red", {
      mark: "warn", label: over.title, note: words.joint.nonconformances,
      id: "overtime", onclick: () => go(`/nonconformance/${open.subject}`),
    }));
  // What the plan says of it stays in sight, and no key outshines it.
  return isPartPast && part?.text ? h("div.ask", {}, h("p.careful", {
    id: "part-past" }, icon("warn"), part.text), pair) : pair;
}
