/**
 * The stories of the vectors: entries written short, told and seen at a minute. The
 * twin of `tests/core/vector_stories.py`.
 */

import { canonical, fingerprint } from "../../static/core/canonical.js";
import { readingFaultId } from "../../static/core/dispositions.js";
import { entryOf } from "../../static/core/entries.js";
import { present } from "../../static/core/fold.js";
import { runClock } from "../../static/core/lives.js";
import { sha256Hex } from "../../static/core/sha256.js";
import { prepare } from "../../static/core/sheet.js";
import { COMMON } from "./core_words.js";

const MINUTE_MS = 60_000;
const CHECKS = ["dry", "gate", "strong"];

class Told {
  constructor(given, sheet, ids, entries, standing, scene) {
    Object.assign(this, { given, sheet, ids, entries, standing, scene });
  }

  get point() {
    return this.sheet.points.get(this.given.point);
  }

  get step() {
    return this.sheet.steps.get(this.given.step);
  }

  get line() {
    const name = this.given.line;
    return this.scene.lines(this.given.step).get(this.ids.get(name.slice(1)) ?? name);
  }

  get clock() {
    return this.sheet.clocks.get(this.given.clock);
  }

  get place() {
    return this.placeOf(this.given.entry);
  }

  get entry() {
    return this.scene.view.history.entry(this.place);
  }

  get act() {
    return { at: this.given.act * MINUTE_MS, unknown: false };
  }

  get fault() {
    const [check, label] = this.given.fault.split("@");
    return readingFaultId(check, this.ids.get(label));
  }

  get run() {
    return runClock(this.scene, this.clock, this.given.line ?? "");
  }

  get ratio() {
    return this.clock.ratios.find((each) => each.id === this.given.ratio);
  }

  placeOf(label) {
    return this.scene.view.history.graph.index.get(this.ids.get(label.slice(1)));
  }

  label(place) {
    if (place === undefined) return "missing";
    return this.named(this.scene.view.history.entry(place).id);
  }

  named(found) {
    const names = new Map([...this.ids].map(([label, id]) => [id, `@${label}`]));
    for (const [label, id] of this.ids) {
      for (const check of this.given.checks ?? CHECKS) {
        names.set(readingFaultId(check, id), `${check}@${label}`);
      }
    }
    return renamed(found, names);
  }
}

/** Make the scene of a story. */
export function tell(data, given) {
  const story = data.stories[given.story];
  const bodies = Object.entries(data.tables);
  const hashes = bodies.map(([name, body]) => [name, fingerprint(body)]);
  const raw = { ...data.sheet, ...story.changes, tables: Object.fromEntries(hashes) };
  const sheet = prepare(raw, Object.fromEntries(
    bodies.map(([, body]) => [fingerprint(body), body])));
  const ids = new Map();
  const entries = [];
  for (const short of story.entries) {
    const document = documentOf(short, sheet, ids, entries);
    const entry = entryOf(document, sha256Hex(canonical(document)));
    ids.set(short.label, entry.id);
    entries.push(entry);
  }
  const names = new Map([...ids].map(([label, id]) => [`@${label}`, id]));
  const standing = renamed({ ...data.standing, ...story.standing }, names);
  const now = { at: (given.minute ?? story.minute) * MINUTE_MS };
  const scene = present(sheet, entries, standing, now);
  return new Told(given, sheet, ids, entries, standing, scene);
}

function documentOf(short, sheet, ids, before) {
  const names = new Map([...ids].map(([label, id]) => [`@${label}`, id]));
  for (const [label, id] of ids) {
    for (const check of CHECKS) {
      names.set(`${check}@${label}`, readingFaultId(check, id));
    }
  }
  const { label: _, minute, ms = 0, on = "a", by, after, at, ...parts }
    = renamed(short, names);
  const made = minute * MINUTE_MS + ms;
  const last = before.length > 0 ? [before.at(-1).id] : [];
  return {
    ...COMMON,
    sheet: sheet.hash,
    person: by,
    device: on,
    seq: 1 + before.filter((entry) => entry.device === on).length,
    after: (after ?? last).sort(),
    made,
    at: at === undefined ? made : at * MINUTE_MS,
    mono: made,
    ...parts,
  };
}

function renamed(found, names) {
  if (typeof found === "string") return names.get(found) ?? found;
  if (Array.isArray(found)) return found.map((each) => renamed(each, names));
  if (found === null || typeof found !== "object") return found;
  return Object.fromEntries(Object.entries(found)
    .map(([key, each]) => [names.get(key) ?? key, renamed(each, names)]));
}
