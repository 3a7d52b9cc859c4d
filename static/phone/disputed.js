// Readings of one line that contradict each other: who read what, when and on which
// phone, for whoever reads it again; and the way back to what they left for that.

import { dayClockText } from "../device/clock.js";
import { isWanted, raceBegan } from "./column.js";
import { model } from "./model.js";
import { personName, readings, refusalText } from "./speak.js";
import { routeOf, unsavedHere } from "./unsaved.js";
import { words } from "./later.js";

/** @returns {string} a phone by its name, as it says under More; this one as this */
export function phoneName(device) {
  return device === model.identity?.device ? words.phone.title : device;
}

/** @returns {string[]} every reading behind a disputed line, as far as they differ */
export function disputeTexts({ sheet, entries = [] }, step, read) {
  const all = entries.filter(({ id }) => read.entries.includes(id));
  const differs = (field) => new Set(all.map(({ values }) => values?.[field])).size > 1;
  const differing = (values = {}) => Object.fromEntries(Object.entries(values)
    .filter(([field]) => differs(field)));
  return [
    refusalText({ code: "step_disputed", facts: { step } }, sheet, model.people),
    ...all.map(({ at, person, device, values }) => [dayClockText(at),
      personName(model.people, person), phoneName(device),
      ...readings(sheet, step, differing(values))].join(" \u00b7 ")),
  ];
}

/**
 * Back to what this phone was at before somebody settled a dispute on it: a form left
 * half filled, else what follows what was last recorded here. In a race the race leads.
 * @returns {string} a route, "" where nothing was left
 */
export function leftFor() {
  const { sheet, state, entries, subject } = model.open;
  if (raceBegan(model.open)) return "";
  const before = entries.filter(({ step, device }) => sheet.steps[step]
    && device === model.identity?.device).at(-2);
  const isFree = (id) => state.steps[id]?.refusals.length === 0;
  const kept = unsavedHere(model.open).at(-1);
  if (kept && isFree(kept.step) && kept.begun > (before?.made ?? 0)) {
    return routeOf(kept);
  }
  const next = before && sheet.flow.slice(sheet.flow.indexOf(before.step)).find((id) =>
    sheet.steps[id]?.class === "gated" && isWanted(state, id) && isFree(id));
  return next ? `/joint/${subject}/${next}` : "";
}
