// What folding a subject is told: its sheet made ready, people, other subjects, and the
// register with the items it used. Signs and saves nothing.

import { momentsOf } from "../core/ahead.js";
import { certified, itemsReliedOn } from "../core/certificates.js";
import { fold, present } from "../core/fold.js";
import { heardOf } from "../core/heard.js";
import { revisionsOf } from "../core/revisions.js";
import { standingOf } from "../core/standing.js";
import { entriesOf, holdStill, siteEntries } from "../device/book.js";
import { moment } from "../device/clock.js";
import { issuedSheets, sheetOf, siteBundle } from "../device/library.js";
import { titleOf } from "./minutes.js";
import { model } from "./model.js";

const prepared = new Map();
const standings = new Map();
const momentsBy = new WeakMap();
/** The count of a subject whose sheet is not here yet: nothing on it is kept. */
const NOT_READ = -1;
let usedOn = new Map();
let pace = {};
let basis = {};

/** Give this moment as a fold takes it. */
export function here() {
  return { ...moment(), device: model.identity?.device };
}

/** Give a subject's newest sheet, prepared once; null while it has not arrived. */
export async function readySheet(subject) {
  const kept = prepared.get(subject);
  const hashes = (await issuedSheets()).get(subject);
  if (kept && kept.hash === hashes?.at(-1)) return kept;
  const found = await sheetOf(subject);
  if (!found) return null;
  const every = Object.fromEntries([...found.older, [found.hash, found.sheet]]);
  const ready = {
    hash: found.hash, sheet: found.sheet,
    prepared: revisionsOf(every, found.tables)(found.hash),
    others: othersOf(found.sheet),
  };
  prepared.set(subject, ready);
  model.titles[subject] = found.sheet.title;
  return ready;
}

/** Give a subject's sheet, if it was made ready. @returns {object|undefined} */
export function sheetHere(subject) {
  return prepared.get(subject)?.sheet;
}

/**
 * Give what folding a subject is told. A circle of subjects in a plan ends the search.
 * @param {object} ready as `readySheet` gives it
 * @param {Promise<object[]>|object[]} told the subject's own entries
 * @param {string[]} path subjects that wait for this one
 * @param {Map<string, number>} seen is told how many entries it rests on, by subject
 */
export async function standingFor(ready, told, path = [], seen = new Map()) {
  const { sheet, others } = ready;
  const onward = [...path, sheet.subject];
  const subjects = {};
  for (const subject of others) {
    if (path.includes(subject)) continue;
    subjects[subject] = await subjectStanding(subject, onward, seen);
  }
  for (const { subject, milestone } of sheet.prerequisites ?? []) {
    const other = sheetHere(subject);
    if (other) model.titles[`${subject} ${milestone}`] = titleOf(other, milestone);
  }
  for (const { until, other } of sheet.clocks ?? []) {
    if (!other) continue;
    const moments = await momentsFor(other.subject, [until, other.undone]);
    subjects[other.subject] = { milestones: {}, ...subjects[other.subject], moments };
  }
  const mine = await told;
  for (const { heard } of Object.values(sheet.points)) {
    for (const subject of heard?.subjects ?? []) {
      const entries = await entriesOf(subject);
      if (!seen.has(subject)) seen.set(subject, entries.length);
      subjects[subject] = {
        milestones: {}, ...subjects[subject], heard: heardOf(entries, mine),
      };
    }
  }
  const items = itemsFor(sheet.subject, mine);
  return { people: model.people, subjects, items, pace };
}

// When a subject did some steps, as known here: by its own entries, nobody else's.
async function momentsFor(subject, steps) {
  const ready = await readySheet(subject);
  if (!ready) return {};
  const [entries, { people }, asked] = [await entriesOf(subject), model, `${steps}`];
  const kept = momentsBy.get(entries);
  if (kept?.ready === ready && kept.people === people && kept.asked === asked) {
    return kept.found;
  }
  const scene = present(ready.prepared, entries, { people, subjects: {} }, here());
  // Moments of what was done; the present one does not matter.
  const found = momentsOf(scene, steps);
  momentsBy.set(entries, { ready, people, asked, found });
  return found;
}

// The subjects a sheet waits for, or asks in a condition.
function othersOf(sheet) {
  const found = new Set((sheet.prerequisites ?? []).map((each) => each.subject));
  JSON.stringify(sheet, (_, part) => {
    if (part?.word === "reached" && part.subject) found.add(part.subject);
    return part;
  });
  return found;
}

// The register with each item's uses on other subjects, as far as they are counted, and
// of what readings relied on the certificate they named.
function itemsFor(subject, entries) {
  const known = { ...model.items, ...itemsReliedOn(model.items, entries) };
  return Object.fromEntries(Object.entries(known).map(([id, item]) => {
    const on = usedOn.get(id) ?? new Set();
    return [id, { ...item, uses: on.size - (on.has(subject) ? 1 : 0) }];
  }));
}

/** Read the register anew, and the pace of gangs on other subjects. */
export async function readRegister() {
  const told = await siteBundle();
  pace = told?.pace ?? {};
  model.plan = told?.plan;
  model.roles = told?.site?.roles;
  model.zone = told?.site?.zone;
  const named = (list = [], of = ({ title, name }) => title ?? name) =>
    Object.fromEntries(list.map((each) => [each.id, of(each)]));
  model.kinds = named(told?.site?.item_kinds);
  model.planned = named(told?.site?.item_kinds, (kind) => kind.planned);
  model.organisations = named(told?.site?.organisations);
  const roles = told?.register?.roles ?? [];
  model.registrars = roles;
  const office = model.identity?.officeKey;
  model.items = certified((await siteEntries()).filter((entry) => entry.key === office
    || model.people[entry.person]?.roles.some((role) => roles.includes(role))));
}

/** Behind everything else: it folds every other subject that has an entry. */
export async function countUses() {
  const found = new Map();
  for (const subject of (await issuedSheets()).keys()) {
    if ((await entriesOf(subject)).length === 0) continue;
    for (const item of (await subjectStanding(subject)).items ?? []) {
      found.set(item, (found.get(item) ?? new Set()).add(subject));
    }
  }
  usedOn = found;
}

// Entries are read anew at once, people and register only when a round of the sync has
// ended: what was folded in between knew the one without the other.
function toldFrom() {
  const { people, items } = model;
  if (basis.people !== people || basis.items !== items || basis.pace !== pace) {
    basis = { people, items, pace, said: JSON.stringify([people, items, pace]) };
  }
  return basis.said;
}

// What was worked out before is good while no entry came to the subject, to one that it
// waits for, or to the site's own, and who is who and the register read as they did.
async function subjectStanding(subject, path, seen = new Map()) {
  const ready = await readySheet(subject);
  if (!ready) {
    seen.set(subject, NOT_READ);
    return { milestones: {} };
  }
  let kept = standings.get(subject);
  const from = toldFrom();
  if (kept?.hash !== ready.hash || kept.from !== from || !await holdStill(kept.seen)) {
    kept = { hash: ready.hash, from, ...await foldedStanding(ready, path) };
    standings.set(subject, kept);
  }
  for (const [each, count] of kept.seen) seen.set(each, count);
  return kept.found;
}

async function foldedStanding(ready, path) {
  const { subject } = ready.sheet;
  const entries = await entriesOf(subject);
  const seen = new Map([["", (await siteEntries()).length], [subject, entries.length]]);
  const standing = await standingFor(ready, entries, path, seen);
  const now = here();
  const state = fold(ready.prepared, entries, standing, now);
  return { found: standingOf(state, now.at), seen };
}
