// A subject's entries, ordered and sorted by what they are about, once per fold.
// Only looks things up; every rule about what counts is made elsewhere, on top of this.

import { between } from "./bounds.js";
import { momentOf } from "./clocks.js";
import { addsPhoto } from "./entries.js";
import { addPlace, emptyMask, holds, merge, order } from "./graph.js";
import { kindNamed, READINGS } from "./kinds.js";
import { addTo } from "./own.js";

/** Kinds after which a reading in their past may no longer be retaken. */
export const LOCKING = new Set(["called", "release", "refusal"]);

/**
 * Entries by place (index in order) and what they speak of; values are places.
 * `bearing`: for each step the mask of what its lines are read from: its readings,
 * their corrections, discards. `added`: corrections that only bring pictures.
 */
export class History {
  constructor(sheet, graph) {
    this.graph = graph;
    this.moments = momentsOf(sheet, graph);
    this.readings = new Map();
    this.corrections = new Map();
    this.added = new Set();
    this.rootOf = new Map();
    this.discards = new Map();
    this.bearing = new Map();
    this.byPoint = new Map();
    this.byKind = new Map();
    this.byTarget = new Map();
    this.uncounted = [];
    this.conditioned = new Set();
    this.lockers = new Map();
  }

  /** Give the entry at a place. */
  entry(place) {
    return this.graph.entries[place];
  }

  /** Say whether the entry at `place` has `other` in its own past. */
  saw(place, other) {
    return holds(this.graph.past[place], other);
  }

  /** Keep the places whose authors had seen all of some others; of none, none. */
  seeing(places, others) {
    return places.filter((place) => others.length > 0
      && others.every((other) => this.saw(place, other)));
  }

  /** Keep what no other of these has in its past. */
  unseen(places) {
    if (places.length < 2) return places;
    const seen = emptyMask(this.graph.entries.length);
    for (const place of places) merge(seen, this.graph.past[place]);
    return places.filter((place) => !holds(seen, place));
  }

  /** Say whether, beyond its gates, an act on a step may have been forbidden. */
  watches(step) {
    return this.conditioned.has(step) || this.byKind.has("anyway");
  }

  /** Note that the lines of a step may be read from an entry. */
  bears(step, place) {
    if (!this.bearing.has(step)) {
      this.bearing.set(step, emptyMask(this.graph.entries.length));
    }
    addPlace(this.bearing.get(step), place);
  }

  /**
   * Say whether an entry within mask has made a reading past retaking: a call, a
   * release, a refusal or any entry by another person that has the reading in its past.
   */
  locked(place, mask) {
    if (!this.lockers.has(place)) this.lockers.set(place, lockersOf(this, place));
    return this.lockers.get(place).some((other) => holds(mask, other));
  }

  /**
   * Say whether an entry takes one back that nobody had relied on yet: the author's
   * own, on the same device, before the earlier was locked.
   */
  retakenInTime(place, later) {
    const [old, now] = [this.entry(place), this.entry(later)];
    return old.person === now.person && old.device === now.device
      && this.saw(later, place) && !this.locked(place, upTo(this.graph, later));
  }
}

/** Order the entries of the sheet's subject and sort them by what they are about. */
export function readHistory(sheet, entries) {
  const mine = [...entries].filter((entry) => entry.subject === sheet.subject);
  const history = new History(sheet, order(mine));
  history.graph.entries.forEach((entry, place) => {
    addTo(history.byKind, entry.kind, place);
    file(sheet, history, place, entry);
    const { target } = entry.about;
    if (typeof target === "string") addTo(history.byTarget, target, place);
  });
  return history;
}

function file(sheet, history, place, entry) {
  if (!kindNamed(entry.kind)) history.uncounted.push(["unknown_kind", place]);
  else if (entry.kind === "correction") fileCorrection(sheet, history, place, entry);
  else if (READINGS.has(entry.kind)) fileReading(sheet, history, place, entry);
  else if (entry.kind === "discarded") {
    addTo(history.discards, `${entry.step}/${entry.line}`, place);
    history.bears(entry.step, place);
  } else if (entry.point !== undefined) {
    filePoint(sheet, history, place, entry);
    for (const { before } of entry.about.conditions ?? []) {
      history.conditioned.add(before);
    }
  }
}

function fileReading(sheet, history, place, entry) {
  const step = sheet.steps.get(entry.step);
  if (!step?.knownLines.has(entry.line)) {
    history.uncounted.push(["unknown_step", place]);
  } else if (!sheet.counts(entry.sheet, step.id)) {
    history.uncounted.push(["other_sheet", place]);
  } else {
    addTo(history.readings, step.id, place);
    history.bears(step.id, place);
  }
}

function fileCorrection(sheet, history, place, entry) {
  // For sheets from before this was amended a picture added is a correction.
  if (sheet.amended >= 2 && addsPhoto(entry)) history.added.add(place);
  const root = correctedRoot(history, place, entry);
  if (root === undefined || !READINGS.has(history.entry(root).kind)) {
    history.uncounted.push(["target_missing", place]);
  } else if (!history.saw(place, root)) {
    history.uncounted.push(["target_unseen", place]);
  } else {
    addTo(history.corrections, root, place);
    history.rootOf.set(place, root);
    history.bears(history.entry(root).step, place);
  }
}

// A correction may correct a correction; the reading at the bottom is meant.
function correctedRoot(history, place, entry) {
  let root = history.graph.index.get(entry.about.target);
  while (root !== undefined && history.entry(root).kind === "correction") {
    if (root >= place) return undefined;
    root = history.graph.index.get(history.entry(root).about.target);
  }
  return root;
}

function filePoint(sheet, history, place, entry) {
  if (!sheet.points.has(entry.point)) history.uncounted.push(["unknown_step", place]);
  else if (!sheet.counts(entry.sheet, entry.point)) {
    history.uncounted.push(["other_sheet", place]);
  } else addTo(history.byPoint, `${entry.point}/${entry.kind}`, place);
}

function lockersOf(history, place) {
  const author = history.entry(place).person;
  const found = [];
  for (let other = place + 1; other < history.graph.entries.length; other += 1) {
    const entry = history.entry(other);
    const locks = LOCKING.has(entry.kind) || entry.person !== author;
    if (locks && history.saw(other, place)) found.push(other);
  }
  return found;
}

function momentsOf(sheet, graph) {
  const amended = sheet.amended >= 2;
  const unknown = unknownTimes(graph, !amended);
  const moments = graph.entries.map((entry, place) =>
    momentOf(entry, entry.at, unknown.has(place)));
  if (!amended || unknown.size === 0) return moments;
  return moments.map((moment, place) => (moment.unknown
    ? { ...moment, between: between(graph, moments, place) } : moment));
}

// Entries whose wall clock lies behind their device's previous session. For sheets from
// before this was amended such a time is believed as soon as it is typed by a named
// person or an entry of another device has it in its past.
function unknownTimes(graph, believed) {
  const sessions = new Map();
  for (const { device, session } of graph.entries) {
    sessions.set(device, sessions.get(device) ?? session);
  }
  const one = graph.entries.every((each) => sessions.get(each.device) === each.session);
  if (one) return new Set();
  const byDevice = new Map();
  graph.entries.forEach((entry, place) => addTo(byDevice, entry.device, place));
  const unknown = new Set();
  for (const places of byDevice.values()) {
    places.sort((one, other) =>
      graph.entries[one].seq - graph.entries[other].seq || one - other);
    let [latest, session] = [0, ""];
    for (const place of places) {
      const entry = graph.entries[place];
      const behind = entry.session !== session && entry.made < latest;
      if (behind && !(believed && confirmed(graph, place))) unknown.add(place);
      if (!behind) [latest, session] = [Math.max(latest, entry.made), entry.session];
    }
  }
  return unknown;
}

function confirmed(graph, place) {
  const entry = graph.entries[place];
  return entry.at_by === "typed" || graph.entries.some((other, later) =>
    later > place && other.device !== entry.device && holds(graph.past[later], place));
}

/** Give an entry's past and the entry itself as a mask. */
export function upTo(graph, place) {
  const mask = graph.past[place].slice();
  addPlace(mask, place);
  return mask;
}
