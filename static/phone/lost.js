// The step a STOP card leads to: its lines, each chosen by one tap and recorded by the
// next. Where the sheet draws bars, each shows its force, cap and headroom, and the
// face its mean and least, at once.

import { clockText } from "../device/clock.js";
import { discardable, discardKeys } from "./discarding.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { quantityText } from "./numbers.js";
import { button, h } from "./parts.js";
import { signOnce } from "./signing.js";
import { lineLabel } from "./speak.js";
import { countedText, stressText } from "./stress.js";
import { lineInHand } from "./undecided.js";
import { words } from "./later.js";

const text = words.lost;
/** What forces at the bars are drawn in. */
const FORCE = ["kN", 1];

/** What a card offers beside what to do. @param {{go:(route:string) => void,
 * asked:string, choose:(asked:string) => void}} view @returns {HTMLElement|null} */
export function onCard(open, card, view) {
  if (card.discards) return discardable(open, card, view);
  return card.step ? cardStep(open, card.step, view) : forcesNow(open);
}

// The lines of a card's step: what was in hand comes first.
function cardStep(open, step, view) {
  const { sheet, state } = open;
  if (!sheet.steps[step] || state.steps[step].status === "off") return null;
  const drawn = (sheet.pictures ?? []).find((one) => one.binding === "joint_stress");
  const bars = new Map((drawn?.bars ?? []).map((bar) => [bar.item, bar]));
  // It stays first once it is recorded: nothing moves from under a thumb.
  const inHand = view.first ??= lineInHand(open, step) ?? "";
  const lines = [...sheet.steps[step].lines ?? [{ id: "" }]].sort((a, b) =>
    Number(b.id === inHand) - Number(a.id === inHand));
  const isDrawn = lines.some((line) => bars.has(line.item));
  return h("div", { id: "card-step" }, h("h2", {}, sheet.steps[step].title),
    // In sight while a bar further down is tapped.
    isDrawn ? h("div.insight", {},
      ...statesNow(open, drawn, drawn.states),
      ...drawn.states.map((one) => mostFigures(open, drawn, one)),
      counted(sheet, drawn)) : null,
    h("div.choices", {}, ...lines.flatMap((line) =>
      lineKey(open, step, line, bars.get(line.item), view))));
}

// The force of every bar as it stands, or null before one has any.
function forcesNow(open) {
  const { sheet, state } = open;
  const drawn = (sheet.pictures ?? []).find((one) => one.binding === "joint_stress");
  const bars = drawn?.bars ?? [];
  if (!bars.some(({ force }) => state.values[force] > 0)) return null;
  return h("div", { id: "forces-now" }, ...statesNow(open, drawn, [drawn.states[0]]),
    counted(sheet, drawn),
    h("ul.times", {}, ...bars.map(({ item, force }) => h("li", {}, icon("target"),
      h("span", {}, barLabel(sheet, item)),
      h("b", {}, figure(state.values[force], FORCE))))));
}

function counted(sheet, drawn) {
  const said = countedText(sheet, drawn);
  return said ? h("p.hint", {}, said) : null;
}

// A bar's own name: a line of a round says the round as well.
function barLabel({ steps }, item) {
  return Object.values(steps).flatMap(({ lines }) => lines ?? [])
    .filter((line) => line.item === item).map(({ label }) => label)
    .sort((a, b) => a.length - b.length)[0] ?? item;
}

// What is not known says what it waits for, once.
function statesNow(open, drawn, states) {
  const { values } = open.state;
  const isKnown = ({ mean, least }) =>
    [mean, least].every((name) => values[name] !== undefined);
  const unknown = states.filter((one) => !isKnown(one)).map(({ title }) => title);
  return [...states.filter(isKnown).map(({ title, mean, least }) =>
    stressLine(open, drawn, { said: title, mean, least })),
  unknown.length ? h("p.figure", { "data-unknown": unknown.length },
    `${unknown.join(" \u00b7 ")}: ${text.unread}${unreadBars(open, drawn)}`) : null];
}

// Where some have theirs, which have not.
function unreadBars({ sheet, state: { values } }, { bars }) {
  const left = bars.filter(({ force }) => values[force] === undefined);
  return left.length && left.length < bars.length
    ? ` (${left.map(({ item }) => barLabel(sheet, item)).join(" \u00b7 ")})` : "";
}

// What the bars left could hold, each at its cap: says whether raising them is any use.
function mostFigures(open, drawn, { title, most }) {
  if (most === undefined || open.state.values[most] === undefined) return null;
  return stressLine(open, drawn,
    { said: `${text.most}, ${title}`, mean: drawn.most, least: most });
}

function stressLine({ sheet, state: { values } }, drawn, { said, mean, least }) {
  const { limits } = drawn;
  const low = values[mean] < limits.mean || values[least] < limits.least;
  const told = (name) => stressText(sheet, drawn, name, values[name]);
  return h(low ? "p.bad" : "p.figure", {}, low ? icon("warn") : null,
    `${said}: ${text.mean} ${told(mean)}, ${text.least} ${told(least)}`);
}

// What may be lost is chosen first: a thumb that scrolls the list records nothing. What
// was recorded can be taken back in the same place.
function lineKey(open, step, line, bar, view) {
  const { sheet, state, subject } = open;
  const found = state.steps[step].lines[line.id];
  const read = found?.status === "discarded" ? undefined : found;
  const simple = (sheet.steps[step].fields ?? []).length === 0;
  const { go } = view;
  const asked = view.asked !== `${step}/${line.id}` ? []
    : read ? discardKeys(open, step, line.id, words.reasons.discarded, view)
      : [recordKey(open, step, line.id, view)];
  return [button("choice", {
    mark: read ? "cross" : "choose", label: lineLabel(sheet, step, line.id),
    "data-line": line.id, "aria-pressed": read ? "true" : "false",
    note: [read ? text.recorded(clockText(read.at)) : "",
      bar ? forces(state.values[bar.force], bar.cap, read) : ""].filter(Boolean)
      .join(" \u00b7 "),
    onclick: () => {
      if (simple && model.shift && (read || line.item)) {
        view.choose(`${step}/${line.id}`);
      } else if (read) go(`/line/${subject}/${step}/${line.id || "-"}`);
      else if (!model.shift) go("/people");
      else if (simple) signOnce({ kind: "done", step, line: line.id }, model.shift);
      else go(`/form/${subject}/${step}/${line.id || "-"}`);
    },
  }), ...asked];
}

function recordKey({ sheet }, step, line, view) {
  return button("choice.stopreason", {
    mark: "cross", label: text.record(lineLabel(sheet, step, line)), id: "record-lost",
    onclick: () => {
      view.choose("");
      signOnce({ kind: "done", step, line }, model.shift);
    },
  });
}

// What is lost cannot be raised: it has no headroom.
function forces(force, cap, isLost) {
  if (isLost) return figure(force, FORCE);
  const head = force === undefined ? undefined : cap - force;
  return `${figure(force, FORCE)} \u00b7 ${text.cap} ${figure(cap, FORCE)} \u00b7 `
    + `${text.headroom} ${figure(head, FORCE)}`;
}

function figure(value, [unit, places]) {
  return value === undefined ? "\u2014" : quantityText(value, unit, places);
}
