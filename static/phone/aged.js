// From when on a life counts the hottest temperature it is certified for: whoever reads
// the face before gains time, even where it has become hotter.

import { words } from "./words.js";

/**
 * @param {{sheet:object, state:object}} open @param {{chalk?:object,
 *   startStep:string}} minutes @param {(mark:string, label:string, at:number) => any}
 *   said @returns {any} as `said`; null where no deadline hangs on it
 */
export function agedFrom({ sheet, state }, { chalk, startStep }, said) {
  const clock = sheet.clocks.find((one) => one.start === startStep && one.table
    && !one.per_line && one.temps.length);
  const read = (clock?.temps ?? []).flatMap(({ step, field }) =>
    Object.values(state.steps[step]?.lines ?? {})
      .filter(({ values, status }) => status !== "discarded"
        && values?.[field] !== undefined).map(({ at }) => at));
  const from = Math.max(...read) + clock?.age_ms;
  return read.length && from < chalk?.at
    ? said("wait", words.minutes.hottest, from) : null;
}
