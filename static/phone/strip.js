// Minutes in hand, drawn: GO or what is missing before the race, the deadlines and
// the chalk time during it. Numbers come from `minutes.js`; this only shows them.

import { clockText, dayClockText, wallMs } from "../device/clock.js";
import { agedFrom } from "./aged.js";
import { isTold, isWrittenLater, toldDeadlines } from "./copying.js";
import { isCalledOff, timeDecided } from "./decided.js";
import { missingList } from "./gateitem.js";
import { icon } from "./icons.js";
import { isOwn, minutesInHand, timeGates } from "./minutes.js";
import { lastHeard } from "./model.js";
import { NOT_KNOWN_MS, outlastingStrip } from "./outlasting.js";
import { fill, h } from "./parts.js";
import { lineLabel, refusalText, spanText } from "./speak.js";
import { partedAt } from "./turns.js";
import { words } from "./words.js";

const text = words.minutes;
/** More than the one nobody counts in minutes; less than the other is short: it is as
 * near as an alarm says "soon". */
const LONG_MS = 2 * 3_600_000;
export const SHORT_MS = 5 * 60_000;

/**
 * The strip for an open subject; `update(now)` moves its hands.
 * @returns {{element:HTMLElement, update:(now:number) => void}}
 */
export function minutesStrip(open, people) {
  const element = h("section.strip", { "aria-label": text.inHand, id: "minutes" });
  const begun = h("div", { id: "begun-now" });
  const update = (now) => {
    const minutes = minutesOf(open, now);
    const [other, left] = [aheadOf(minutes, now), outlastingStrip(open, now)];
    const held = partedAt(open) ? holdsOf(open) : null;
    if (minutes.running) fill(element, held, ...race(open, minutes, now), left, other);
    else fill(element, left, before(open, people, begun), holdsOf(open), other,
      lineClocks(open, minutes, now));
    element.hidden = element.childElementCount === 0;
  };
  update(wallMs());
  // Not there yet, if the network went before it came: GO stands without it.
  import("./beforehand.js").then((one) => {
    if (one.thinkAhead(open, begun)) update(wallMs());
  }, () => {});
  return { element, update };
}

/** What a STOP called off, or was taken off again, goes on by nobody's minutes: what
 * counts is parting it clean. */
export function minutesOf(open, now) {
  const minutes = minutesInHand(open, now);
  if (!isCalledOff(open) && !partedAt(open)) return minutes;
  const { deadlines, chalk } = minutes;
  return { ...minutes, off: true, expected: undefined, inHandMs: undefined,
    chalk: deadlines.findLast(({ raises }) => !raises) ?? deadlines.at(-1) ?? chalk };
}

function race(open, minutes, now) {
  const { sheet } = open;
  const { chalk, deadlines, inHandMs } = minutes;
  if (isWrittenLater(open, minutes, now)) return writtenLater(open, minutes, now);
  const told = toldDeadlines(open, minutes, now);
  const isPast = (one) => one.at <= now && told.includes(one);
  // Of one called off only its own time counts: that of parting it clean.
  const over = lineOver(open, chalk, now) || (minutes.over && told.some((one) =>
    one.raises && isPast(one)) && (minutes.off ? [chalk] : deadlines).findLast(isPast));
  const short = minutes.off || (inHandMs ?? (chalk?.line && chalk.at - now)) < SHORT_MS;
  const partly = told.length < deadlines.length;
  const main = over || chalk;
  const unknown = now - main?.at > NOT_KNOWN_MS;
  // What is left until it, or, marked so, how long it is over.
  const left = unknown ? text.notKnown : !main ? ""
    : `${main.at <= now ? "+ " : ""}${spanText(main.at - now)}`;
  const title = chalkTitle(sheet, chalk);
  // While one is over, the next is named apart: what is late is late for that.
  const next = over && chalk.at > now
    && words.alarm.near(title, Math.ceil((chalk.at - now) / 60_000));
  const aged = agedFrom(open, minutes, now, time);
  return [
    h(`div.chalk.${over ? "red" : short || partly ? "yellow" : "green"}`, {},
      h("span.chalktime", { id: "chalk" },
        ...(main && !unknown ? hourOf(main.at) : ["\u2014"])),
      h("span.chalkwords", {},
        h("b", {}, over ? `${text.over} \u00b7 ${over.title}` : title),
        h("span", { id: "left" }, left))),
    inHandMs === undefined || unknown ? next && h("p.careful", {}, next)
      : hand(inHandMs, { id: "in-hand" }, [handText(inHandMs), next]
        .filter(Boolean).join(" \u00b7 "), minutes.guessed),
    partly ? writtenNote(minutes) : null,
    h("ul.times", {}, aged?.className ? aged : null,
      time("tick", minutes.startTitle, minutes.start),
      minutes.expected === undefined ? null
        : time("wait", `${minutes.untilTitle} ${text.expected}`, minutes.expected),
      ...deadlines.map((one) => time(
        isPast(one) ? "cross" : "clock", one.title, one.at, isPast(one))),
      aged?.className ? null : aged),
    lineClocks(open, minutes, now),
  ];
}

// A batch is past its own time whatever the days of its tendon leave.
function lineOver(open, chalk, now) {
  return chalk?.line && chalk.at <= now && isTold(open, chalk, now)
    && { ...chalk, title: chalkTitle(open.sheet, chalk) };
}

// The hour is what is read and chalked up; its day, where that is not today, is small.
function hourOf(at) {
  const [time, day] = [clockText(at), dayClockText(at).slice(0, -clockText(at).length)];
  return [day ? h("small", {}, day) : null, time];
}

// The rules count it as over until its end is entered: no minutes are left to count.
function writtenLater(open, minutes, now) {
  return [
    writtenNote(minutes),
    h("ul.times", {}, time("tick", minutes.startTitle, minutes.start),
      ...minutes.deadlines.map((one) => time("clock", one.title, one.at))),
    lineClocks(open, minutes, now),
  ];
}

function writtenNote({ over, untilTitle }) {
  return h("p.careful", { id: "written-later" }, icon("pen"), `${text.writtenLater}. `,
    over ? text.endMissing(untilTitle) : "");
}

/** What the time on the chalk is for, and of which line. @returns {string} */
export function chalkTitle(sheet, chalk) {
  const line = chalk?.line ? lineLabel(sheet, chalk.step, chalk.line) : "";
  return [line, chalk?.title].filter(Boolean).join(" \u00b7 ");
}

/** "11 min in hand", "1 min too late": what is late by a second is late by a minute. */
export function handText(ms) {
  if (-ms > NOT_KNOWN_MS) return text.notKnown;
  if (Math.abs(ms) >= LONG_MS) return text[ms < 0 ? "tooLate" : "spare"](spanText(ms));
  return ms < 0 ? `${Math.ceil(-ms / 60_000)}\u00a0${text.behind}`
    : `${Math.floor(ms / 60_000)}\u00a0${text.inHand}`;
}

/** Too late by nobody's own pace is said, and never in red: it is the plan's guess. */
export function hand(ms, attributes, said = handText(ms), guessed = false) {
  const tone = ms >= SHORT_MS ? "green" : ms >= 0 || guessed ? "yellow" : "red";
  return h(`p.inhand.${tone}`, attributes, icon(ms < 0 ? "warn" : "clock"), said,
    ms < 0 && guessed ? h("small", {}, ` ${text.guessed}`) : null);
}

export function time(mark, label, at, past = false, tone = past ? ".past" : "") {
  return h(`li${tone}`, {}, icon(mark), h("span", {}, label),
    h("b", {}, ...hourOf(at)));
}

function lineClocks(open, minutes, now) {
  const running = minutes.lines.filter(({ deadline, line }) => deadline
    && !(deadline.at <= now && timeDecided(open, deadline, line)));
  if (running.length === 0) return null;
  return h("ul.times.small", {}, ...running.map(({ deadline, line, step }) => {
    const { at, title } = deadline;
    const past = at <= now && isTold(open, { step, line, at }, now);
    return time(past ? "cross" : "clock",
      [lineLabel(open.sheet, step, line), title].filter(Boolean).join(" \u00b7 "),
      at, past);
  }));
}

// What must wait, and until when: nobody need read faces a day too early.
function holdsOf(open) {
  const { sheet, state: { holds = {}, steps } } = open;
  const running = (sheet.holds ?? []).filter(({ id, before }) => before.some((one) =>
    steps[one]?.status !== "off") && /running|untimed/.test(holds[id]?.status))
    .map(({ id, title }) => (holds[id].status === "running"
      ? time("wait", title, holds[id].until) : untimed(id, sheet)));
  // Whoever comes new to it is told what not to do until then.
  const gates = timeGates(open).map(({ point, until }) => {
    const { title, caution } = sheet.points[point];
    return time("wait", [title, caution ? h("small", {}, ` ${caution}`) : ""], until);
  });
  return running.length + gates.length === 0 ? null
    : h("ul.times", { id: "holds" }, ...running, ...gates);
}

function untimed(hold, sheet) {
  return h("li", {}, icon("warn"), h("span", {},
    refusalText({ code: "hold_untimed", facts: { hold } }, sheet)));
}

/** What is known of the other arm, for whoever signs a lift. */
export const otherArm = (open, now = wallMs()) =>
  aheadOf(minutesInHand(open, now), now);

// How long the other arm may stay ahead. A phone knows only what it was told: it never
// says that both are level.
function aheadOf({ ahead }, now) {
  if (ahead.length === 0) return null;
  const since = lastHeard() ? dayClockText(lastHeard()) : "\u2014";
  return h("ul.times.small", {}, ...ahead.flatMap(({ title, start, deadline }) => {
    if (!deadline) return h("li", {}, h("span", {}, text.unknownAhead(title, since)));
    const past = deadline.at <= now;
    return [time("tick", title, start),
      time(past ? "cross" : "clock", deadline.title, deadline.at, past)];
  }));
}

/** The life of the subject that is still to be begun. @returns {object|undefined} */
export function clockToBegin({ sheet, state }) {
  return (sheet.clocks ?? []).find((one) => isOwn(one)
    && state.steps[one.start].status !== "off"
    && Object.keys(state.steps[one.start].lines).length === 0);
}

// Only when the race itself is what comes next: GO, or everything that is missing.
function before(open, people, begun) {
  const { sheet, state } = open;
  const clock = clockToBegin(open);
  if (!clock) return null;
  const start = sheet.steps[clock.start];
  const gates = sheet.flow.filter((id) =>
    (sheet.points[id]?.shuts ?? []).includes(clock.start));
  if (gates.every((id) => state.points[id].status === "waiting")) return null;
  const { refusals } = state.steps[clock.start];
  if (refusals.length) {
    const list = missingList(open, gates, refusals, people);
    return h("div", {}, h("div.missing", {},
      h("b", {}, `${text.missing}: ${start.title}`), list), begun);
  }
  const until = Math.min(...gates.map((id) => state.points[id].until ?? Infinity));
  // Released, and yet nobody should begin what would end too late.
  const [short, late] = [begun.dataset.short, begun.dataset.short === "late"];
  return h("div", {}, h(`div.chalk.${short ? "yellow" : "green"}`, { id: "go" },
    h("span.chalktime", {}, late ? text.late : text.go),
    h("span.chalkwords", {}, h("b", {}, start.title), late || !Number.isFinite(until)
      ? null : h("span", {}, text.start(dayClockText(until))))), begun);
}
