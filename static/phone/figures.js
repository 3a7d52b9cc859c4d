// Figures between the ends they must keep, as whoever signs reads them: what several
// have in common is told once.

import { shownEnds, worth } from "./limits.js";
import { computedText } from "./numbers.js";
import { h } from "./parts.js";

/** Fewer words name no place. */
const PLACE_WORDS = 2;
const [SPACE, DOT, SPAN] = ["\u00a0", " \u00b7 ", "\u2026"];

/** What a point demands of figures that no step shows, each beside its limit.
 * @param {object[]} requires @returns {HTMLElement[]} */
export function demandedFigures(open, requires) {
  return figureLines(requires.map(({ must, show }) => ({
    label: show.label, unit: show.unit, ends: shownEnds(open, "", "", show, [must]),
    figures: computedText(Math.round(worth(open, show.value, "")),
      { ...show, unit: "" }),
  })));
}

// "Coldest point, new face" and "Coldest point, old face" say once what is the same.
export function figureLines(facts) {
  const groups = new Map();
  for (const fact of facts) {
    const { same, own } = partsOf(fact, facts);
    const key = `${same || fact.label} ${fact.unit}`;
    if (!groups.has(key)) groups.set(key, { same, unit: fact.unit, facts: [] });
    groups.get(key).facts.push({ ...fact, own });
  }
  return [...groups.values()].map(({ same, unit, facts: all }) => {
    const one = shared(all.map(({ ends }) => ends));
    const told = all.map((fact) => [
      ...(fact.parts ? inParts(fact)
        : bounded(all.length > 1 && hasEnd(one) ? {} : fact.ends,
          [`${fact.own} `, h("b", {}, fact.figures)])),
      fact.note && !hasEnd(fact.ends) ? ` (${fact.note})` : ""]);
    const parts = told.flatMap((each, place) => (place ? [DOT, ...each] : each));
    return h("p.fact", {}, same ? `${same}: ` : "",
      ...(all.length > 1 ? bounded(one, parts) : parts),
      unit ? `${SPACE}${unit}` : "");
  });
}

function inParts({ own, parts }) {
  return [`${own} `, ...parts.flatMap(({ ends, figures }, place) =>
    [place ? DOT : "", ...bounded(ends, [h("b", {}, figures)])])];
}

function partsOf({ label, unit }, facts) {
  const [head, tail, more] = label.split(", ");
  const alike = (place, word) => facts.filter((one) => one.unit === unit
    && one.label.split(", ").length === 2
    && one.label.split(", ")[place] === word).length > 1;
  if (more) return { same: "", own: label };
  if (!tail) return partsOfWords(label, unit, facts);
  if (alike(0, head)) return { same: head, own: tail };
  return alike(1, tail) ? { same: upper(tail), own: inside(head, tail) }
    : { same: "", own: label };
}

// "Mean on the face" and "Least on the face" are of the same place.
function partsOfWords(label, unit, facts) {
  const [first, ...rest] = label.split(" ");
  const place = rest.join(" ");
  const alike = facts.filter((one) => one.unit === unit
    && one.label.split(" ").slice(1).join(" ") === place);
  return rest.length >= PLACE_WORDS && alike.length > 1
    ? { same: upper(place), own: inside(first, place) } : { same: "", own: label };
}

// Where words are written large inside a label, as nouns are in German, its beginning
// may be one.
function inside(begin, rest) {
  return /(^|\s)\p{Lu}\p{Ll}/u.test(`${begin.slice(1)} ${rest}`) ? begin
    : begin[0].toLowerCase() + begin.slice(1);
}

function upper(word) {
  return word[0].toUpperCase() + word.slice(1);
}

function hasEnd({ low, high }) {
  return low !== undefined || high !== undefined;
}

function bounded({ low, high }, parts) {
  if (low === undefined && high === undefined) return parts;
  return [...parts, SPACE, low === undefined ? `\u2264${SPACE}${high}`
    : high === undefined ? `\u2265${SPACE}${low}`
      : low === `\u2212${high}` ? `(\u00b1${high})` : `(${low}${SPAN}${high})`];
}

/** The ends that all keep: lines with limits of their own, as rounds have, name none
 * together. */
export function shared(ends) {
  const told = new Set(ends.map(({ low, high }) => `${low} ${high}`));
  return told.size === 1 ? ends[0] : {};
}
