// How lately another arm was heard of: no lift is allowed on what may have changed. A
// release names in `needs` the entry it rested on; what a person saw and signed counts
// from then as an entry would.

import { elapsedMs } from "./clocks.js";
import { own } from "./own.js";
import { refusal } from "./refusals.js";

const AHEAD_MS = 2 * 60 * 1000;

/**
 * Give, of another subject's entries, each device's last and those that mine name.
 * @returns {Record<string, {at:number, offset?:number}>} by id: when it was signed
 */
export function heardOf(entries, mine) {
  const known = new Map(entries.map((entry) => [entry.id, entry]));
  const last = new Map();
  for (const entry of known.values()) {
    const before = last.get(entry.device);
    if (!before || before.seq < entry.seq
      || (before.seq === entry.seq && before.id < entry.id)) {
      last.set(entry.device, entry);
    }
  }
  const wanted = new Set([...last.values()].map(({ id }) => id));
  for (const { needs } of mine) {
    for (const name of needs ?? []) if (known.has(name)) wanted.add(name);
  }
  return Object.fromEntries([...wanted].sort().map((id) => {
    const { made, offset } = known.get(id);
    return [id, offset === undefined ? { at: made } : { at: made, offset }];
  }));
}

/**
 * Give what was heard last of those a point asks about; undefined: nothing ever.
 * @param {string[]|undefined} needs only these count, those a release named
 * @returns {{at:number, ageMs:number, entry?:string}|undefined} no entry: seen here
 */
export function lastHeard(scene, point, needs) {
  const { view } = scene;
  const found = [];
  const add = (moment, entry) => {
    const ageMs = elapsedMs(moment, scene.at, true);
    if (ageMs >= -AHEAD_MS) found.push({ at: moment.at, ageMs, entry });
  };
  for (const subject of point.raw.heard.subjects) {
    const told = own(view.standing.subjects, subject)?.heard ?? {};
    for (const [name, moment] of Object.entries(told)) {
      if (!needs || needs.includes(name)) add(moment, name);
    }
  }
  for (const place of view.among(view.history.byKind.get("sighting"))) {
    const { person } = view.history.entry(place);
    if (own(view.standing.people, person)) add(view.history.moments[place]);
  }
  return found.sort((a, b) => a.ageMs - b.ageMs
    || ((a.entry ?? "") < (b.entry ?? "") ? -1 : 1))[0];
}

/** Give why what is known of the others is too old for a point; empty if not. */
export function unheard(scene, point, needs) {
  if (!point.raw.heard) return [];
  const found = lastHeard(scene, point, needs);
  if (!found) return [refusal("never_heard", { point: point.id })];
  if (found.ageMs <= point.raw.heard.within_ms) return [];
  return [refusal("heard_long_ago", { point: point.id, at: found.at })];
}
