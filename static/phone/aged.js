// From when on a life counts the hottest temperature it is certified for: whoever reads
// the face before gains time, even where it has become hotter.

import { isPassed } from "./minutes.js";
import { words } from "./words.js";

/**
 * @param {{sheet:object, state:object}} open @param {{chalk?:object,
 *   startStep:string}} minutes @param {number} now ms UTC
 * @param {(mark:string, label:string, at:number, past?:boolean, tone?:string) => any}
 *   said @returns {any} as `said`; null where no deadline hangs on it
 */
export function agedFrom({ sheet, state }, { chalk, startStep }, now, said) {
  const clock = sheet.clocks.find((one) => one.start === startStep && one.table
    && !one.per_line && one.temps.length);
  const read = (clock?.temps ?? []).flatMap(({ step, field }) =>
    Object.values(state.steps[step]?.lines ?? {})
      .filter(({ values, status }) => status !== "discarded"
        && values?.[field] !== undefined).map(({ at }) => at));
  const from = Math.max(...read) + clock?.age_ms;
  // Closed past its life, no reading changes what becomes of it.
  const isLost = !chalk?.raises && isPassed(sheet, state, startStep);
  if (!read.length || isLost || !(from < chalk?.at)) return null;
  const { hottest, hottestNow } = words.minutes;
  return from > now ? said("wait", hottest, from)
    : said("warn", hottestNow, from, false, ".careful");
}
