// What a reader of the record must be told about single entries: late, copied, odd.
// A flag never changes what an entry means; it is listed beside it.

import { forked } from "./chain.js";
import { births, lapse } from "./gates.js";
import { needsPin, READINGS } from "./kinds.js";
import { own } from "./own.js";
import { possible } from "./rules.js";
import { LATE_MS, RULES } from "./sheet.js";

/** Two phones' clocks may differ this much before a contradiction is listed. */
export const SLACK_MS = 2 * 60 * 1000;

const TOLD = new Set(["copied", "correction", "anyway"]);

/**
 * Give the flags of a subject's entries, by order of the entry, then code.
 * @returns {{code:string, entry:string}[]}
 */
export function flags(scene) {
  const { history } = scene.view;
  const found = history.graph.entries.map(() => new Set());
  for (const [code, place] of history.uncounted) found[place].add(code);
  const chain = new Set(scene.view.attempts().map(([attempt]) => attempt));
  const forks = forked(history.graph.entries);
  history.graph.entries.forEach((entry, place) => {
    for (const code of codesOf(scene, place, entry)) found[place].add(code);
    if (forks.has(entry.id)) found[place].add("fork");
    if (!chain.has(entry.attempt)) found[place].add("other_attempt");
  });
  return found.flatMap((codes, place) =>
    [...codes].sort().map((code) => ({ code, entry: history.entry(place).id })));
}

function codesOf(scene, place, entry) {
  return [
    ...ofTime(scene, place, entry), ...ofPerson(scene, entry),
    ...ofRelease(scene, place, entry), ...ofKind(scene, place, entry),
  ];
}

function* ofTime(scene, place, entry) {
  const { graph, moments } = scene.view.history;
  if (moments[place].unknown) yield "time_unknown";
  if (entry.at > entry.made) yield "stated_later";
  if (entry.made - entry.at > LATE_MS) yield "late";
  const parents = entry.after.map((id) => graph.entries[graph.index.get(id)]);
  if (parents.some((parent) => parent && contradicts(parent, entry))) {
    yield "time_contradicts";
  }
}

function contradicts(parent, entry) {
  const both = parent.offset !== undefined && entry.offset !== undefined;
  const before = parent.made + (both ? parent.offset : 0);
  return before - (entry.made + (both ? entry.offset : 0)) > SLACK_MS;
}

function* ofPerson(scene, entry) {
  const { sheet, standing } = scene.view;
  const known = own(standing.people, entry.person);
  if (!known) {
    yield "unknown_person";
    return;
  }
  if (needsPin(entry.kind) && entry.unlocked !== "pin") yield "without_pin";
  const step = sheet.steps.get(entry.step);
  if (step && READINGS.has(entry.kind)) {
    const wanted = step.raw.by?.length > 0 ? step.raw.by : sheet.raw.record ?? [];
    const right = wanted.some((role) => known.roles.includes(role));
    if (wanted.length > 0 && !right) yield "wrong_role_entry";
  }
}

function* ofRelease(scene, place, entry) {
  const point = scene.view.sheet.points.get(entry.point);
  if (entry.kind !== "release" || !point) return;
  const made = scene.case.under(place).past(place);
  const named = made.view.sheet.points.get(point.id) ?? point;
  if (births(made, named, place).length > 0) yield "release_void";
  else if (lapse(scene, point, place) !== undefined) yield "release_lapsed";
}

function* ofKind(scene, place, entry) {
  if (TOLD.has(entry.kind)) yield entry.kind;
  if (entry.rules > RULES) yield "newer_rules";
  const step = scene.view.sheet.steps.get(entry.step);
  if (!step || !READINGS.has(entry.kind)) return;
  for (const [name, value] of Object.entries(entry.values)) {
    if (!possible(step.fields.get(name), value)) {
      yield "bad_value";
      break;
    }
  }
  if (step.raced && step.needs.some((name) => !seen(scene, place, name))) {
    yield "out_of_order";
  }
}

// Whether an act had anything of what should come before it in its past.
function seen(scene, place, needed) {
  const { history, sheet } = scene.view;
  const name = sheet.milestones.get(needed)?.step ?? needed;
  const before = history.readings.get(name)
    ?? history.byPoint.get(`${name}/release`) ?? [];
  return before.some((other) => history.saw(place, other));
}
