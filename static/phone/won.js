// What stands under the minutes: that a race was won, and by how much, told once what
// ends it is there; and what a release left open, which says GO all the same.

import { clockText, wallMs } from "../device/clock.js";
import { sayOpen } from "./conditions.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { isOwn, titleOf } from "./minutes.js";
import { model } from "./model.js";
import { fill, h } from "./parts.js";
import { spanText } from "./speak.js";

/** What is told on the joint as well, of a race that ended so long ago at most. */
const TOLD_MS = 12 * 3_600_000;

/** @returns {string[]} each race of the last hours that was in time, in words */
export function racesWon({ sheet, state }, now) {
  return (sheet.clocks ?? []).filter((clock) => isOwn(clock))
    .map(({ id, until }) => ({ until, end: state.milestones[until],
      spare: spareOf(sheet, state.clocks[id], id) }))
    .filter(({ end, spare }) => spare > 0 && spare < Infinity
      && end?.at > now - TOLD_MS)
    .map(({ until, end, spare }) =>
      words.minutes.won(titleOf(sheet, until), clockText(end.at), spanText(spare)));
}

/** @param {object} open @param {HTMLElement} place under the minutes
 * @param {HTMLElement} element the joint with its column */
export function besideMinutes(open, place, element) {
  // Drawn anew since, it is told by what is drawn.
  if (!place.isConnected) return;
  fill(place, sayOpen(open, element), racesWon(open, wallMs()).map((said) =>
    h("p.good", { "data-won": "" }, icon("tick"), said)));
}

/** In the place of its minutes, until the next is saved. @returns {HTMLElement|null} */
export function justWon(open) {
  const { reached, subject } = model.notice ?? {};
  const [won] = reached?.length && subject === open.subject
    ? racesWon(open, wallMs()) : [];
  return won ? h("p.inhand.green", { id: "won" }, icon("tick"), won) : null;
}

// To the first deadline that raises anything.
function spareOf({ clocks }, found, id) {
  if (!found?.ended || found.status !== "met") return undefined;
  const { ratios } = clocks.find((one) => one.id === id);
  return Math.min(...ratios.filter(({ raises }) => raises)
    .map((one) => found.left[one.id]));
}
