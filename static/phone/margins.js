// By how much what ends a race was in time: by the deadline that came nearest, of all
// the clocks that end there. A tendon's strand lies bare, stands under tension and was
// tested, and one grouting ends all three. Pure.

import { OVER_MS } from "../core/clocks.js";
import { isOwn } from "./minutes.js";

/** Less is left only where nobody knows the hour. */
const UNKNOWN_MS = -OVER_MS / 2;

/** @returns {{until:string, at:number, left:number, title:string, tone:string}[]} each
 * milestone reached that ends a race, with its nearest deadline: green kept, yellow a
 * caution, red missed */
export function nearestEnds(sheet, state) {
  const own = (sheet.clocks ?? []).filter((clock) => isOwn(clock));
  return [...new Set(own.map(({ until }) => until))].flatMap((until) => {
    const at = state.milestones[until]?.at;
    const [nearest] = marginsOf(sheet, state, until).sort((a, b) => a.left - b.left);
    return at === undefined || !nearest || nearest.left < UNKNOWN_MS ? []
      : [{ until, at, ...nearest }];
  });
}

// What was left to each deadline that raises anything: to those that count here, as one
// for dry air does not in damp air.
function marginsOf(sheet, state, until) {
  const clocks = sheet.clocks.filter((clock) => clock.until === until && !clock.other);
  return clocks.flatMap(({ id, ratios }) => Object.entries(state.clocks)
    .filter(([name, found]) => `${name}/`.startsWith(`${id}/`) && found.ended)
    .flatMap(([, found]) => ratios.filter((one) => one.raises
      && isTold(found, found.left[one.id])).map((one) => ({
      left: found.left[one.id], title: one.title,
      tone: found.left[one.id] >= 0 ? "green"
        : one.raises === "caution" ? "yellow" : "red",
    }))));
}

// What was thrown away missed nothing.
function isTold({ status }, left) {
  return left >= 0 || (left < 0 && status === "over");
}
