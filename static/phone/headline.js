// The head of a joint: its state, what stopped it, what is still to be signed or
// decided, each one tap away.

import { dayClockText } from "../device/clock.js";
import { currentOf } from "./column.js";
import { stopLeft } from "./decided.js";
import { otherTitle, owedFor } from "./gateitem.js";
import { icon } from "./icons.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { h } from "./parts.js";
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

/** @returns {string} which STOP it was, when and why */
export function stopSaid({ sheet }, { stop }) {
  const card = sheet.cards?.find(({ id }) => id === stop.about.reason);
  return `${words.entry.stopped} ${dayClockText(stop.at)}: ${card?.title ?? ""}`;
}

// To what was reported of it, or to where it is.
export function routeTo({ subject }, { reported, stop }) {
  return `/nonconformance/${subject}/`
    + (reported.length ? reported.map(({ id }) => id).join("+")
      : `new/${stop.about.reason}`);
}
