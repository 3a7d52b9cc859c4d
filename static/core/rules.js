// What may be recorded or released now: the same no, in the same words, everywhere. A
// reading that cannot be (an impossible unit, a missing figure) is refused where it is
// typed; once signed it is never refused, only flagged.

import { lastHeard } from "./heard.js";
import { own } from "./own.js";
import { unmet } from "./readiness.js";
import { refusal } from "./refusals.js";
import { milestonesOf } from "./scene.js";
import { signerRefusals } from "./signers.js";

/** @typedef {import("./refusals.js").Refusal} Refusal */

/**
 * Give what is wrong with the readings of one line, field by field.
 * @param {object} step the sheet's step
 * @param {Record<string, number|string>} values whole numbers (value x 10^places), text
 * @returns {Refusal[]}
 */
export function readingRefusals(step, values) {
  const fields = new Map((step.fields ?? []).map((field) => [field.id, field]));
  const found = [];
  for (const [name, field] of fields) {
    const value = own(values, name);
    if (value === undefined) {
      if (field.need) found.push(refusal("missing_value", { field: name }));
    } else if (!possible(field, value)) {
      found.push(badValue(name, value, allowedText(field)));
    }
  }
  const unknown = Object.keys(values).filter((name) => !fields.has(name)).sort();
  return [...found, ...unknown.map((name) => badValue(name, values[name], "-"))];
}

/**
 * Give why a person may not release a point now; empty when they may.
 * @param {object} scene see `present` @param {string} pointId @param {string} person
 * @returns {Refusal[]}
 */
export function releaseRefusals(scene, pointId, person) {
  const point = scene.view.sheet.points.get(pointId);
  return [...unmet(scene, point), ...signerRefusals(scene, point, person)];
}

/** Give the entries of other subjects a release of this point must name, sorted. */
export function reliedOn(scene, pointId) {
  const { sheet, standing } = scene.view;
  const point = sheet.points.get(pointId);
  const found = point.prerequisites.map((each) =>
    own(milestonesOf(standing, each.subject), each.milestone));
  if (point.raw.heard) found.push(lastHeard(scene, point)?.entry);
  return [...new Set(found.filter((id) => id !== undefined))].sort();
}

function badValue(field, found, allowed) {
  return refusal("bad_value", { field, found, allowed });
}

/** Say whether a value may stand in a field; in one that is not there none may. */
export function possible(field, value) {
  if (field === undefined) return false;
  if (field.kind === "text" || field.kind === "item") return typeof value === "string";
  if (typeof value !== "number") return false;
  if (field.kind === "choice") {
    return field.options.some((option) => option.value === value);
  }
  return (field.low ?? value) <= value && value <= (field.high ?? value);
}

function allowedText(field) {
  if (field.kind === "text" || field.kind === "item") return "text";
  if (field.kind === "choice") {
    return field.options.map((option) => option.value).join(", ");
  }
  return `${field.low ?? ""}..${field.high ?? ""}`;
}
