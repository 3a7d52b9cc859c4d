// A view at a moment: what the kernel asks of, and what the rules are judged in. One
// scene is one set of entries seen at one moment: the present, or an entry's own past
// at the time it was made. Answers are remembered, so each is worked out once.

import { elapsedMs } from "./clocks.js";
import { own } from "./own.js";

/** A view at a moment, with its memory; the kernel calls it a situation. */
export class Scene {
  constructor(view, at, folding, { overlay = new Map(), pending = [], until } = {}) {
    this.view = view;
    this.at = at;
    this.case = folding;
    this.overlay = overlay;
    this.pending = pending;
    this.until = until;
    this.memo = new Map();
    this.read = new Map();
  }

  /** Say whether the lines are others than the view's own. */
  get changed() {
    return this.overlay.size > 0 || this.until !== undefined;
  }

  /** Work an answer out once; while it is being worked out, `meanwhile` stands. */
  once(key, meanwhile, work) {
    if (!this.memo.has(key)) {
      this.memo.set(key, meanwhile);
      this.memo.set(key, work());
    }
    return this.memo.get(key);
  }

  /** Give the lines of a step with a reading, discarded ones too. @returns {Map} */
  lines(step) {
    let found = this.read.get(step);
    if (found) return found;
    found = this.overlay.get(step) ?? this.view.lines(step);
    if (this.until !== undefined) {
      found = new Map([...found].filter(([, line]) => line.root <= this.until));
    }
    this.read.set(step, found);
    return found;
  }

  /** Give the same scene with other lines on one step. */
  withLines(step, lines) {
    return this.alike({ overlay: new Map(this.overlay).set(step, lines) });
  }

  /**
   * Give the same scene with only what was first read up to a place; `milestone`, the
   * one being worked out, it takes as not reached.
   */
  upTo(place, milestone) {
    return this.alike({ until: place, pending: [...this.pending, milestone] });
  }

  /** Give the reading that stands; undefined where missing, disputed, discarded. */
  reading(step, line, field) {
    const found = this.lines(step).get(line);
    if (!found || found.disputed || found.discarded) return undefined;
    return own(found.values, field);
  }

  /** Give a number of an item's certificate: the register's, else the sheet's. */
  itemNumber(item, name) {
    const known = own(this.view.standing.items, item)
      ?? own(this.view.sheet.raw.items, item);
    return own(known?.numbers, name);
  }

  /** Give the lines read, in order, less discarded ones; only those among. */
  lineIds(step, among) {
    const lines = this.lines(step);
    const found = [];
    for (const name of among ?? lines.keys()) {
      if (lines.get(name)?.discarded === false) found.push(name);
    }
    return found;
  }

  /** Say whether a line's readings contradict each other unresolved. */
  disputed(step, line) {
    return this.lines(step).get(line).disputed;
  }

  /** Give the line that stands for a step: its only one, or the last read. */
  lineOf(step) {
    return this.lineIds(step).at(-1);
  }

  /**
   * Give the time between two references, ms; undefined until both have happened.
   * @param {number} [typedMs] added where one of two lines has a time that was typed
   */
  elapsedMs(start, end, useBy, typedMs = 0) {
    const first = this.moment(start);
    const last = this.moment(end);
    if (!first || !last) return undefined;
    const typed = typedMs && (this.typed(start) || this.typed(end));
    return elapsedMs(first, last, useBy) + (typed ? typedMs : 0);
  }

  /** Give the moment a reference means: now, a step, a point, a milestone. */
  moment(ref) {
    if (ref === "now") return this.at;
    if (Object.hasOwn(ref, "step")) return this.stepMoment(ref);
    const place = Object.hasOwn(ref, "point")
      ? this.case.releasedAt(this, ref.point)
      : this.case.milestone(this, ref.milestone);
    return this.view.history.moments[place];
  }

  /** Give the share of a clock's life used at a reference. */
  lifeUsed(clock, line, end) {
    return this.case.lifeUsed(this, clock, line, end);
  }

  /** Say whether something is reached here, or by another subject's standing. */
  reached(what, name, subject) {
    if (subject !== undefined) {
      return own(milestonesOf(this.view.standing, subject), name) !== undefined;
    }
    return this.case.reached(this, what, name);
  }

  alike(changes) {
    const { overlay, pending, until } = this;
    const all = { overlay, pending, until, ...changes };
    return new Scene(this.view, this.at, this.case, all);
  }

  stepMoment(ref) {
    const found = this.lineMeant(ref);
    return found && this.view.moment(found);
  }

  // Whether a line's time was typed, first or by a correction, not taken.
  typed(ref) {
    const { view } = this;
    const found = ref.step === undefined ? undefined : this.lineMeant(ref);
    return found !== undefined
      && (view.history.entry(found.root).at_by === "typed"
        || view.moment(found).at < view.history.moments[found.root].at);
  }

  // What was discarded has not happened, save for sheets from before this was amended.
  lineMeant({ step, line, pick = "last" }) {
    const ordered = byRoot(this.lines(step)).filter((each) =>
      !(each.discarded && this.view.sheet.amended >= 2)
      && (line === undefined || each.id === line));
    return pick === "first" ? ordered[0] : ordered.at(-1);
  }
}

/** Give lines in the order of their readings. @param {Map<string, object>} lines */
export function byRoot(lines) {
  return [...lines.values()].sort((one, other) => one.root - other.root);
}

/** Give what is known of another subject: milestone to entry id. */
export function milestonesOf(standing, subject) {
  return own(standing.subjects, subject)?.milestones ?? {};
}
