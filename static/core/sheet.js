// A sheet made ready: its expressions turned into functions, its order looked up.
// A sheet is what the plan compiled for one subject and froze. Preparing reads it once;
// folding then only asks. An unsound sheet throws here and never half works.

import { fingerprint } from "./canonical.js";
import { Kernel, tableOf } from "./kernel.js";
import { own } from "./own.js";

/** The rules version this interpreter speaks. */
export const RULES = 1;

/** An entry signed this long after what it states is listed as late. */
export const LATE_MS = 15 * 60 * 1000;

/** A sheet that cannot be used: says which part and why. */
export class UnsoundSheet extends Error {
  constructor(message) {
    super(message);
    this.name = "UnsoundSheet";
  }
}

/** A sheet with everything the fold asks of it looked up. */
export class Sheet {
  constructor(parts) {
    Object.assign(this, parts);
  }

  /** Say whether an entry made under a sheet counts for a step or point here. */
  counts(sheetHash, name) {
    if (sheetHash === this.hash) return true;
    const part = this.steps.get(name) ?? this.points.get(name);
    const before = own(this.older, sheetHash ?? "");
    return part !== undefined && own(before, name) === part.hash;
  }

  /** Give the first hold point that comes after a step or point in the flow. */
  nextGate(name) {
    const place = this.flow.get(name) ?? -1;
    for (const [other, index] of this.flow) {
      const point = this.points.get(other);
      if (index > place && point?.raw.class === "hold") return [other];
    }
    return [];
  }
}

/**
 * Give the hash of every step's and point's definition, for later revisions.
 * @param {object} sheet @returns {Record<string, string>}
 */
export function partHashes(sheet) {
  return Object.fromEntries(Object.entries({ ...sheet.steps, ...sheet.points })
    .map(([name, part]) => [name, fingerprint(part)]));
}

/**
 * Make a sheet ready to fold. Throws `UnsoundSheet`, `UnknownWord`.
 * @param {object} sheet the frozen sheet
 * @param {Record<string, object>} tables table bodies by hash
 * @param {Record<string, Record<string, string>>} older for each earlier revision's
 *   hash its `partHashes`
 * @param {(hash: string) => Sheet|undefined} before gives the subject's other
 *   revisions, where they are here
 * @returns {Sheet}
 */
export function prepare(sheet, tables, older = {}, before = () => undefined) {
  checkKnown(sheet, tables);
  const bodies = new Map(Object.entries(sheet.tables).map(([name, key]) =>
    [name, tableOf(tables[key])]));
  const kernel = new Kernel(sheet, bodies);
  const flow = new Map(sheet.flow.map((name, place) => [name, place]));
  checkFlow(sheet, flow);
  const hashes = partHashes(sheet);
  const inFlow = [...flow.keys()];
  return new Sheet({
    raw: sheet,
    hash: fingerprint(sheet),
    subject: sheet.subject,
    amended: sheet.amended ?? 0,
    flow,
    steps: new Map(inFlow.filter((id) => Object.hasOwn(sheet.steps, id))
      .map((id) => [id, stepOf(kernel, sheet, id, hashes[id])])),
    points: new Map(inFlow.filter((id) => Object.hasOwn(sheet.points, id))
      .map((id) => [id, pointOf(kernel, sheet, id, hashes[id])])),
    milestones: new Map((sheet.milestones ?? []).map((each) =>
      [each.id, milestoneOf(kernel, sheet, each)])),
    clocks: new Map((sheet.clocks ?? []).map((each) => [each.id, each])),
    ratioTests: new Map((sheet.clocks ?? []).flatMap(({ ratios }) => ratios)
      .filter(({ when }) => when !== undefined)
      .map((each) => [each, kernel.condition(each.when)])),
    tables: bodies,
    values: new Map(Object.keys(sheet.values ?? {}).sort()
      .filter((name) => !kernel.asks.byLine(name))
      .map((name) => [name, kernel.value(name)])),
    older,
    before,
  });
}

function checkKnown(sheet, tables) {
  if (sheet.format !== 1 || sheet.rules !== RULES) {
    throw new UnsoundSheet(`sheet format or rules version not known: ${sheet.rules}`);
  }
  const missing = Object.entries(sheet.tables)
    .filter(([, key]) => !Object.hasOwn(tables, key)).map(([name]) => name);
  if (missing.length > 0) {
    throw new UnsoundSheet(`tables have not arrived: ${missing.sort().join(", ")}`);
  }
}

function checkFlow(sheet, flow) {
  const parts = new Set([...Object.keys(sheet.steps), ...Object.keys(sheet.points)]);
  const unknown = [...[...flow.keys()].filter((name) => !parts.has(name)),
    ...[...parts].filter((name) => !flow.has(name))];
  if (unknown.length > 0) {
    throw new UnsoundSheet(`flow and parts differ: ${unknown.sort().join(", ")}`);
  }
}

/**
 * A milestone: the step it is reached on, its test, the steps it is read from.
 * `reads` is undefined where the test asks more than lines; `needed`: of each of these
 * (step and lines, undefined for all) a line must be read before the test can hold.
 */
function milestoneOf(kernel, sheet, raw) {
  const when = kernel.condition(raw.when);
  const asked = kernel.asks.steps(raw.when);
  const known = asked?.size > 0
    && [...asked].every((step) => Object.hasOwn(sheet.steps, step));
  return {
    step: raw.step,
    when,
    needed: kernel.asks.needed(raw.when)
      .filter(({ step }) => Object.hasOwn(sheet.steps, step))
      .map((word) => [word.step, kernel.chosenLines(word)]),
    reads: known ? [...new Set([...asked, raw.step])].sort() : undefined,
  };
}

function stepOf(kernel, sheet, id, hash) {
  const raw = sheet.steps[id];
  const { lines = [], fields = [] } = raw;
  const checks = checksOf(kernel, raw);
  const gates = sheet.flow.filter((name) =>
    own(sheet.points, name)?.shuts?.includes(id) ?? false);
  const holds = raw.class === "gated" ? heldBefore(sheet.holds, id) : [];
  return {
    id,
    raw,
    gated: raw.class === "gated",
    raced: raw.class === "raced",
    series: raw.series ?? false,
    again: raw.again ?? false,
    takesOff: takenOff(sheet, raw),
    first: raw.first ?? false,
    lines: lines.map((line) => line.id),
    neededLines: lines.filter((line) => line.need).map((line) => line.id),
    knownLines: new Set(lines.length > 0 ? lines.map((line) => line.id) : [""]),
    neededFields: fields.filter((one) => one.need).map((one) => one.id),
    fields: new Map(fields.map((one) => [one.id, one])),
    least: raw.least === undefined ? undefined : kernel.value(raw.least),
    when: raw.when === undefined ? undefined : kernel.condition(raw.when),
    needs: raw.needs ?? [],
    checks,
    lineChecks: checks.filter((check) => check.scope === "line"),
    stepChecks: checks.filter((check) => check.scope === "step"),
    lineShows: showsOf(kernel, raw, "line"),
    stepShows: showsOf(kernel, raw, "step"),
    gates,
    // Whether each line check asks its line alone, and whether a gate may forbid it.
    onlyLines: fields.every((one) => !one.among) && (raw.checks ?? []).every((each) =>
      each.scope !== "line" || kernel.asks.onlyLine(each.must, id)),
    judged: gates.length > 0 || holds.length > 0
      || (raw.class === "gated" && raw.needs?.length > 0),
    items: fields.filter((one) => one.kind === "item")
      .map((one) => [one.id, one.items]),
    photos: raw.photos ?? 0,
    holds,
    hash,
  };
}

// The steps whose work a step takes off again before more is put on. A sheet from
// before this was amended asks it of every further attempt.
function takenOff({ amended = 0, steps }, { again, takes_off: named = [] }) {
  if (amended < 2 || !again) return [];
  return named.filter((name) => Object.hasOwn(steps, name));
}

function checksOf(kernel, raw) {
  return (raw.checks ?? []).map((each) => ({
    id: each.id,
    scope: each.scope,
    raises: each.raises,
    blocks: each.blocks ?? [],
    must: kernel.condition(each.must),
    begins: each.begins ?? [],
    settles: each.settles ?? [],
  }));
}

function showsOf(kernel, raw, scope) {
  return (raw.shows ?? []).filter((each) => each.scope === scope)
    .map((each) => [each.id, kernel.value(each.value)]);
}

function heldBefore(list, id) {
  return (list ?? []).filter((each) => each.before.includes(id));
}

function pointOf(kernel, sheet, id, hash) {
  const raw = sheet.points[id];
  return {
    id,
    raw,
    covers: raw.covers ?? [],
    shuts: raw.shuts ?? [],
    after: raw.after ?? [],
    requires: (raw.requires ?? []).map((each) =>
      ({ id: each.id, must: kernel.condition(each.must) })),
    releases: raw.releases ?? [],
    lapses: raw.lapses ?? [],
    independent: raw.independent ?? true,
    lifeMs: raw.life_ms,
    holds: heldBefore(sheet.holds, id),
    prerequisites: heldBefore(sheet.prerequisites, id),
    hash,
  };
}
