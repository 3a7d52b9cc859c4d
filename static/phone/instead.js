// What leads instead of the race: after a STOP that ended its release or that nobody
// decided yet, after what was put on was taken off again, past its time with the joint
// still open. What goes on all the same is recorded from the column or by the key
// beside it, and nothing is locked.

import { clockText, dayClockText, monoMs, wallMs } from "../device/clock.js";
import { inPlaceOf } from "./backwards.js";
import { currentOf, raceBegan } from "./column.js";
import { copyingOf } from "./copying.js";
import { callsOff, stopLeft } from "./decided.js";
import { routeTo, stopSaid } from "./headline.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { isPassed, nextActs, titleOf } from "./minutes.js";
import { model, saveOrTell } from "./model.js";
import { overtimeKeys, partPast, timeLeads, timeOver } from "./overtime.js";
import { button, h } from "./parts.js";
import { lineLabel, refusalText } from "./speak.js";
import { nextLine, partedAt } from "./turns.js";
import { goOnKey, namesNone, stopFirst } from "./undecided.js";

export { copyingAsked } from "./leftsheet.js";
export { toDo } from "./overtime.js";
export { oldKey, toDiscard } from "./tooold.js";
export { lineInHand } from "./undecided.js";

const text = words.joint;
/** Another phone of which nothing came for so long may be dead. */
const UNHEARD_MS = 3 * 60_000;
let saying = false;

/** @returns {HTMLElement|null} the keys of the joint; null while the race leads */
export function keys(open, view, now) {
  if (view.calledOff) return ofTheStop(open, view);
  return partedAt(open) ? ofTheParted(open, view.go)
    : overtimeKeys(open, now, view.go) ?? ofTheUndecided(open, view)
      ?? ofTheCondition(open, view) ?? ofTheWrongKit(open, view, now);
}

/** That there was a STOP, above the minutes. @returns {HTMLElement} */
export function stopTrace(open, left) {
  return h("p.careful", { id: "stop-trace" }, icon("stop"), stopSaid(open, left));
}

/** What the joint leads to and what of it is to be decided, told from afar.
 * @returns {string} */
export function leadsTo(open, now) {
  const undecided = undecidedOf(open);
  return [nextOf(open, now), undecided ? `${text.nonconformances}: ${undecided}` : ""]
    .filter(Boolean).join(" \u00b7 ");
}

function nextOf(open, now) {
  const { stopped } = open.state;
  const left = stopped ? { stop: { about: stopped, at: stopped.at } } : stopLeft(open);
  if (left && (stopped || callsOff(open, left) || stopFirst(open))) {
    return stopSaid(open, left);
  }
  if (partedAt(open)) return partedSaid(open);
  if (timeLeads(open, now)) return timeOver(open, now).title;
  const [act] = raceBegan(open) ? nextActs(open, now) : [];
  const id = act?.step ?? currentOf(open);
  return id ? titleOf(open.sheet, id) : "";
}

/**
 * The key for a race that another phone began and has not been heard of since: what it
 * knew is on paper, and a tap on what comes next would say now. Whoever records with
 * this phone goes on with the keys of the race. @returns {HTMLElement|null}
 */
export function paperKey(open, acts, go) {
  const { sheet, subject, entries } = open;
  const last = entries.filter(({ step }) => sheet.steps[step]?.class === "raced")
    .reduce((one, other) => (other.made > (one?.made ?? 0) ? other : one), undefined);
  const [first] = [...acts].filter(({ photo }) => !photo).sort((one, other) =>
    Number(sheet.steps[one.step].series ?? 0)
      - Number(sheet.steps[other.step].series ?? 0));
  if (!model.shift || !first || !last || last.device === model.identity?.device
    || copyingOf(open) || wallMs() - last.made < UNHEARD_MS) return null;
  return button("plain", {
    mark: "pen", id: "from-paper", label: words.instead.fromPaper,
    note: words.instead.otherLast(dayClockText(last.made)),
    onclick: () => go(`/form/${subject}/${first.step}/${first.line || "-"}/paper`),
  });
}

// What makes the joint safe is never refused; what must be decided, or that nothing is.
function ofTheStop(open, view) {
  const { calledOff: left, go } = view;
  return whatOfIt(open, view, left, takeOff(open, go, left.stop.at));
}

// Its release stands, and the open time runs: what is next stays in reach.
function ofTheUndecided(open, view) {
  const left = stopFirst(open);
  return left ? whatOfIt(open, view, left, goOnKey(open, view.go)) : null;
}

function whatOfIt(open, view, left, beside) {
  const isNamed = !namesNone(open, left);
  return h("div.ask", {}, left.reported.length ? null : button("plain", {
    mark: "tick", label: words.nonconformance.nothingLeft, id: "nothing-left",
    onclick: () => {
      // Keys of the race come in its place: a second tap is not meant for them.
      view.tapped = monoMs();
      sayNothingLeft(open, left, view.go);
    },
  }), h("div.pair", {}, beside, button("main.red", {
    mark: "warn", label: stopSaid(open, left), id: "stop-decide",
    note: isNamed ? toDecide(left.reported.length) : words.lost.which,
    onclick: () => view.go(isNamed ? routeTo(open, left)
      : `/stop/${open.subject}/${left.stop.about.reason}`),
  })));
}

/** Signed once, however often it is tapped before it is kept.
 * @returns {Promise<object|undefined>} the note, if it was signed */
export async function sayNothingLeft(open, left, go) {
  if (!model.shift) go("/people");
  if (!model.shift || saying) return undefined;
  saying = true;
  const said = `${stopSaid(open, left)}. ${words.nonconformance.nothingLeft}`;
  try {
    return await saveOrTell({ kind: "note", about: { text: said } }, model.shift);
  } finally {
    saying = false;
  }
}

function ofTheParted(open, go) {
  const { subject } = open;
  const undecided = undecidedOf(open);
  const route = `/nonconformance/${subject}${undecided ? "" : "/new"}`;
  return h("div.ask", {}, h("p.careful", { id: "parted" }, icon("wait"),
    partedSaid(open)), h("div.pair", {}, takeOff(open, go, 0), button("main.red", {
    mark: "warn", label: toDecide(undecided), id: "parted-decide",
    onclick: () => go(route),
  })));
}

function undecidedOf({ state }) {
  return state.nonconformances.filter(({ status }) =>
    status !== "closed" && status !== "disposed").length;
}

// No gate shuts what is next, only what a release left open: closed at its gate.
function ofTheCondition(open, { racing, go }) {
  const { sheet, state, subject } = open;
  const step = racing ? undefined : currentOf(open);
  const [shut] = state.steps[step]?.refusals ?? [];
  if (shut?.code !== "condition_open" || !model.shift) return null;
  const { point } = shut.facts;
  const line = nextLine(sheet, state, step) || "-";
  return h("div.pair", {}, button("plain", {
    mark: "lock", label: text.anyway, note: titleOf(sheet, step), "data-step": step,
    onclick: () => go(`/form/${subject}/${step}/${line}/anyway`),
  }), button("main.blue", {
    mark: "tick", label: words.conditions.close,
    note: refusalText(shut, sheet, model.people, state), "data-point": point,
    onclick: () => go(`/point/${subject}/${point}`),
  }));
}

// The race counts a step as done with what is wrongly on: what takes its place leads.
function ofTheWrongKit(open, { racing, go }, now) {
  const { sheet, state, subject } = open;
  const first = racing && model.shift ? inPlaceOf(open) : undefined;
  if (!first || isPassed(sheet, state, first.step)) return null;
  return h("div.pair", {}, ...[first, ...nextActs(open, now, 1)].map(({ step, line }) =>
    button("main", {
      mark: "pen", "data-step": step, "data-line": line,
      label: [h("span.act", {}, titleOf(sheet, step)),
        h("span.line", {}, lineLabel(sheet, step, line))],
      onclick: () => go(`/form/${subject}/${step}/${line || "-"}`),
    })));
}

const toDecide = (undecided) => (undecided ? text.nonconformances
  : words.nonconformance.raise);

function partedSaid({ entries, sheet, state }) {
  const at = partedAt({ entries, sheet, state });
  return words.instead.parted(titleOf(sheet, apartOf(sheet)), clockText(at));
}

/** What takes off what was put on. @returns {string|undefined} a step */
export const apartOf = ({ flow, steps }) => flow.find((id) => steps[id]?.again);

// While anything is on that was not taken off since, however it was put on: past a shut
// gate, failed, half recorded. A sheet that says not of what it takes off asks whether
// it was since the STOP.
function takeOff(open, go, stopped) {
  const { sheet, state, subject } = open;
  const apart = apartOf(sheet);
  const newest = (id, counts) => Math.max(0, ...Object.values(
    state.steps[id]?.lines ?? {}).filter(counts).map(({ at }) => at));
  const on = sheet.steps[apart]?.takes_off?.map((id) =>
    newest(id, ({ status }) => status !== "discarded")) ?? [stopped];
  const off = newest(apart, ({ status }) => status === "ok");
  return apart && Math.max(0, ...on) > off
    ? button(partPast(open, wallMs()) ? "plain" : "main.green", {
      mark: "shield", label: titleOf(sheet, apart), id: "made-apart",
      onclick: () => go(`/form/${subject}/${apart}`),
    }) : null;
}
