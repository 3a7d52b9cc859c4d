// The fold at work on one subject: scenes by set of entries, and what is reached.

import { forbidden, passed, standingReleases } from "./gates.js";
import { readHistory } from "./history.js";
import { lifeUsed } from "./lives.js";
import { byRoot, Scene } from "./scene.js";
import { stepState } from "./steps.js";
import { View } from "./view.js";

const FREE = Object.freeze([]);

/** One subject's entries under one sheet, with the answers found so far. */
export class Folding {
  constructor(sheet, history, standing, revisions = new Map()) {
    this.revisions = revisions;
    this.sheet = sheet;
    this.history = history;
    this.standing = standing;
    this.births = new Map();
    this.acts = new Map();
    this.pasts = new Map();
    this.lines = new Map();
    this.plain = new Map();
    this.quiet = new Set();
    this.upsetting = new Map();
    this.runs = new Map();
    this.firsts = new Map();
  }

  /** Give the scene of a set of entries at a moment. */
  scene(mask, at) {
    return new Scene(this.view(mask), at, this);
  }

  /** Give the scene of an entry's own past at its moment, made once. */
  past(place) {
    if (!this.pasts.has(place)) {
      const { graph, moments } = this.history;
      this.pasts.set(place, this.scene(graph.past[place], moments[place]));
    }
    return this.pasts.get(place);
  }

  /** Give a view of a set of entries. */
  view(mask) {
    return new View(this.sheet, this.history, mask, this.standing, this.lines);
  }

  /**
   * Give the scene as it would be with only the first `count` attempts. Its time ended
   * with the disposition that opened the next: no clock of an attempt that is over runs
   * on. Sheets from before this was amended see it now.
   */
  earlier(scene, count) {
    const chain = scene.view.attempts();
    const view = this.view(scene.view.mask);
    view.onlyAttempts(chain.slice(0, count));
    const { graph, moments } = this.history;
    const next = this.sheet.amended && chain[count];
    return new Scene(view, next ? moments[graph.index.get(next[0])] : scene.at, this);
  }

  /**
   * Give the fold under the sheet that an entry names, which judges it. Work done
   * through a gate stays done, though a later revision reopens what the gate rested
   * on. Sheets from before this was amended judge every act themselves.
   */
  under(place) {
    const { revisions, sheet, history, standing } = this;
    const key = history.entry(place).sheet;
    const other = key !== sheet.hash && sheet.amended && sheet.before(key);
    if (!other) return this;
    if (!revisions.has(key)) {
      const read = readHistory(other, history.graph.entries);
      revisions.set(key, new Folding(other, read, standing, revisions));
    }
    return revisions.get(key);
  }

  /** Say whether a step is done (or off), a point passed, a milestone met. */
  reached(scene, what, name) {
    if (what === "step") {
      const step = this.sheet.steps.get(name);
      return step !== undefined
        && ["done", "off"].includes(stepState(scene, step).status);
    }
    if (what === "point") {
      const point = this.sheet.points.get(name);
      return point !== undefined && passed(scene, point);
    }
    return this.milestone(scene, name) !== undefined;
  }

  /**
   * Give the first reading, in order, after which a milestone's test held. What came
   * later, a bar that broke say, does not undo it; a correction does.
   */
  milestone(scene, name) {
    if (scene.pending.includes(name)) return undefined;
    return scene.once(`milestone|${name}`, undefined, () =>
      this.firstOf(scene, name));
  }

  /** Give the newest release that stands for a point. */
  releasedAt(scene, name) {
    const standing = standingReleases(scene, this.sheet.points.get(name))
      .filter((place) => place !== undefined);
    return standing.length > 0 ? Math.max(...standing) : undefined;
  }

  /** Give the share of a clock's life used at a reference. */
  lifeUsed(scene, clock, line, end) {
    return lifeUsed(scene, this.sheet.clocks.get(clock), line, end);
  }

  /** Give why a gate forbade the act at a place when it was made. */
  forbidden(step, place) {
    const judged = step.judged || this.history.conditioned.has(step.id);
    if (!judged && this.history.entry(place).kind !== "anyway") return FREE;
    return this.acts.get(place) ?? forbidden(this.past(place), step, place);
  }

  // A milestone's first reading, found once for all scenes with the same lines.
  firstOf(scene, name) {
    const milestone = this.sheet.milestones.get(name);
    if (!milestone) return undefined;
    if (!milestone.reads || scene.changed) return firstReading(scene, name, milestone);
    const sources = milestone.reads.map((step) => scene.view.source(step));
    const key = [name, ...sources].join("|");
    if (!this.firsts.has(key)) {
      this.firsts.set(key, firstReading(scene, name, milestone));
    }
    return this.firsts.get(key);
  }
}

function firstReading(scene, name, milestone) {
  const from = soonest(scene, milestone);
  if (from === undefined) return undefined;
  return byRoot(scene.lines(milestone.step)).map((line) => line.root).find((root) =>
    root >= from && milestone.when(scene.upTo(root, name), "") === true);
}

// The place before which a milestone's test cannot hold; undefined: nowhere yet.
function soonest(scene, milestone) {
  let found = 0;
  for (const [step, chosen] of milestone.needed) {
    const lines = scene.lines(step);
    const roots = scene.lineIds(step, chosen).map((id) => lines.get(id).root);
    if (roots.length === 0) return undefined;
    found = Math.max(found, Math.min(...roots));
  }
  return found;
}
