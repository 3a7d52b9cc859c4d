// What an expression asks of the world, told from its words alone. Answers may then be
// shared: an expression that asks no more than one line says the same wherever that
// line is the same. When in doubt it is said to ask more.

import { mapOf, own } from "./own.js";

const INNER = [
  "constant", "terms", "x", "y", "by", "cases", "otherwise",
  "values", "value", "low", "high", "of",
];
const ON_A_LINE = ["reading", "field", "constant", "life"];
const BEYOND_LINES = ["elapsed", "life", "reached"];

// What must be known before a word can be, or in a condition be true.
const NEEDED = mapOf({
  form: ["constant", "terms"],
  table: ["x", "y"],
  choose: ["by"],
  reduce: ["values"],
  between: ["value", "low", "high"],
  in: ["value"],
  all: ["of"],
});

/** Reads the expressions of one sheet, the named ones too, without asking them. */
export class Asks {
  /** @param {object} sheet */
  constructor(sheet) {
    this.named = [mapOf(sheet.values), mapOf(sheet.conditions)];
    this.known = new Map();
  }

  /** Say whether an expression means another thing on each line. */
  byLine(body) {
    if (typeof body !== "string") return this.asksByLine(body);
    if (!this.known.has(body)) {
      // A name within itself adds nothing; the kernel refuses such a sheet.
      this.known.set(body, false);
      this.known.set(body,
        this.named.some((bodies) => this.asksByLine(bodies.get(body))));
    }
    return this.known.get(body);
  }

  asksByLine(body) {
    if (typeof body === "string") return this.byLine(body);
    if (Array.isArray(body)) return body.some((inner) => this.asksByLine(inner));
    if (!isWord(body)) return false;
    if (ON_A_LINE.includes(body.word) && !Object.hasOwn(body, "line")) return true;
    return !overLines(body) && inner(body).some((each) => this.asksByLine(each));
  }

  /** Say whether an expression, on a line of a step, asks that line alone. */
  onlyLine(body, step) {
    return [...this.words(body)].every((word) => (own(word, "step") ?? step) === step
      && !Object.hasOwn(word, "line") && !BEYOND_LINES.includes(word.word)
      && !overLines(word));
  }

  /** Give the steps whose lines an expression asks; undefined if it asks more. */
  steps(body) {
    const words = [...this.words(body)];
    if (words.some(({ word }) => BEYOND_LINES.includes(word))) return undefined;
    return new Set(words.map((word) => own(word, "step"))
      .filter((step) => step !== undefined));
  }

  /**
   * Give the folds over lines that must find a line before a test can be true.
   * @param {any} body a CONDITION the kernel could read (so no name refers to itself)
   */
  needed(body) {
    return [...this.neededBy(body, this.named[1])];
  }

  * neededBy(body, named) {
    if (typeof body === "string") yield* this.neededBy(named.get(body), named);
    else if (Array.isArray(body)) {
      for (const each of body) yield* this.neededBy(each, named);
    } else if (isWord(body) && overLines(body) && !Object.hasOwn(body, "values")) {
      if (!["sum", "count"].includes(body.how)) yield body;
    } else if (isWord(body)) {
      const within = body.word === "all" ? named : this.named[0];
      for (const key of NEEDED.get(body.word) ?? []) {
        yield* this.neededBy(own(body, key), within);
      }
    }
  }

  // Every word of an expression; what a name stands for, once.
  * words(body, seen = new Set()) {
    let found = [];
    if (typeof body === "string" && !seen.has(body)) {
      found = this.named.map((bodies) => bodies.get(body));
      seen.add(body);
    } else if (Array.isArray(body)) found = body;
    else if (isWord(body)) {
      yield body;
      found = inner(body);
    }
    for (const each of found) yield* this.words(each, seen);
  }
}

function isWord(body) {
  return body !== null && typeof body === "object" && !Array.isArray(body);
}

function inner(word) {
  return INNER.filter((key) => Object.hasOwn(word, key)).map((key) => word[key]);
}

function overLines(word) {
  return word.word === "slope"
    || (word.word === "reduce" && Object.hasOwn(word, "step"));
}
