// Alarms of the open subject: what is past or near, how urgent, and whether someone
// has said "seen". Pure but for the ringing, which is a help; the gate is the control.

import { isTold, LONG_PAST_MS, toldDeadlines } from "./copying.js";
import { timeDecided } from "./decided.js";
import { minutesInHand, titleOf } from "./minutes.js";
import { changed, model } from "./model.js";
import { outlasting } from "./outlasting.js";
import { lineLabel } from "./speak.js";
import { words } from "./words.js";

const NEAR_MS = 5 * 60_000;
const URGENT_MS = 2 * 60_000;
const RANK = { high: 0, medium: 1, low: 2 };

let knows;

/** What leads instead of a race, once it is here. @returns {object} */
export function instead() {
  knows ??= import("./instead.js").then((one) => { knows = one; changed(); },
    () => { knows = undefined; });
  return knows;
}

/**
 * @param {object} open the open subject (sheet, state, entries) @param {number} now
 * @returns {{id:string, priority:"high"|"medium"|"low", text:string,
 *   respond:string, seen:boolean}[]} the most urgent first
 */
export function alarmsOf(open, now) {
  if (!open?.state) return [];
  const seen = new Set(open.entries.filter((entry) => entry.kind === "acknowledged")
    .map((entry) => entry.about.alarm));
  const found = [...clockAlarms(open, now), ...releaseAlarms(open, now),
    ...refusalAlarms(open, now)];
  return found.map((alarm) => ({ ...alarm, seen: seen.has(alarm.id) }))
    .sort((a, b) => Number(a.seen) - Number(b.seen)
      || RANK[a.priority] - RANK[b.priority]);
}

// What is copied long after it was over wants nothing done; but what was still ahead
// when it was written down rings, and so does the other arm: no paper began that.
function clockAlarms(open, now) {
  const minutes = minutesInHand(open, now);
  const lines = minutes.lines.filter(({ deadline, step, line }) => deadline
    && isTold(open, { step, line, at: deadline.at }, now));
  // What an ended attempt left behind, past long ago or before the next was ordered,
  // rings no more: the strip tells it.
  // Ordered by a clock that is ahead, nobody knows since when: it rings.
  const since = Math.max(now - LONG_PAST_MS, open.entries.find(({ at, id }) =>
    id === open.state.attempt && at <= now)?.at ?? 0);
  const left = outlasting(open, now).filter(({ at }) => at > since);
  const waits = (one, line) => !timeDecided(open, one, line);
  return [
    ...toldDeadlines(open, minutes, now).filter((one) => waits(one)).map((one) => ({
      ...one, todo: one.at <= now && instead().toDo?.(open, now),
    })),
    ...minutes.ahead.flatMap((one) => one.deadline ?? []),
    ...lines.filter(({ deadline, line }) => waits(deadline, line))
      .map(({ deadline, line, step }) => ({
        ...deadline, id: `${deadline.id}.${line}`,
        title: [line && lineLabel(open.sheet, step, line), deadline.title]
          .filter(Boolean).join(" \u00b7 "),
        todo: line && deadline.at <= now && instead().toDiscard?.(),
      })),
    ...left,
  ].map((one) => deadlineAlarm(one, now, stamp(open.state))).filter(Boolean);
}

function deadlineAlarm(one, now, attempt) {
  const left = one.at - now;
  if (left > NEAR_MS) return null;
  const past = left <= 0;
  const id = safeId(`${one.id}.${past ? "past" : "near"}${attempt}`);
  return {
    id,
    priority: past || left <= URGENT_MS ? "high" : "medium",
    text: past ? words.alarm.past(one.title)
      : words.alarm.near(one.title, Math.ceil(left / 60_000)),
    // What it raises says of a time met late that it was: nothing was met yet.
    respond: one.todo || (one.raises ? "" : one.text ?? ""),
  };
}

function releaseAlarms({ sheet, state }, now) {
  return Object.entries(state.points)
    .filter(([, point]) => point.status === "released" && point.until !== undefined)
    .filter(([id]) => (sheet.points[id].shuts ?? []).some((step) =>
      state.steps[step]?.status === "open" || state.steps[step]?.status === "closed"))
    .map(([id, point]) => ({ id, left: point.until - now }))
    .filter(({ left }) => left > 0 && left <= NEAR_MS)
    .map(({ id, left }) => ({
      id: safeId(`release.${id}${stamp(state)}`),
      priority: "low",
      text: words.alarm.expiry(titleOf(sheet, id), Math.ceil(left / 60_000)),
      respond: "",
    }));
}

// A refusal from another phone ends a release that this one may have shown as GO.
function refusalAlarms({ entries, sheet, state }, now) {
  return Object.entries(state.points).flatMap(([id, { status, refused_by: by }]) => {
    const refusal = status === "refused" && entries.find((one) => one.id === by);
    const endsOne = refusal && refusal.device !== model.identity?.device
      && entries.some(({ kind, point, at }) => kind === "release" && point === id
        && at > now - LONG_PAST_MS);
    return endsOne ? [{
      id: safeId(`refused.${by}`),
      priority: "high",
      text: `${titleOf(sheet, id)}: ${words.state.refused}`,
      respond: refusal.about.reason,
    }] : [];
  });
}

// An alarm seen in one attempt is a new one in the next.
function stamp(state) {
  return state.attempt ? `.${state.attempt.slice(0, 8)}` : "";
}

function safeId(text) {
  return text.replaceAll(/[^A-Za-z0-9._-]/g, ".").slice(0, 64);
}
