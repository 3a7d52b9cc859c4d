// What stands under the minutes: that a race was won, and by how much, or by how much
// it was not, told once what ends it is there, by the deadline that came nearest; and
// what a release left open, which says GO all the same.

import { clockText, wallMs } from "../device/clock.js";
import { sayOpen } from "./conditions.js";
import { icon } from "./icons.js";
import { words } from "./later.js";
import { nearestEnds } from "./margins.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";
import { fill, h } from "./parts.js";
import { spanText } from "./speak.js";

/** What is told on the joint as well, of a race that ended so long ago at most. */
const TOLD_MS = 12 * 3_600_000;
const MARKS = { green: "tick", yellow: "warn", red: "cross" };
const LOOKS = { green: "p.good", yellow: "p.careful", red: "p.bad" };

/** @returns {{said:string, tone:string}[]} each race that ended in the last hours, in
 * words, by the deadline that came nearest or was missed by most */
export function racesEnded({ sheet, state }, now) {
  return nearestEnds(sheet, state).filter(({ at }) => at > now - TOLD_MS)
    .map(({ until, at, left, title, tone }) => {
      const text = tone === "green" ? words.minutes.won : words.minutes.tooLate;
      return { tone, said: text(titleOf(sheet, until), clockText(at),
        spanText(Math.abs(left)), title) };
    });
}

/** @param {object} open @param {HTMLElement} place under the minutes
 * @param {HTMLElement} element the joint with its column */
export function besideMinutes(open, place, element) {
  // Drawn anew since, it is told by what is drawn.
  if (!place.isConnected) return;
  fill(place, sayOpen(open, element), racesEnded(open, wallMs()).map(({ said, tone }) =>
    h(LOOKS[tone], { "data-won": "" }, icon(MARKS[tone]), said)));
}

/** In the place of its minutes, until the next is saved. @returns {HTMLElement|null} */
export function justWon(open) {
  const { reached, subject } = model.notice ?? {};
  const [ended] = reached?.length && subject === open.subject
    ? racesEnded(open, wallMs()) : [];
  return ended ? h(`p.inhand.${ended.tone}`, { id: "won" }, icon(MARKS[ended.tone]),
    ended.said) : null;
}
