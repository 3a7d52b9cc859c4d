// What a reader of the record must be told about single entries: late, copied, odd.
// A flag never changes what an entry means; it is listed beside it.

import { SLACK_MS } from "./bounds.js";
import { forked } from "./chain.js";
import { births, signedWords } from "./gates.js";
import { namedTwice } from "./items.js";
import { needsPin, READINGS } from "./kinds.js";
import { lapse } from "./lapses.js";
import { addTo, own } from "./own.js";
import { possible } from "./rules.js";
import { LATE_MS, RULES } from "./sheet.js";

const TOLD = new Set(["copied", "correction", "anyway"]);

/**
 * Give the flags of a subject's entries, by order of the entry, then code.
 * @returns {{code:string, entry:string}[]}
 */
export function flags(scene) {
  const { history } = scene.view;
  const { entries, index } = history.graph;
  const told = new Map();
  for (const [code, place] of history.uncounted) addTo(told, place, code);
  for (const id of forked(entries)) addTo(told, index.get(id), "fork");
  for (const place of elsewhere(scene)) addTo(told, place, "item_elsewhere");
  const attempts = new Set(scene.view.attempts().map(([attempt]) => attempt));
  const found = [];
  entries.forEach((entry, place) => {
    const codes = [...told.get(place) ?? []];
    if (!attempts.has(entry.attempt)) codes.push("other_attempt");
    ofTime(codes, scene, place, entry);
    ofPerson(codes, scene, entry);
    ofRelease(codes, scene, place, entry);
    ofKind(codes, scene, place, entry);
    for (const code of codes.sort()) found.push({ code, entry: entry.id });
  });
  return found;
}

// What names a thing that another place of its step names too.
function elsewhere(scene) {
  return new Set([...scene.view.sheet.steps.values()].flatMap((step) =>
    namedTwice(scene, step).flatMap(({ places }) => places)));
}

function ofTime(codes, scene, place, entry) {
  const { graph, moments } = scene.view.history;
  const { unknown, between = [undefined] } = moments[place];
  if (unknown) codes.push(between.includes(undefined) ? "time_unknown" : "time_taken");
  if (entry.at > entry.made) codes.push("stated_later");
  if (entry.made - entry.at > LATE_MS) codes.push("late");
  const late = entry.after.some((id) => {
    const parent = graph.entries[graph.index.get(id)];
    return parent && contradicts(parent, entry);
  });
  if (late) codes.push("time_contradicts");
}

function contradicts(parent, entry) {
  const both = parent.offset !== undefined && entry.offset !== undefined;
  const before = parent.made + (both ? parent.offset : 0);
  return before - (entry.made + (both ? entry.offset : 0)) > SLACK_MS;
}

function ofPerson(codes, scene, entry) {
  const { sheet, standing } = scene.view;
  const known = own(standing.people, entry.person);
  if (!known) {
    codes.push("unknown_person");
    return;
  }
  if (needsPin(entry.kind) && entry.unlocked !== "pin") codes.push("without_pin");
  const step = sheet.steps.get(entry.step);
  if (step && READINGS.has(entry.kind)) {
    const wanted = step.raw.by?.length > 0 ? step.raw.by : sheet.raw.record ?? [];
    const right = wanted.some((role) => known.roles.includes(role));
    if (wanted.length > 0 && !right) codes.push("wrong_role_entry");
  }
}

function ofRelease(codes, scene, place, entry) {
  const point = scene.view.sheet.points.get(entry.point);
  // Sheets from before this was amended told nothing of what was only spoken.
  const spoken = entry.kind === "spoken" && scene.view.sheet.amended >= 2;
  if (!(spoken || entry.kind === "release") || !point) return;
  const made = scene.case.under(place).past(place);
  const named = made.view.sheet.points.get(point.id) ?? point;
  if (!spoken && signedWords(made, named, place).length > 0) return;
  const unheard = spoken && !named.raw.spoken_ms;
  if (unheard || births(made, named, place).length > 0) codes.push("release_void");
  else if (lapse(scene, point, place) !== undefined) codes.push("release_lapsed");
}

function ofKind(codes, scene, place, entry) {
  if (TOLD.has(entry.kind)) codes.push(entry.kind);
  if (entry.rules > RULES) codes.push("newer_rules");
  const step = scene.view.sheet.steps.get(entry.step);
  if (!step || !READINGS.has(entry.kind)) return;
  for (const [name, value] of Object.entries(entry.values)) {
    if (!possible(step.fields.get(name), value)) {
      codes.push("bad_value");
      break;
    }
  }
  if (step.raced && step.needs.some((name) => !seen(scene, place, name))) {
    codes.push("out_of_order");
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
