// Whether the items a reading names were fit for use when it was made. Before a gate an
// unfit item fails the step; in the race it is recorded all the same and becomes a
// nonconformance. An item whose certificate was corrected after a reading had relied on
// it raises one at every subject it touched, never one a line, and only in the present:
// what was released in ignorance stays released.

import { isPast } from "./bounds.js";
import { own } from "./own.js";

/** The code of an item whose certificate was corrected after a reading relied on it. */
export const CORRECTED = "item_corrected";

/** The code of an item that is none of those looked at before. */
export const FOREIGN = "item_foreign";

/** The code of an item named at two places of a step at once. */
export const TWICE = "item_twice";

const SOUND = Object.freeze([]);

/** Give what is wrong with the items of a line, as `code:field`, in field order. */
export function itemFailures(scene, step, line) {
  if (step.items.length === 0 || line.discarded || line.disputed) return SOUND;
  const found = [];
  for (const [field, kind] of step.items) {
    const name = own(line.values, field);
    if (typeof name !== "string") continue;
    const code = faultOf(scene, line, kind, name)
      ?? (isForeign(scene, step.fields.get(field), line, name) ? FOREIGN : undefined);
    if (code !== undefined) found.push(`${code}:${field}`);
  }
  return found;
}

// Whether an item is none of those that other steps named before, if any did. Where
// nothing was named, that is told of the step that should have. What is looked at once
// it was used makes nothing right; a slip may be corrected.
function isForeign(scene, asked, { current }, name) {
  const seen = lookedAt(scene, asked, current);
  return seen.length > 0 && !seen.includes(name);
}

/** Give what the steps that a field asks for named before an entry, each once. */
export function lookedAt({ view }, { among = [] }, place) {
  const seen = among.flatMap(([step, field]) => view.named(step, field, place));
  return [...new Set(seen.map(String))];
}

/**
 * Say whether an item of a step was fit when read and has run out since: a lot chosen
 * on its last day is not to be mixed after midnight.
 */
export function ranOut(scene, step) {
  return pastNow(scene, step).includes(true);
}

/** Say whether nobody knows if an item of a step has run out since it was read. */
export function outUntimed(scene, step) {
  return pastNow(scene, step).includes(undefined);
}

// Of each item of a step that has a last day, whether that is past.
function pastNow(scene, step) {
  const amended = scene.view.sheet.amended >= 2;
  if (step.items.length === 0 || (amended && step.raced)) return SOUND;
  return [...scene.lines(step.id).values()].filter((line) =>
    !line.discarded && !line.disputed).flatMap((line) => step.items
    .map(([field]) => own(line.values, field))
    .map((name) => (typeof name === "string" ? findItem(scene, name) : undefined))
    .filter((item) => item?.expires !== undefined
      && !(amended && isPast(item.expires, scene.view.moment(line))))
    .map(({ expires }) => isPast(expires, scene.at)));
}

/**
 * Give the items that a step names at two places at once, by item: those with counted
 * uses, and those of a field the plan marks `once`. A round of the same place is no
 * second place; in a series every reading is of another moment. Sheets from before this
 * was amended let one bar lie in two places.
 * @returns {{item:string, field:string, lines:string[], places:number[],
 *   check:string}[]} `check` names this very contradiction among the step's failures
 */
export function namedTwice(scene, step) {
  if (step.items.length === 0 || step.series) return SOUND;
  if (scene.view.sheet.amended < 2) return SOUND;
  const named = new Map();
  for (const line of scene.lines(step.id).values()) {
    if (line.discarded || line.disputed) continue;
    for (const [field] of step.items) {
      const name = own(line.values, field);
      if (typeof name !== "string") continue;
      if (!named.has(name)) named.set(name, []);
      named.get(name).push({ field, line });
    }
  }
  return [...named.keys()].sort().filter((name) => named.get(name).length > 1)
    .flatMap((name) => twice(scene, step, name, named.get(name)));
}

function twice(scene, step, item, every) {
  const counted = own(findItem(scene, item)?.numbers, "uses_max") !== undefined;
  const once = step.raw.fields.filter((each) => each.once).map(({ id }) => id);
  const named = every.filter(({ field }) => counted || once.includes(field));
  const placeOf = ({ line, field }) => {
    const said = step.raw.lines?.find(({ id }) => id === line.id);
    return `${said?.item || line.id} ${field}`;
  };
  if (new Set(named.map(placeOf)).size < 2) return [];
  const lines = new Map(named.map(({ line }) => [line.id, line.current]));
  // A step without lines has its fields for places: a jack that is its own spare.
  const ids = step.lines.length > 0 ? [...lines.keys()]
    : named.map(({ field }) => field);
  return [{ item, field: named[0].field, lines: ids, places: [...lines.values()],
    check: `${TWICE}:${item}:${ids.join(",")}` }];
}

/** Give an item as the register knows it, else as the sheet froze it. */
export function findItem(scene, name) {
  return own(scene.view.standing.items, name) ?? own(scene.view.sheet.raw.items, name);
}

/**
 * Give, for each certificate corrected since, the first reading that relied on it,
 * sorted by item and entry; none in an entry's own past, which knew nothing of it.
 * @returns {{item:string, older:string, step:string, field:string, line:object,
 *   steps:string[]}[]} `older` the registration it named, `steps` all that relied on it
 */
export function reliedOnCorrected(scene) {
  const { mask, history } = scene.view;
  const first = new Map();
  // An entry's own past never has the entry itself, so it is never everything.
  if (mask === history.graph.everything) {
    for (const each of relied(scene)) {
      const key = `${each.item} ${each.older}`;
      const known = first.get(key) ?? each;
      const steps = [...new Set([...known.steps, each.step])];
      const soonest = each.line.root < known.line.root ? each : known;
      first.set(key, { ...soonest, steps });
    }
  }
  return [...first.keys()].sort().map((key) => first.get(key));
}

function* relied(scene) {
  const { items = {} } = scene.view.standing;
  if (!Object.values(items).some((item) => item.older?.length)) return;
  for (const step of scene.view.sheet.steps.values()) {
    for (const line of step.items.length ? scene.lines(step.id).values() : []) {
      if (line.discarded || line.disputed) continue;
      const { needs } = scene.view.history.entry(line.root);
      for (const [field] of step.items) {
        const item = own(line.values, field);
        const known = typeof item === "string" ? own(items, item) : undefined;
        for (const older of known?.older ?? []) {
          if (!needs.includes(older)) continue;
          yield { item, older, step: step.id, field, line, steps: [step.id] };
        }
      }
    }
  }
}

function faultOf(scene, line, kind, name) {
  const item = findItem(scene, name);
  if (!item) return "item_unknown";
  if (item.kind !== kind) return "item_wrong";
  const past = item.expires === undefined ? false
    : isPast(item.expires, scene.view.moment(line));
  if (past !== false) return past ? "item_expired" : "item_untimed";
  const overused = (item.uses ?? 0) >= own(item.numbers, "uses_max");
  return overused ? "item_overused" : undefined;
}
