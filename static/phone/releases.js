// Who must release a point: who has, who is missing, and from when a deputy may.

import { expired, releases, standingReleases } from "../core/gates.js";
import { onPoint } from "../core/signers.js";
import { dayClockText, wallMs } from "../device/clock.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { h } from "./parts.js";
import { personName, roleName, spanText } from "./speak.js";
import { words } from "./later.js";

const text = words.point;
const MINUTE_MS = 60_000;

/**
 * Each release a point lists: the `entry` that holds, or `late`, which ran out, or
 * `used`, through which work was done before it lapsed.
 * @returns {{wanted:object, entry?:object, late?:object, used?:object}[]}
 */
export function listed({ scene, state }, id) {
  const { sheet, history } = scene.view;
  const point = sheet.points.get(id);
  const standing = standingReleases(scene, point);
  return point.releases.map((wanted, number) => {
    const place = standing[number];
    if (place === undefined) {
      return state.points[id].status === "released"
        ? { wanted, used: usedOn(scene, point, wanted) } : { wanted };
    }
    const entry = history.entry(place);
    return expired(scene, point, place, scene.at) ? { wanted, late: entry }
      : { wanted, entry };
  });
}

function usedOn(scene, point, wanted) {
  return releases(scene, point).map((place) => scene.view.history.entry(place))
    .findLast(({ person, about }) => fits(about.said_by ?? person, wanted));
}

/** @returns {object[]} what was released by word and not signed by who said it */
export function unsignedWords({ scene }, id) {
  const { history } = scene.view;
  const point = scene.view.sheet.points.get(id);
  const given = ["release", "spoken"].flatMap((kind) => onPoint(scene, point, kind))
    .map((place) => [place, history.entry(place)]);
  return given.filter(([place, { kind, about }]) => kind === "spoken"
    && point.raw.spoken_ms
    && !given.some(([other, one]) => one.kind === "release"
      && one.person === about.said_by && history.saw(other, place)))
    .map(([, entry]) => entry);
}

/** From when a person may sign who is only a deputy of a point that is called. */
export function deputyWaits(open, id, person) {
  const called = callOf(open, id);
  for (const wanted of called ? open.sheet.points[id].releases : []) {
    if (fits(person, { ...wanted, deputies: [] })) return undefined;
    const mine = (wanted.deputies ?? []).find((one) => fits(person, one));
    const from = mine && called.at + mine.after_ms;
    const name = personName(model.people, person);
    if (from > wallMs()) return text.signsFrom(name, dayClockText(from));
  }
  return undefined;
}

/**
 * The list of releases, given and missing; `terms` says how they hold.
 * @returns {HTMLElement}
 */
export function releaseList(open, id, terms) {
  const called = callOf(open, id);
  const list = h("ul.refusals", { id: "releases", "aria-label": text.needs },
    ...listed(open, id)
    .map(({ wanted, entry, late, used }) => h("li", {
      "data-given": entry ? "yes" : "no",
    }, icon(entry ? "tick" : late ? "clock" : used ? "again" : "dash"),
      h("span", {}, h("b", {}, roleText(wanted)), ": ",
        entry ? given(open, id, entry) : late ? text.givenLate(given(open, id, late))
          : used ? `${given(open, id, used)}, ${text.used}` : text.missing,
        ...(entry || used ? [] : (wanted.deputies ?? []).map((one) =>
          h("small", {}, deputyText(one, wanted, called))))))));
  if (terms) list.append(h("li", {}, icon("dash"), terms));
  return list;
}

/** Since when a call waits, in words; "" without one. */
export function callText(open, id) {
  const called = callOf(open, id);
  return called ? text.calledAt(dayClockText(called.at), spanText(wallMs() - called.at))
    : "";
}

/** @returns {boolean} whether a person's role fits a release or a deputy of it */
export function fits(person, wanted) {
  const known = model.people[person];
  return Boolean(known) && [wanted, ...(wanted.deputies ?? [])].some((one) =>
    known.roles.includes(one.role)
      && (!one.organisation || one.organisation.includes(known.organisation)));
}

/** @returns {string} a role as a person reads it; whose, where others have it too */
export function roleText({ role, organisation }) {
  const isOne = Object.values(model.people).every((one) =>
    !one.roles.includes(role) || organisation?.includes(one.organisation));
  const whose = isOne ? undefined
    : organisation?.map((id) => model.organisations?.[id] ?? id);
  return roleName(role) + (whose ? ` (${whose.join(", ")})` : "");
}

function given({ sheet, state, entries }, id, entry) {
  const name = personName(model.people, entry.person);
  const by = text.givenBy(name, dayClockText(entry.at));
  if (entry.kind !== "spoken") return by;
  const { said_by: said, heard_by: heard, text: said_words } = entry.about;
  const signature = state.points[id].signed?.[entry.id];
  const signed = entries.find((one) => one.id === signature);
  return text.spokenBy(personName(model.people, said), personName(model.people, heard),
    said_words, dayClockText(entry.at),
    dayClockText(entry.at + sheet.points[id].spoken_ms),
    signed && dayClockText(signed.at));
}

function callOf({ state, entries }, id) {
  return entries.find((entry) => entry.id === state.points[id].called);
}

// Whose they are need not be said again.
function deputyText(deputy, { organisation }, called) {
  const same = String(deputy.organisation) === String(organisation);
  const role = same ? roleName(deputy.role) : roleText(deputy);
  if (!called) return text.deputyAfter(role, Math.round(deputy.after_ms / MINUTE_MS));
  const from = called.at + deputy.after_ms;
  return from > wallMs() ? text.deputyFrom(role, dayClockText(from))
    : text.deputyNow(role, dayClockText(from));
}
