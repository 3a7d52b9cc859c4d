// What a fault of an item is about: which it is, and what was looked at before it. The
// words of rules say so from when this is here; until then only which answer it was.

import { lookedAt as namedBefore } from "../core/items.js";
import { model } from "./model.js";
import { FACTS, FOUND, valueText } from "./speak.js";

const ITEM = { kind: "item" };
const checkOf = FACTS.check;

FACTS.check = (facts, context) => {
  const item = itemNamed(facts, context);
  return item === undefined ? checkOf(facts, context)
    : valueText(context.sheet, ITEM, item);
};
FOUND.seen = ({ step, check, entry }, { sheet }) =>
  lookedAt(model.open, fieldOf(sheet, step, check), entry).map((one) =>
    valueText(sheet, ITEM, one)).join(" \u00b7 ") || "\u2026";

function fieldOf({ steps }, step, id) {
  return steps[step]?.fields?.find((one) => one.id === id);
}

// Of a line as read (`values`), else of the entry at fault.
function itemNamed({ step, check, line = "", entry, values },
  { sheet, state, entries = [] }) {
  if (fieldOf(sheet, step, check)?.kind !== "item") return undefined;
  return (values ?? entries.find(({ id }) => id === entry)?.values)?.[check]
    ?? state?.steps[step]?.lines[line]?.values?.[check];
}

/**
 * What was looked at before an item is used, by the rules that will judge it.
 * @param {object} open @param {object} field of the plan @param {string} [entry] that
 * used it; else whoever records next @returns {string[]} items
 */
export function lookedAt({ scene, entries }, field, entry) {
  if (!scene) return [];
  const place = scene.view.history.graph.index.get(entry) ?? entries.length;
  return namedBefore(scene, field, place);
}
