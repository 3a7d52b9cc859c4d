// What is known of a point: its state and till when, why it is shut, who was called,
// who has signed and who has not, who refused it and what made a release lapse. A gate
// can be refused without what it rests on: nothing here may need `rests.js`.

import { lapse } from "../core/lapses.js";
import { dayClockText, wallMs } from "../device/clock.js";
import { begunNow } from "./beforehand.js";
import { isOver, keysBeside, shutSince, untilText } from "./gateitem.js";
import { icon } from "./icons.js";
import { timeGates, titleOf } from "./minutes.js";
import { model } from "./model.js";
import { badge, button, h } from "./parts.js";
import { overruled } from "./overruled.js";
import { callText, listed, releaseList } from "./releases.js";
import {
  byWhom, lineLabel, refusalSaid, spanText, stateBadge, valueText,
} from "./speak.js";
import { pointStatus, signOf, toneOf } from "./states.js";
import { otherArm } from "./strip.js";
import { refusalTexts } from "./together.js";
import { words } from "./later.js";

const text = words.point;
const MINUTE_MS = 60_000;

/** @returns {(HTMLElement|null)[]} the facts of a point of the open subject; who must
 * sign stands before what it rests on only once somebody has */
export function pointFacts(open, id, go) {
  const { sheet, state } = open;
  const point = sheet.points[id];
  const found = state.points[id];
  const over = isOver(open, id);
  const refusals = found.status === "released" && !over ? shutSince(open, id)
    : found.refusals ?? [];
  // Nobody begins what is shut: what it would leave says nothing.
  const isShut = found.status === "released" && !over && refusals.length > 0;
  return [
    // Who signs for several in one sitting sees each time for which.
    h("p.big", { id: "whose" }, sheet.title),
    h("div.headline", {}, ...standing(open, id), h("span.chip", {}, kindText(point)),
      found.until ? h("span.chip", {}, untilText(found.until)) : null),
    point.caution ? h("p.caution", {}, icon("warn"), point.caution) : null,
    refusedBy(open, found), ...overruled(open, id).map((said) =>
      h("p.careful", { "data-overruled": "" }, icon("again"), said)),
    lapsedBy(open, over ? { lapsed_by: overBy(open, id) } : found),
    over ? h("p.careful", { id: "used-before" }, icon("warn"), text.usedBefore) : null,
    signsFirst(open, id) && !isShut ? whoSigns(open, id) : null,
    refusals.length ? h("div.missing", {}, isShut ? null : h("b", {}, text.shut),
      h("ul.refusals", {}, ...refusalTexts(refusals, sheet, model.people, state)
        .map((said) => h("li", {}, icon("lock"), said)))) : null,
    ...keysBeside(refusals, open.subject, go),
    isShut ? whoSigns(open, id) : null,
    ...besides(open, id, go), untilTime(open, id),
    notice(point, found), otherArm(open), isShut || over ? null : begunNow(open, id),
  ];
}

// What ended the newest release of a gate that was used before that.
function overBy(open, id) {
  const { history, sheet } = open.scene.view;
  const used = listed(open, id).map((one) => one.used).findLast(Boolean);
  return used && lapse(open.scene, sheet.points.get(id),
    history.graph.index.get(used.id));
}

/** Whether somebody has signed: then who has, and who is still wanted, is told first.
 * @returns {boolean} */
export function signsFirst(open, id) {
  return open.state.points[id].status === "released" || givenOf(open, id) > 0;
}

function givenOf(open, id) {
  return listed(open, id).filter(({ entry }) => entry).length;
}

// Whom it waits for says more than that it is ready.
function standing(open, id) {
  const found = open.state.points[id];
  const waits = [called(open, id), someSigned(open, id)].filter(Boolean);
  const status = pointStatus(open.sheet.points[id], found);
  // A release stands all the same, and says below by whom it was given.
  if (isOver(open, id)) return [stateBadge("lapsed")];
  if (shutSince(open, id).length) return [stateBadge("closed")];
  if (status === "called" || (status === "ready" && waits.length)) return waits;
  // Its key says that one calls.
  return [status === "ready" ? badge(toneOf(status), signOf(status), text.ready)
    : stateBadge(status), ...waits];
}

function someSigned(open, id) {
  const [given, all] = [givenOf(open, id), open.sheet.points[id].releases.length];
  return given > 0 && given < all ? h("span.badge.yellow", { id: "some-signed" },
    icon("pen"), text.someSigned(given, all)) : null;
}

/** @returns {HTMLElement} who must sign a point, and how that holds */
export function whoSigns(open, id) {
  return releaseList(open, id, terms(open.sheet.points[id], open.state.points[id]));
}

// That a gate is a hold point goes without saying, beside what it is the gate of.
function kindText(point) {
  const kind = text.classes[point.class];
  return !point.critical ? kind
    : point.class === "hold" ? point.critical : `${kind} \u00b7 ${point.critical}`;
}

// Another point that shuts the same step still: released alone this one opens nothing.
function besides({ sheet, state, subject }, id, go) {
  const { shuts = [] } = sheet.points[id];
  return sheet.flow.filter((other) => other !== id
    && sheet.points[other]?.shuts?.some((step) => shuts.includes(step))
    && !["released", "waived"].includes(state.points[other].status))
    .map((other) => button("plain", {
      mark: "lock", label: text.besides(sheet.points[other].title), "data-opens": other,
      onclick: () => go(`/point/${subject}/${other}`),
    }));
}

// What time alone will open says from when.
function untilTime(open, id) {
  const gate = timeGates(open).find(({ point }) => point === id);
  return gate ? h("p.careful", {}, icon("wait"),
    words.joint.comesAfter(dayClockText(gate.until))) : null;
}

// How long it holds, and what everybody asks before calling: must one come.
function terms(point, { called: since }) {
  const isUnspoken = point.class === "hold" && !point.spoken_ms && since === undefined;
  return [point.life_ms ? text.life(Math.round(point.life_ms / MINUTE_MS)) : "",
    isUnspoken ? text.unspoken : ""].filter(Boolean)
    .join(" ");
}

function called(open, id) {
  const said = callText(open, id);
  return said ? h("span.badge.blue", { id: "called" }, icon("call"), said) : null;
}

function notice(point, { notice_until: until, status }) {
  if (point.class !== "witness") return null;
  const left = until === undefined ? 0 : until - wallMs();
  const said = status === "waived" ? text.waived : until === undefined ? text.noNotice
    : text.noticeUntil(dayClockText(until), spanText(left));
  return h("p.careful", { id: "notice-left" }, icon("clock"), said);
}

function refusedBy({ entries }, { refused_by: refused }) {
  const entry = entries.find((one) => one.id === refused);
  return entry ? h("p.bad", { id: "refused-by" }, icon("cross"), refusalSaid(entry))
    : null;
}

function lapsedBy({ entries, sheet }, { lapsed_by: cause }) {
  const entry = entries.find((one) => one.id === cause);
  if (!entry) return null;
  const card = sheet.cards?.find((one) => one.id === entry.about.reason);
  const what = [words.entry[entry.kind] ?? entry.kind, card?.title,
    entry.step && titleOf(sheet, entry.step),
    entry.step && lineLabel(sheet, entry.step, entry.line)].filter(Boolean).join(", ");
  // Whoever released on the old figure sees the new one at once.
  // What stands beside the reading that was corrected is another's.
  const { target } = entry.about;
  const before = entries.slice(0, entries.indexOf(entry))
    .filter(({ id, about }) => target && (id === target || about.target === target));
  const told = [what, ...replaced(sheet, entry.step, entry, before)].join(": ");
  return h("p.careful", { id: "lapsed-by" }, icon("again"),
    text.lapsed(`${told} \u00b7 ${byWhom(entry)}`));
}

/**
 * @param {object} sheet @param {string} step @param {object} entry @param {object[]}
 * before what the line said before it
 * @returns {string[]} what a correction says instead; of another entry nothing
 */
export function replaced(sheet, step, { kind, about, values = {} }, before) {
  if (kind !== "correction") return [];
  const moved = about.at === undefined ? [] : [dayClockText(about.at)];
  return [...moved, ...(sheet.steps[step].fields ?? [])
    .filter(({ id }) => values[id] !== undefined).map((field) => {
      const old = before.findLast((one) => one.values?.[field.id] !== undefined);
      const said = [old?.values[field.id], values[field.id]]
        .map((one) => valueText(sheet, field, one)).join(" \u2192 ");
      return `${field.label} ${said}`;
    })];
}
