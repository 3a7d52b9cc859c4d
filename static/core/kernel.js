// The kernel: fifteen words, and nothing else, say what a sheet computes and demands.
// Values: reading, constant, field, form, table, choose, reduce, slope, elapsed, life.
// Conditions: between, in, reached, all, any. Each expression is turned once into a
// function of (situation, line); values are exact ratios of BigInts, undefined when
// something is missing, `OUT` when a table does not reach that far. Conditions are
// true, false or undefined (not known yet). A word never changes its meaning.
// Longer than a script's budget on purpose (decision 46): a reviewer reads the closed
// list of words from end to end, beside its twin in Python.

import { Asks } from "./asks.js";
import { compare, OUT, ratio } from "./numbers.js";
import { mapOf, own } from "./own.js";

/** @typedef {import("./numbers.js").Ratio} Ratio */
/** @typedef {(at: object, line: string) => Ratio|undefined} Evaluate */
/** @typedef {(at: object, line: string) => boolean|undefined} Test */

const ONE = Object.freeze([1n, 1n]);

/** An expression the kernel cannot read; the message shows it. */
export class UnknownWord extends Error {
  constructor(message) {
    super(message);
    this.name = "UnknownWord";
  }
}

/** Turns the expressions of one sheet into functions, sharing the named ones. */
export class Kernel {
  /** @param {object} sheet @param {Map<string, object>} tables `tableOf` by name */
  constructor(sheet, tables) {
    Object.assign(this, { tables, amended: sheet.amended ?? 0 });
    this.asks = new Asks(sheet);
    this.lines = new Map(Object.entries(sheet.steps).map(([id, step]) =>
      [id, new Map((step.lines ?? []).map((line) => [line.id, line]))]));
    this.namedValues = mapOf(sheet.values);
    this.namedConditions = mapOf(sheet.conditions);
    this.shared = new Map();
  }

  /** Turn a VALUE into a function giving a ratio. @returns {Evaluate} */
  value(expression) {
    if (typeof expression === "number") {
      const fixed = [BigInt(expression), 1n];
      return () => fixed;
    }
    if (typeof expression === "string") {
      return this.named("v", expression, this.namedValues, (body) => this.value(body));
    }
    const make = VALUES.get(expression?.word);
    if (!make) throw new UnknownWord(`not a value: ${JSON.stringify(expression)}`);
    return make(this, expression);
  }

  /** Turn a CONDITION into a function giving true, false, undefined. @returns {Test} */
  condition(expression) {
    if (typeof expression === "string") {
      return this.named("c", expression, this.namedConditions,
        (body) => this.condition(body));
    }
    const make = CONDITIONS.get(expression?.word);
    if (!make) throw new UnknownWord(`not a condition: ${JSON.stringify(expression)}`);
    return make(this, expression);
  }

  named(sort, name, bodies, make) {
    const key = `${sort}:${name}`;
    if (!this.shared.has(key)) {
      if (!bodies.has(name)) {
        throw new UnknownWord(`no value or condition is named ${name}`);
      }
      this.shared.set(key, undefined);
      const byLine = this.asks.byLine(bodies.get(name));
      this.shared.set(key, remembered(key, make(bodies.get(name)), byLine));
    }
    const made = this.shared.get(key);
    if (!made) throw new UnknownWord(`${name} refers to itself`);
    return made;
  }

  /** Give the lines a fold over lines is limited to; undefined: every line. */
  chosenLines({ step, item, round }) {
    if (item === undefined && round === undefined) return undefined;
    return [...this.lines.get(step).values()]
      .filter((line) => (item ?? line.item) === line.item
        && (round ?? line.round) === line.round)
      .map((line) => line.id);
  }
}

/** Make a table's numbers exact: every list of numbers in it as BigInts. */
export function tableOf(body) {
  const exact = (part) =>
    (Array.isArray(part) ? part.map(exact) : BigInt(part));
  return Object.fromEntries(["x", "y", "v", "temps", "rates", "certified"]
    .filter((name) => Object.hasOwn(body, name))
    .map((name) => [name, exact(body[name])]));
}

/**
 * Read a table by a straight line between its nodes; OUT beyond them.
 * @param {bigint[]} xs rising @param {bigint[]} values @param {Ratio} x
 * @returns {Ratio}
 */
export function straight(xs, values, x) {
  const place = segment(xs, x);
  if (place === undefined) return OUT;
  const high = values[Math.min(place + 1, values.length - 1)];
  return betweenNodes(xs, place, x, [values[place], 1n], [high, 1n]);
}

/**
 * Give the exact least-squares slope of y on x; undefined below two distinct x.
 * @param {[Ratio, Ratio][]} pairs @returns {Ratio|undefined}
 */
export function leastSquaresSlope(pairs) {
  const count = [BigInt(pairs.length), 1n];
  const sumX = sum(pairs.map(([x]) => x));
  const sumY = sum(pairs.map(([, y]) => y));
  const sumXy = sum(pairs.map(([x, y]) => times(x, y)));
  const sumXx = sum(pairs.map(([x]) => times(x, x)));
  const top = minus(times(count, sumXy), times(sumX, sumY));
  const bottom = minus(times(count, sumXx), times(sumX, sumX));
  if (bottom[0] === 0n) return undefined;
  return ratio(top[0] * bottom[1], top[1] * bottom[0]);
}

function remembered(key, body, byLine) {
  return (at, line) => {
    const place = byLine ? `${key}|${line}` : key;
    if (at.memo.has(place)) return at.memo.get(place);
    const found = body(at, line);
    at.memo.set(place, found);
    return found;
  };
}

// Pick the line a reading means: named, the current one, or the step's own.
function lineIn(at, step, line, fixed) {
  if (fixed !== undefined) return fixed;
  const [prefix, here] = parted(line);
  return prefix === step ? here : at.lineOf(step);
}

function parted(line) {
  const cut = line.indexOf("/");
  return cut < 0 ? [line, ""] : [line.slice(0, cut), line.slice(cut + 1)];
}

function exact(found) {
  return typeof found === "number" ? [BigInt(found), 1n] : undefined;
}

function known(value) {
  return value !== undefined && value !== OUT;
}

function reading(kernel, { step, field, line: fixed }) {
  return (at, line) => {
    const place = lineIn(at, step, line, fixed);
    return place === undefined ? undefined : exact(at.reading(step, place, field));
  };
}

function constant(kernel, { name }) {
  return (at, line) => {
    const [step, here] = parted(line);
    return exact(own(kernel.lines.get(step)?.get(here)?.numbers, name));
  };
}

function field(kernel, { step, field: chosen, name, line: fixed }) {
  return (at, line) => {
    const place = lineIn(at, step, line, fixed);
    const item = place === undefined ? undefined : at.reading(step, place, chosen);
    return typeof item === "string" ? exact(at.itemNumber(item, name)) : undefined;
  };
}

function form(kernel, word) {
  const start = kernel.value(word.constant ?? 0);
  const terms = word.terms.map(([factor, body]) =>
    [kernel.value(factor), kernel.value(body)]);
  const divisor = BigInt(word.divisor ?? 1);
  return (at, line) => {
    const first = start(at, line);
    if (!known(first)) return first;
    let [top, bottom] = first;
    for (const [factor, body] of terms) {
      const value = body(at, line);
      if (!known(value)) return value;
      const scale = factor(at, line);
      if (scale === undefined) return undefined;
      if (value[1] === bottom) top += scale[0] * value[0];
      else {
        top = top * value[1] + scale[0] * value[0] * bottom;
        bottom *= value[1];
      }
    }
    return ratio(top, bottom * divisor);
  };
}

function table(kernel, word) {
  const body = kernel.tables.get(word.table);
  const across = kernel.value(word.x);
  const along = word.y === undefined ? undefined : kernel.value(word.y);
  return (at, line) => {
    const x = across(at, line);
    if (!known(x)) return x;
    if (!along) return straight(body.x, body.v, x);
    const y = along(at, line);
    return known(y) ? bilinear(body, x, y) : y;
  };
}

function bilinear(body, x, y) {
  const place = segment(body.x, x);
  if (place === undefined) return OUT;
  const low = straight(body.y, body.v[place], y);
  const high = straight(body.y, body.v[Math.min(place + 1, body.v.length - 1)], y);
  if (low === OUT || high === OUT) return OUT;
  return betweenNodes(body.x, place, x, low, high);
}

// The node at or below x, so that a node follows it; undefined beyond the ends.
function segment(xs, [top, bottom]) {
  const last = xs.length - 1;
  if (top < xs[0] * bottom || top > xs[last] * bottom) return undefined;
  let [low, high] = [0, last];
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (xs[middle] * bottom <= top) low = middle;
    else high = middle;
  }
  return low;
}

function betweenNodes(xs, place, x, low, high) {
  if (xs.length === 1) return low;
  const width = xs[place + 1] - xs[place];
  const part = x[0] - xs[place] * x[1];
  const top = low[0] * high[1] * (width * x[1] - part) + high[0] * low[1] * part;
  return ratio(top, low[1] * high[1] * width * x[1]);
}

function choose(kernel, word) {
  const by = kernel.value(word.by);
  const cases = new Map(word.cases.map(([key, body]) =>
    [BigInt(key), kernel.value(body)]));
  const otherwise = word.otherwise === undefined ? undefined
    : kernel.value(word.otherwise);
  return (at, line) => {
    const key = by(at, line);
    if (!known(key)) return key;
    const body = (key[1] === 1n ? cases.get(key[0]) : undefined) ?? otherwise;
    return body?.(at, line);
  };
}

function reduce(kernel, word) {
  const gather = word.values ? listed(kernel, word) : overLines(kernel, word);
  return (at, line) => {
    const found = gather(at, line);
    if (found === undefined) return undefined;
    return found.includes(OUT) ? OUT : REDUCERS.get(word.how)(found);
  };
}

function listed(kernel, word) {
  const bodies = word.values.map((body) => kernel.value(body));
  return (at, line) => {
    const found = bodies.map((body) => body(at, line));
    return found.includes(undefined) ? undefined : found;
  };
}

function overLines(kernel, word) {
  const { step } = word;
  const chosen = kernel.chosenLines(word);
  const body = word.value === undefined ? undefined : kernel.value(word.value);
  // What no reading can change is not asked: a later round stands whatever is said of
  // an earlier one. Sheets from before this was amended asked of all.
  const some = body && ["first", "last"].includes(word.how) && kernel.amended >= 2;
  return (at) => {
    const here = at.lineIds(step, chosen);
    const isDisputed = (each) => at.disputed(step, each);
    if (!some && here.some(isDisputed)) return undefined;
    if (!body) return here.map(() => ONE);
    const ask = (each) => body(at, `${step}/${each}`);
    const until = some ? isDisputed : () => false;
    if (word.how === "first") return firstKnown(here, ask, until);
    if (word.how === "last") return firstKnown(here.reverse(), ask, until);
    return here.map(ask).filter((value) => value !== undefined);
  };
}

function firstKnown(lines, ask, isDisputed) {
  for (const each of lines) {
    if (isDisputed(each)) return undefined;
    const value = ask(each);
    if (value !== undefined) return [value];
  }
  return [];
}

function extreme(side) {
  return (values) => {
    let best;
    for (const value of values) {
      if (best === undefined || compare(value, best) === side) best = value;
    }
    return best;
  };
}

function sum(values) {
  let [top, bottom] = [0n, 1n];
  for (const value of values) {
    if (value[1] === bottom) top += value[0];
    else {
      top = top * value[1] + value[0] * bottom;
      bottom *= value[1];
    }
  }
  return ratio(top, bottom);
}

const REDUCERS = new Map(Object.entries({
  first: (values) => values[0],
  last: (values) => values.at(-1),
  min: extreme(-1),
  max: extreme(1),
  sum,
  count: (values) => [BigInt(values.length), 1n],
}));

function slope(kernel, word) {
  const { step } = word;
  const chosen = kernel.chosenLines(word);
  const across = kernel.value(word.x);
  const up = kernel.value(word.y);
  return (at) => {
    const pairs = [];
    for (const each of at.lineIds(step, chosen)) {
      if (at.disputed(step, each)) return undefined;
      const x = across(at, `${step}/${each}`);
      const y = up(at, `${step}/${each}`);
      if (x === OUT || y === OUT) return OUT;
      if (x !== undefined && y !== undefined) pairs.push([x, y]);
    }
    return leastSquaresSlope(pairs);
  };
}

function times(left, right) {
  return [left[0] * right[0], left[1] * right[1]];
}

function minus(left, right) {
  return [left[0] * right[1] - right[0] * left[1], left[1] * right[1]];
}

function elapsed(kernel, word) {
  const useBy = word.as === "use_by";
  return (at) => exact(at.elapsedMs(word.from, word.to, useBy, word.typed_ms));
}

function life(kernel, { clock, to }) {
  return (at, line) => at.lifeUsed(clock, parted(line)[1], to);
}

function between(kernel, word) {
  const value = kernel.value(word.value);
  const bounds = [["low", -1], ["high", 1]]
    .filter(([name]) => word[name] !== undefined)
    .map(([name, side]) => [kernel.value(word[name]), side]);
  return (at, line) => {
    const found = value(at, line);
    if (found === undefined) return undefined;
    if (found === OUT) return false;
    for (const [bound, side] of bounds) {
      const limit = bound(at, line);
      if (limit === undefined) return undefined;
      if (limit === OUT || compare(found, limit) === side) return false;
    }
    return true;
  };
}

function isIn(kernel, word) {
  const value = kernel.value(word.value);
  const allowed = new Set(word.set.map(BigInt));
  return (at, line) => {
    const found = value(at, line);
    if (found === undefined) return undefined;
    return found[1] === 1n && allowed.has(found[0]);
  };
}

function reached(kernel, word) {
  const what = ["step", "point", "milestone"].find((key) => Object.hasOwn(word, key));
  if (!what) throw new UnknownWord(`reached what? ${JSON.stringify(word)}`);
  return (at) => at.reached(what, word[what], word.subject);
}

function all(kernel, word) {
  return joined(kernel, word, false);
}

function any(kernel, word) {
  return joined(kernel, word, true);
}

// One answer settles it; otherwise one unknown leaves it unknown.
function joined(kernel, word, settled) {
  const tests = word.of.map((body) => kernel.condition(body));
  return (at, line) => {
    let answer = !settled;
    for (const each of tests) {
      const found = each(at, line);
      if (found === settled) return settled;
      if (found === undefined) answer = undefined;
    }
    return answer;
  };
}

const VALUES = new Map(Object.entries({
  reading, constant, field, form, table, choose, reduce, slope, elapsed, life,
}));
const CONDITIONS = new Map(Object.entries({ between, in: isIn, reached, all, any }));

/** The fifteen words. */
export const WORDS = [...VALUES.keys(), ...CONDITIONS.keys()];
