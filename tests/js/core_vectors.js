/**
 * Calls of the vectors in JavaScript: JSON text in, canonical text out. The twin of
 * `tests/core/vector_calls.py`, in the same words.
 */

import { readFileSync } from "node:fs";

import { behind } from "../../static/core/ahead.js";
import {
  canonical, fingerprint, NotCanonical, readCanonical,
} from "../../static/core/canonical.js";
import { certified, itemsReliedOn } from "../../static/core/certificates.js";
import { chainFaults, forked } from "../../static/core/chain.js";
import { runLife } from "../../static/core/clocks.js";
import { heardOf } from "../../static/core/heard.js";
import { computedId, readingFaultId } from "../../static/core/dispositions.js";
import {
  addsPhoto, EntryError, entryOf, readEntry,
} from "../../static/core/entries.js";
import { holds, order } from "../../static/core/graph.js";
import {
  Kernel, leastSquaresSlope, straight, tableOf, UnknownWord,
} from "../../static/core/kernel.js";
import { needsPin, useKinds } from "../../static/core/kinds.js";
import { ceiling, compare, ratio, rounded } from "../../static/core/numbers.js";
import { own } from "../../static/core/own.js";
import { planRefusals, planSignatures } from "../../static/core/plan_signing.js";
import { refusal } from "../../static/core/refusals.js";
import { byItem, endOf, numbersOf, register } from "../../static/core/register.js";
import { certificateOf, takesOut } from "../../static/phone/register/taken_out.js";
import { revisionsOf } from "../../static/core/revisions.js";
import { findKey, roster } from "../../static/core/roster.js";
import { possible, readingRefusals } from "../../static/core/rules.js";
import { milestonesOf } from "../../static/core/scene.js";
import { sha256Hex } from "../../static/core/sha256.js";
import { partHashes, prepare, UnsoundSheet } from "../../static/core/sheet.js";
import { standingOf } from "../../static/core/standing.js";
import { allowed } from "../../static/core/view.js";
import { ledTo, witnessed } from "../../static/core/witness.js";
import { say, useWords } from "../../static/core/words.js";
import { MOMENTS } from "./core_moments.js";
import { SCENES } from "./core_scenes.js";
import { tell } from "./core_told.js";
import { BASES, COMMON, namesBy, plain, shownRatio } from "./core_words.js";

const data = (name) => JSON.parse(readFileSync(
  new URL(`../../fieldapp/core/${name}.json`, import.meta.url), "utf-8"));
useKinds(data("kinds"));
useWords(data("words"));

const SIGNATURE = { kind: "plan_signed", unlocked: "pin" };
const SHOWN = ["kind", "line", "values", "about", "photos", "needs", "after"];

/** Answer cases, each [function, input]. @returns {string[]} canonical texts */
export function answers(text, stories) {
  const told = JSON.parse(stories);
  return JSON.parse(text).map(([name, given]) => canonical(answer(name, given, told)));
}

/** @returns {string[]} the functions that can be called */
export function functions() {
  return [...Object.keys(PURE), ...Object.keys(SCENES)].sort();
}

function answer(name, given, stories) {
  try {
    const call = own(PURE, name);
    return { value: call ? call(given) : askStory(name, given, stories) };
  } catch (error) {
    if (error instanceof EntryError) return { refusal: `EntryError: ${error.where}` };
    for (const kind of [NotCanonical, UnknownWord, UnsoundSheet]) {
      if (error instanceof kind) return { refusal: kind.name };
    }
    throw error;
  }
}

function askStory(name, given, stories) {
  const told = tell(stories, given);
  return told.named(SCENES[name](told));
}

function ratioOf(text) {
  return text.split("/").map(BigInt);
}

class FakeSituation {
  constructor(given) {
    this.given = given;
    this.memo = new Map();
    this.steps = new Map(Object.entries(given.readings ?? {})
      .map(([step, lines]) => [step, new Map(lines)]));
  }

  reading(step, line, field) {
    if (this.disputed(step, line)) return undefined;
    return own(this.steps.get(step)?.get(line), field);
  }

  itemNumber(item, name) {
    return own(own(this.given.items, item)?.numbers, name);
  }

  lineIds(step, among) {
    const read = [...(this.steps.get(step)?.keys() ?? [])];
    return among ? among.filter((each) => read.includes(each)) : read;
  }

  disputed(step, line) {
    const disputed = this.given.disputed ?? [];
    return disputed.some((each) => each.join() === `${step},${line}`);
  }

  lineOf(step) {
    return this.lineIds(step).at(-1);
  }

  elapsedMs(start, end, useBy) {
    return this.given.elapsed?.[useBy ? "use_by" : "not_before"];
  }

  lifeUsed(clock, line) {
    const found = this.given.lives?.[`${clock}/${line}`];
    return found && ratioOf(found);
  }

  reached(what, name, subject) {
    const place = subject === undefined ? name : `${subject}/${name}`;
    return (this.given.reached ?? []).includes(`${what}:${place}`);
  }
}

function evaluated(given, make) {
  const { steps = {}, values = {}, conditions = {} } = given;
  const tables = new Map(Object.entries(given.tables ?? {})
    .map(([name, body]) => [name, tableOf(body)]));
  const evaluate = new Kernel({ steps, values, conditions }, tables)[make](
    given.expression);
  const at = new FakeSituation(given);
  for (const line of given.before ?? []) evaluate(at, line);
  return evaluate(at, given.line ?? "");
}

function shownEntry(given) {
  let { document } = given;
  if (document === undefined) {
    document = { ...COMMON, ...BASES[given.base], ...given.change };
    for (const name of given.drop ?? []) delete document[name];
  }
  const entry = entryOf(document, "0".repeat(64));
  return Object.fromEntries(SHOWN.map((name) => [name, entry[name]]));
}

function entriesOf({ entries }, missing = { kind: "registered", at: 1 }) {
  const plain = { after: [], values: {}, needs: [] };
  return entries.map((each) => ({ ...plain, ...missing, ...each }));
}

const oneOf = (given, known = new Map(entriesOf(given).map((each) =>
  [each.id, each]))) => [known.get(given.of), known];

function shownOrder(given) {
  const { entries, past, heads, missing } = order(entriesOf(given));
  return {
    order: entries.map((entry) => entry.id),
    past: past.map((mask) => [...entries.keys()].filter((place) => holds(mask, place))),
    heads,
    missing,
  };
}

function shownLife(given) {
  const knots = given.knots.map(([afterMs, temp]) => ({ afterMs, temp: BigInt(temp) }));
  const life = runLife(tableOf(given.table), knots, given.age_ms,
    given.spent_when_read);
  return {
    used: given.used_at.map((at) => shownRatio(life.used(at))),
    deadlines: given.deadlines.map((each) => life.deadlineMs(...each)),
    alarm: life.alarm,
    spent_ms: life.spentMs,
  };
}

function exact(numbers) {
  return numbers.map(BigInt);
}

const PURE = {
  "canonical.canonical": (g) => canonical(g.document),
  "canonical.fingerprint": (g) => fingerprint(g.document),
  "canonical.sha256_hex": (g) => sha256Hex(g.text),
  "canonical.read_canonical": (g) => readCanonical(g.text),
  "numbers.ratio": (g) => shownRatio(ratio(...ratioOf(g.of))),
  "numbers.compare": (g) => compare(ratioOf(g.left), ratioOf(g.right)),
  "numbers.rounded": (g) => plain(rounded(ratioOf(g.of))),
  "numbers.ceiling": (g) => String(ceiling(ratioOf(g.of))),
  "kinds.needs_pin": (g) => needsPin(g.kind),
  "words.say": (g) => say(g.code, g.facts),
  "entries.entry_of": shownEntry,
  "entries.adds_photo": addsPhoto,
  "entries.read_entry": (g) => readEntry(g.text).id,
  "graph.order": shownOrder,
  "chain.chain_faults": (g) => chainFaults(entriesOf(g)),
  "chain.forked": (g) => [...forked(entriesOf(g))].sort(),
  "roster.roster": (g) => roster(entriesOf(g), g.office),
  "roster.find_key": (g) => plain(findKey(g.people, g.person, g.key)),
  "witness.led_to": (g) => ledTo(new Map(Object.entries(g.bodies)), g.names),
  "witness.witnessed": (g) => witnessed(new Map(Object.entries(g.late)), g.earlier),
  "register.register": (g) => register(entriesOf(g)),
  "register.by_item": (g) => namesBy(byItem(entriesOf(g))),
  "register.certificate_of": (g) => plain(certificateOf(...oneOf(g))?.id),
  "register.end_of": (g) => plain(endOf(...oneOf(g))),
  "register.takes_out": takesOut,
  "register.numbers_of": (g) => numbersOf(g.values),
  "certificates.certified": (g) => certified(entriesOf(g)),
  "certificates.items_relied_on": (g) => itemsReliedOn(g.items, entriesOf(g)),
  "plan_signing.plan_signatures": (g) => Object.fromEntries(
    Object.entries(planSignatures(g.plan, entriesOf(g, SIGNATURE), g.people))
      .map(([part, entry]) => [part, entry.id])),
  "plan_signing.plan_refusals": (g) =>
    planRefusals(g.plan, entriesOf(g, SIGNATURE), g.people, g.person),
  "kernel.value": (g) => shownRatio(evaluated(g, "value")),
  "kernel.condition": (g) => evaluated(g, "condition") ?? "unknown",
  "kernel.straight": (g) =>
    shownRatio(straight(exact(g.xs), exact(g.values), ratioOf(g.x))),
  "kernel.least_squares_slope": (g) =>
    shownRatio(leastSquaresSlope(g.pairs.map((pair) => pair.map(ratioOf)))),
  "clocks.run_life": shownLife,
  "heard.heard_of": (g) => heardOf(g.entries, g.mine),
  ...MOMENTS,
  "sheet.part_hashes": (g) => partHashes(g.sheet),
  "sheet.prepare": (g) => prepare(g.sheet, g.tables).hash,
  "revisions.revisions_of": (g) => {
    const keys = g.sheets.map((each) => fingerprint(each));
    const known = Object.fromEntries(keys.map((key, place) => [key, g.sheets[place]]));
    const found = revisionsOf(known, g.tables)(keys[g.ask]);
    return found ? keys.map((key) =>
      [found.counts(key, g.part), found.before(key) !== undefined]) : "not here";
  },
  "ahead.behind": (g) => plain(behind(g.since, g.events, g.here)),
  "dispositions.computed_id": (g) => computedId(...g.parts),
  "dispositions.reading_fault_id": (g) => readingFaultId(g.check, g.entry),
  "refusals.refusal": (g) => refusal(g.code, g.facts),
  "rules.possible": (g) => possible(g.field, g.value),
  "rules.reading_refusals": (g) => readingRefusals(g.step, g.values),
  "scene.milestones_of": (g) => milestonesOf(g.standing, g.subject),
  "standing.standing_of": (g) => standingOf(g.state, g.as_of),
  "view.allowed": (g) => allowed(g.standing, g.person, g.wanted),
};
