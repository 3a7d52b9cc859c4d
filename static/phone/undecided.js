// A STOP, made safe, of which somebody decides before the race may lead again, though
// its release stands: one that ends a release still to come, as a broken bar does, or
// one whose card has something thrown away, as a wrong kit, while nothing was. The race
// stays in reach beside it: an open time waits for nobody.

import { currentOf, raceBegan } from "./column.js";
import { askedAt } from "./copying.js";
import { callsOff, stopLeft } from "./decided.js";
import { inHand } from "./discarding.js";
import { icon } from "./icons.js";
import { nextActs, titleOf } from "./minutes.js";
import { stopSaid } from "./headline.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { lineLabel } from "./speak.js";
import { routeOf } from "./unsaved.js";

/** @param {{sheet:object, state:object, entries:object[]}} open
 * @returns {{stop:object, reported:object[], said:string[]}|undefined} as `stopLeft` */
export function stopFirst(open) {
  const left = stopLeft(open);
  return left && raceBegan(open) && !callsOff(open, left)
    && (cardOf(open, left)?.lapses?.length || namesNone(open, left))
    ? left : undefined;
}

/** Whether its card wants to know what is thrown away, and nobody said anything of it.
 * @returns {boolean} */
export function namesNone(open, left) {
  const card = cardOf(open, left);
  return left.reported.length === 0 && Boolean(card?.discards)
    && inHand(open, card).length > 0
    && !open.entries.some(({ at, kind, step }) => kind === "discarded"
      && at >= left.stop.at && card.discards.includes(step));
}

/** What was in hand, of the lines of a step of what can break: the bar the race asks
 * for next, else the one it worked on last. @returns {string|undefined} a line */
export function lineInHand(open, step) {
  const { sheet, state } = open;
  const { class: kind, lines = [] } = sheet.steps[step];
  const of = (item) => lines.find((one) => item !== undefined && one.item === item
    && state.steps[step].lines[one.id] === undefined)?.id;
  const itemOf = (id, line) => sheet.steps[id].lines?.find((one) =>
    one.id === line)?.item;
  if (kind !== "make_safe") return undefined;
  const last = sheet.flow.filter((id) => sheet.steps[id]?.class === "raced")
    .flatMap((id) => Object.entries(state.steps[id].lines)
      .map(([line, { at }]) => ({ at, step: id, line })))
    .sort((a, b) => b.at - a.at);
  return [...nextActs(open, askedAt(open), sheet.flow.length), ...last]
    .map((one) => of(itemOf(one.step, one.line))).find(Boolean);
}

const cardOf = ({ sheet }, { stop }) =>
  sheet.cards?.find(({ id }) => id === stop.about.reason);

/** What the race asks for all the same: it opens its form, where the STOP is told.
 * @returns {HTMLElement|null} */
export function goOnKey(open, go) {
  const { sheet, subject } = open;
  const [act] = nextActs(open, askedAt(open), 1);
  const { line = "", photo, step } = act ?? { step: currentOf(open) };
  if (!step) return null;
  const route = sheet.points[step] ? `/point/${subject}/${step}` : routeOf({
    subject, step, line: line ?? "", mode: photo ? "photo" : undefined });
  const where = sheet.steps[step] ? lineLabel(sheet, step, line ?? "") : "";
  return button("plain", {
    mark: sheet.points[step] ? "shield" : photo ? "photo" : "pen", id: "go-on",
    label: where || titleOf(sheet, step), note: where ? titleOf(sheet, step) : "",
    "data-step": step, "data-line": line || "-",
    onclick: () => go(model.shift ? route : "/people"),
  });
}

/** Which STOP is not decided, and how its card ends, for whoever goes on all the same:
 * in the forms of what it is about. @returns {HTMLElement|null} */
export function stopBefore(open, step) {
  const { sheet } = open;
  const left = sheet.steps[step]?.class === "raced" ? stopFirst(open) : undefined;
  const card = left && cardOf(open, left);
  const itemsOf = (id) => (sheet.steps[id]?.lines ?? []).map(({ item }) => item)
    .filter(Boolean);
  const about = card?.step ? itemsOf(card.step) : [];
  if (!card || (about.length && !itemsOf(step).some((one) => about.includes(one)))) {
    return null;
  }
  return h("p.careful", { id: "stop-before" }, icon("stop"),
    [stopSaid(open, left), card.do.at(-1)].filter(Boolean).join(". "));
}
