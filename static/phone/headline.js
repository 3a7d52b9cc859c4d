// The head of a joint: its state, what stopped it, what is still to be signed or
// decided, each one tap away.

import { dayClockText } from "../device/clock.js";
import { currentOf } from "./column.js";
import { stopLeft } from "./decided.js";
import { otherTitle, owedFor } from "./gateitem.js";
import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { stateBadge } from "./speak.js";
import { routeOf, unsavedHere } from "./unsaved.js";
import { words } from "./words.js";

const text = words.joint;

/** @param {object} shown the open subject @param {(route:string) => void} go */
export function headline(shown, go) {
  const { sheet, state, subject } = shown;
  const [kept, ...more] = unsavedHere(shown);
  const open = state.nonconformances.filter((one) => one.status !== "closed"
    && one.status !== "disposed");
  const link = (props, ...said) => h("button.chip.link", { type: "button", ...props },
    ...said);
  return h("div.headline.keys", {},
    stateBadge(state.stopped ? "stopped" : state.verdict), stopBefore(shown, link, go),
    state.attempts > 1 ? h("span.chip", {}, text.attempt(state.attempts)) : null,
    ...othersFirst(shown).map(({ subject: other, name }) => link({
      "data-other": other, onclick: () => go(`/joint/${other}/${name}`),
    }, icon("lock"), otherTitle(other, name))),
    ...sheet.flow.flatMap((id) => owedFor(shown, id).map((said) => link({
      "data-owed": id, onclick: () => go(`/point/${subject}/${id}`),
    }, icon("pen"), `${titleOf(sheet, id)}: ${said}`))),
    kept ? link({ id: "unsaved", onclick: () => go(routeOf(kept)) },
      [words.unsaved.title, more.length ? `: ${more.length + 1}` : ""].join("")) : null,
    link({ id: "nonconformances", onclick: () => go(`/nonconformance/${subject}`) },
      state.nonconformances.length
        ? `${text.nonconformances}: ${open.length}/${state.nonconformances.length}`
        : words.nonconformance.raise), byHand(go, subject));
}

// What is next may wait for a step of another subject.
function othersFirst(open) {
  const { points, steps } = open.state;
  const next = currentOf(open);
  return ((points[next] ?? steps[next])?.refusals ?? [])
    .filter(({ code }) => code === "other_subject").map(({ facts }) => facts);
}

// With no network what was signed goes on by the other phone's camera, from here.
function byHand(go, subject) {
  const { reached, fault } = model.sync;
  return fault && !reached ? h("button.chip.link", { type: "button", id: "joint-roads",
    onclick: () => go(`/roads/${subject}`) }, words.phone.roads) : null;
}

// What stopped the work is in sight until somebody says what becomes of it.
function stopBefore(open, link, go) {
  const left = stopLeft(open);
  return left ? link({
    id: "stopped-before", onclick: () => go(routeTo(open, left)),
  }, icon("stop"), stopSaid(open, left)) : null;
}

/** That there was a STOP, on top of a race that went on. @returns {HTMLElement} */
export function stopTrace(open, left) {
  return h("p.careful", { id: "stop-trace" }, icon("stop"), stopSaid(open, left));
}

/** @returns {string} which STOP it was, when and why */
export function stopSaid({ sheet }, { stop }) {
  const card = sheet.cards?.find(({ id }) => id === stop.about.reason);
  return `${words.entry.stopped} ${dayClockText(stop.at)}: ${card?.title ?? ""}`;
}

// To what was reported of it, or to where it is.
function routeTo({ subject }, { reported, stop }) {
  return `/nonconformance/${subject}/`
    + (reported.length ? reported.map(({ id }) => id).join("+")
      : `new/${stop.about.reason}`);
}

/**
 * The keys after a STOP that ended the release the race rests on: what makes the joint
 * safe, never refused, and what must be decided. The race is recorded by the column.
 */
export function ofTheStop(open, view) {
  const left = view.calledOff;
  const off = open.sheet.flow.find((id) => open.sheet.steps[id]?.again);
  const isOn = off && Object.values(open.state.steps[off].lines)
    .every(({ at }) => at < left.stop.at);
  return h("div.pair", {},
    isOn ? button("main.green", {
      mark: "shield", label: titleOf(open.sheet, off), id: "made-apart",
      onclick: () => view.go(`/form/${open.subject}/${off}`),
    }) : null,
    button("main.red", {
      mark: "warn", label: stopSaid(open, left), note: left.reported.length
        ? text.nonconformances : words.nonconformance.raise, id: "stop-decide",
      onclick: () => view.go(routeTo(open, left)),
    }));
}
