// A gate in the joint's column: how it stands, why, and what hangs on it, each one tap
// away. What was released says so only as long as nothing shuts it for what is left.

import { dayClockText, wallMs } from "../device/clock.js";
import { stopLeft } from "./decided.js";
import { icon } from "./icons.js";
import { model, subjectTitle } from "./model.js";
import { badge, button, h, rowButton } from "./parts.js";
import { personName, refusalSaid, spanText, stateBadge } from "./speak.js";
import { pointStatus, toneOf } from "./states.js";
import { refusalTexts } from "./together.js";
import { words } from "./words.js";

/** @returns {HTMLElement} the row of a point, with its card where it is current */
export function pointItem(open, view, id, isCurrent, select) {
  const { sheet, state, subject } = open;
  const point = sheet.points[id];
  const { until, ...found } = state.points[id];
  const stop = lapsedBy(open, id);
  // Work half done is held up by nothing, unless a STOP ended what it was done on.
  const over = isOver(open, id);
  const refusals = found.status === "released" && !over ? shutSince(open, id, stop)
    : found.refusals ?? [];
  const shut = found.status === "released" && (stop || over || refusals.length > 0);
  const status = shut ? stop || over ? "lapsed" : "closed"
    : pointStatus(point, found, view.later.has(id));
  const used = status === "released" && until <= wallMs();
  return h(`li.tooth.gate.${used ? "grey" : toneOf(status)}`, {
    "data-point": id, "data-status": status,
  }, rowButton(point.title, used ? badge("grey", "open", words.state.released)
    : stateBadge(status), beside(open, id, until), isCurrent,
  () => select(isCurrent ? null : id)),
  isCurrent ? h("div.card.current", {},
    point.caution ? h("p.caution", {}, icon("warn"), point.caution) : null,
    h("ul.refusals", {}, ...[...stop ? [stop] : [], ...refusedBy(open, found),
      ...refusalTexts(refusals, sheet, model.people, state)]
      .map((said) => h("li", {}, icon("lock"), said))),
    ...keysBeside(refusals, subject, view.go),
    // In the race the keys below are for what is next there.
    view.racing || view.calledOff ? button("plain", {
      mark: "shield", label: words.joint.openPoint,
      onclick: () => view.go(`/point/${subject}/${id}`),
    }) : null) : null);
}

// Until when it holds, who must sign still what was only said, or since when one waits.
function beside(open, id, until) {
  const called = open.entries.find(({ id: one }) =>
    one === open.state.points[id].called);
  const since = (at) => spanText(wallMs() - at);
  return [until ? untilText(until) : called
    ? words.point.calledAt(dayClockText(called.at), since(called.at)) : "",
  ...owedFor(open, id)].filter(Boolean).join(" \u00b7 ");
}

/** @returns {string} until when a release holds, or when it ran out */
export function untilText(until) {
  const at = dayClockText(until);
  return until > wallMs() ? words.point.until(at) : words.point.ranOut(at);
}

/**
 * Whoever signs has seen what was written down: the clocks of two phones may differ.
 * @returns {string[]} who must sign still what was released by word
 */
export function owedFor({ entries, scene, state }, id) {
  const given = state.points[id]?.release ?? [];
  const spoken = entries.filter(({ kind, id: one }) =>
    kind === "spoken" && given.includes(one));
  // The first draw after a start is of what was kept; the rules come a moment later.
  if (spoken.length === 0 || !scene) return [];
  const { history } = scene.view;
  const place = (entry) => history.graph.index.get(entry.id);
  return spoken
    .filter((said) => !entries.some((one) => one.kind === "release"
      && one.point === id && one.person === said.about.said_by
      && history.saw(place(one), place(said))))
    .map(({ about }) => words.point.owed(personName(model.people, about.said_by)));
}

/** Whether a gate was used, and is over for what has still to come through it.
 * @returns {boolean} */
export function isOver({ sheet, state }, id) {
  return state.points[id].status === "released" && (sheet.points[id].shuts ?? [])
    .some((step) => state.steps[step]?.refusals.some(({ code, facts }) =>
      code === "gate_shut" && facts.point === id));
}

/** What shuts a gate that is released and has let nothing through yet, as what it
 * stands before says; else it holds until it lapses. `all`: what would shut it
 * otherwise. @returns {object[]} refusals */
export function shutSince({ sheet, state }, id, all) {
  const { status, refusals = [] } = state.points[id] ?? {};
  const behind = status !== "released" ? [] : (sheet.points[id].shuts ?? [])
    .flatMap((step) => state.steps[step]?.refusals ?? []);
  return refusals.filter(({ code, facts }) => code === "nonconformance"
    && (all || behind.some((one) => one.facts?.id === facts.id)));
}

// A STOP that ends the release says so until it is decided what becomes of it.
function lapsedBy(open, id) {
  const { sheet, state } = open;
  const { lapses = [], shuts = [] } = sheet.points[id];
  const left = stopLeft(open);
  const goesOn = shuts.some((step) =>
    !["done", "off"].includes(state.steps[step]?.status));
  if (!lapses.includes(left?.stop.about.reason) || !goesOn) return "";
  const card = sheet.cards?.find((one) => one.id === left.stop.about.reason);
  return `${words.entry.stopped} ${dayClockText(left.stop.at)}: ${card?.title ?? ""}`;
}

function refusedBy({ entries }, { refused_by: refused }) {
  const entry = entries.find((one) => one.id === refused);
  return entry ? [refusalSaid(entry)] : [];
}

/** @returns {string} what another subject must have done first */
export function otherTitle(subject, name) {
  return `${subjectTitle(subject)}: ${model.titles[`${subject} ${name}`] ?? name}`;
}

/** @returns {HTMLElement} what keeps a step from beginning, who refused its gates */
export function missingList({ sheet, state, entries }, gates, refusals, people) {
  const missing = [...gates.flatMap((id) => state.points[id].refusals), ...refusals];
  return h("ul.refusals", {}, ...[
    ...gates.flatMap((id) => refusedBy({ entries }, state.points[id])),
    ...refusalTexts(missing, sheet, people, state),
  ].map((said) => h("li", {}, icon("lock"), said)));
}

/**
 * What shuts a gate is one tap away from it: nonconformances, and the step of another
 * subject. @param {object[]} refusals @param {(route:string) => void} go
 * @returns {HTMLElement[]}
 */
export function keysBeside(refusals, subject, go) {
  const faults = refusals.filter(({ code }) => code === "nonconformance");
  const others = refusals.filter(({ code }) => code === "other_subject");
  return [
    faults.length ? button("plain", {
      mark: "warn", label: `${words.joint.nonconformances}: ${faults.length}`,
      onclick: () => go(faults.length === 1
        ? `/nonconformance/${subject}/${faults[0].facts.id}`
        : `/nonconformance/${subject}`),
    }) : null,
    ...others.map(({ facts: { subject: other, name } }) => button("plain", {
      mark: "lock", label: otherTitle(other, name), "data-opens": `${other} ${name}`,
      onclick: () => go(`/joint/${other}/${name}`),
    })),
  ];
}
