// What holds at a step, seen from a set of entries: the readings that stand. A view is
// a mask over the history: everything (the present) or one entry's own past (what its
// author had seen). Concurrent contradictions stay disputed until an entry that has
// seen both; a batch discarded no longer counts; corrections overlay.

import { attemptChain, isOn } from "./attempts.js";
import { momentOf } from "./clocks.js";
import { holds, shared } from "./graph.js";
import { VERDICTS } from "./kinds.js";
import { addTo, own, sameValues } from "./own.js";
import { statedAt } from "./slips.js";

/**
 * One line of a step as read: `root` is the reading, `current` what stands now; `plain`
 * was read once, never corrected or discarded.
 * @typedef {{id:string, root:number, current:number, values:object, disputed:boolean,
 *   discarded:boolean, asserted:number[], plain:boolean}} Line
 */

/**
 * A set of entries of one subject, and the lines that stand in it. Views that have the
 * same of what bears on a step share its lines, in `known`.
 */
export class View {
  constructor(sheet, history, mask, standing, known = new Map()) {
    this.sheet = sheet;
    this.history = history;
    this.mask = mask;
    this.standing = standing;
    this.known = known;
    this.current = new Map();
    this.chain = undefined;
  }

  /** Keep the places that are in this view, in order. */
  among(places) {
    return places ? places.filter((place) => holds(this.mask, place)) : [];
  }

  /** Give the attempts up to the current one: [attempt id, where it starts]. */
  attempts() {
    this.chain ??= attemptChain(this, reworks(this));
    return this.chain;
  }

  /** Look at an earlier attempt: leave the later ones out of this view. */
  onlyAttempts(chain) {
    this.chain = chain;
  }

  /** Give the attempt whose entries count for a step or point here. */
  // A step that takes off what was put on counts from the last attempt that began with
  // something on: what is off already is not taken off again.
  attemptOf(name) {
    const chain = this.attempts();
    if (chain.length === 1) return undefined;
    const place = this.sheet.flow.get(name);
    const step = this.sheet.steps.get(name);
    return chain.findLast(([, start], count) => place >= start && (count === 0
      || !step?.takesOff.length || isOn(this, step, chain.slice(0, count))))?.[0];
  }

  /** Give the lines of a step that have a reading, in the order of the sheet. */
  lines(step) {
    if (!this.current.has(step)) {
      this.current.set(step, this.linesIn(step, this.attemptOf(step)));
    }
    return this.current.get(step);
  }

  /** Give the lines of a step as read in a given attempt. @returns {Map} by line id */
  linesIn(step, attempt) {
    const key = this.sourceIn(step, attempt);
    if (!this.known.has(key)) this.known.set(key, readLines(this, step, attempt));
    return this.known.get(key);
  }

  /** Say whether any line of a step was read in a given attempt. */
  hasLines(step, attempt) {
    const { history, mask } = this;
    return (history.readings.get(step) ?? []).some((place) =>
      holds(mask, place) && history.entry(place).attempt === attempt);
  }

  /** Give what the current lines of a step are read from; same, same lines. */
  source(step) {
    return this.sourceIn(step, this.attemptOf(step));
  }

  sourceIn(step, attempt = "") {
    const bearing = this.history.bearing.get(step);
    return `${step}/${attempt}/${bearing ? shared(this.mask, bearing) : ""}`;
  }

  /** Give a line as one of its earlier readings or corrections stated it. */
  lineAt(line, place) {
    // Sheets from before this was amended judged it as done when it was done last.
    const at = this.sheet.amended >= 2 ? place : line.root;
    return { ...line, root: this.history.rootOf.get(at) ?? at, current: place,
      values: assertedValues(this.history, place), disputed: false, plain: false };
  }

  /** Give the entries that discard the batch a reading began, in order. */
  discardsOf(step, root) {
    const { history } = this;
    const { line, attempt } = history.entry(root);
    return this.among(history.discards.get(`${step}/${line}`))
      .filter((place) => history.entry(place).attempt === attempt);
  }

  /** Give what was read of a field and stands, by who did not know of an entry. */
  named(step, field, place) {
    const { history } = this;
    return this.among(history.readings.get(step))
      .filter((root) => !history.saw(root, place)
        && !this.discardsOf(step, root).some((one) => history.saw(one, root)))
      .map((root) => [root, ...this.among(history.corrections.get(root))].at(-1))
      .flatMap((last) => own(assertedValues(history, last), field) ?? []);
  }

  /** Give when a line was done; only a slip is mended to a later time. */
  moment(line) {
    const { history } = this;
    const was = history.moments[line.root];
    if (line.plain || line.asserted.length === 1) return was;
    const root = history.entry(line.root);
    const at = statedAt(history, line, this.sheet.amended >= 2);
    return at === root.at ? was
      : { ...momentOf(root, at, was.unknown), between: was.between };
  }
}

/** Say whether a person has one of the wanted roles (of a wanted organisation). */
export function allowed(standing, person, wanted) {
  const known = own(standing.people, person);
  if (!known) return false;
  return wanted.some(({ role, organisation = known.organisation }) =>
    known.roles.includes(role) && [organisation].flat().includes(known.organisation));
}

/** Say whether a disposition is by the right role and organisation, by PIN. */
export function mayDispose(view, place) {
  const entry = view.history.entry(place);
  const wanted = view.sheet.raw.dispose ?? [];
  return entry.unlocked === "pin" && allowed(view.standing, entry.person, wanted);
}

/** Say whether a disposition decides anything: by right, and rework from a step. */
export function decides(view, place) {
  // Sheets from before this was amended took rework from nowhere as decided.
  const any = view.sheet.amended < 2
    || view.history.entry(place).about.verdict !== "rework";
  return any ? mayDispose(view, place) : redoes(view, place);
}

/** Of dispositions none of which saw another, give the strictest (then least id). */
export function strictest(view, places) {
  const entryOf = (place) => view.history.entry(place);
  const rank = (place) => VERDICTS.indexOf(entryOf(place).about.verdict);
  return view.history.unseen(places).reduce((best, place) => {
    const stricter = rank(place) - rank(best);
    const less = stricter === 0 && entryOf(place).id < entryOf(best).id;
    return stricter > 0 || less ? place : best;
  });
}

function readLines(view, stepId, attempt) {
  const { history } = view;
  const step = view.sheet.steps.get(stepId);
  const roots = new Map();
  for (const place of view.among(history.readings.get(stepId))) {
    const entry = history.entry(place);
    if (entry.attempt === attempt) {
      addTo(roots, step.series ? entry.id : entry.line, place);
    }
  }
  const planned = step.lines.filter((name) => roots.has(name));
  const names = step.lines.length > 0 ? planned : [...roots.keys()];
  return new Map(names.map((name) =>
    [name, readLine(view, stepId, name, roots.get(name))]));
}

function readLine(view, stepId, name, roots) {
  const { history } = view;
  const plain = roots.length === 1 && history.discards.size === 0;
  if (plain && !history.corrections.has(roots[0])) {
    return plainLine(history, name, roots[0]);
  }
  const discards = view.discardsOf(stepId, roots[0]);
  // Older sheets left it so for good; and no later reading starts a clock later.
  const anew = view.sheet.amended >= 2 ? history.seeing(roots, discards) : [];
  const read = anew.length > 0 ? anew : roots;
  const asserted = [...read, ...read.flatMap((root) =>
    view.among(history.corrections.get(root)))].sort((one, other) => one - other);
  const standing = history.unseen(asserted.filter((place) =>
    !history.added.has(place) && !stale(history, place, read)));
  const values = standing.map((place) => assertedValues(history, place));
  const discarded = anew.length === 0 && discards.length > 0;
  const isStart = [...view.sheet.clocks.values()].some(({ start }) => start === stepId);
  const root = isStart && !discarded && view.sheet.amended >= 2 ? roots[0]
    : history.rootOf.get(standing[0]) ?? standing[0];
  return {
    id: name,
    root,
    current: standing[0],
    values: values[0],
    disputed: values.some((other) => !sameValues(other, values[0])),
    discarded,
    asserted,
    plain: false,
  };
}

function plainLine(history, name, root) {
  const { values } = history.entry(root);
  const asserted = [root];
  const [disputed, discarded, plain] = [false, false, true];
  const current = root;
  return { id: name, root, current, values, disputed, discarded, asserted, plain };
}

// Whether a correction names a reading already retaken when it was made.
function stale(history, place, roots) {
  const root = history.rootOf.get(place);
  return root !== undefined && roots.some((other) =>
    other !== root && history.saw(place, other) && history.saw(other, root));
}

// The values a reading or correction asserts, earlier ones overlaid.
function assertedValues(history, place) {
  const root = history.rootOf.get(place);
  if (root === undefined) return history.entry(place).values;
  const overlaid = history.corrections.get(root)
    .filter((other) => other === place || history.saw(place, other));
  return Object.assign({}, history.entry(root).values,
    ...overlaid.map((other) => history.entry(other).values));
}

// The dispositions that order rework and may do so.
function reworks(view) {
  return view.among(view.history.byKind.get("disposition"))
    .filter((place) => redoes(view, place));
}

/** Say whether a disposition orders rework from a step, by right. */
export function redoes(view, place) {
  const { about } = view.history.entry(place);
  return about.verdict === "rework" && view.sheet.steps.has(about.from)
    && mayDispose(view, place);
}
