// What says the same is told once, with every line it concerns. How each is judged and
// decided is not touched: a nonconformance stays one by itself.

import { model } from "./model.js";
import { lineLabel, refusalText, saidOf } from "./speak.js";

/**
 * Nonconformances as they are told: of a step those that say the same once with all
 * their lines, and of the same lines all that is said of them.
 * @returns {{faults:object[], where:string[], saids:string[], text:string}[]} in the
 *   order of the work: the step and its lines, what is said of them, and both in one
 */
export function faultsTogether(faults, context) {
  const { sheet } = context;
  const ordered = inWorkOrder(faults, sheet);
  const said = together(ordered, (one) => [one.step,
    one.line ? "line" : byHand(one) ?? one.id, saidOf(one, context)].join("|"));
  const groups = together(said, (each) => [each[0].step,
    ...(byHand(each[0]) ? [saidOf(each[0], context)]
      : each.map(({ line, id }) => line || id))].join("|"));
  return groups.map((each) => {
    const [{ step, line }] = each[0];
    const named = line && !sheet.steps[step]?.series
      ? each[0].map((one) => lineLabel(sheet, step, one.line)).join(" / ") : "";
    const saids = each.map(([one]) => saidOf(one, context));
    const found = { where: [sheet.steps[step]?.title, named].filter(Boolean),
      saids: [...new Set(saids)] };
    return { ...found, faults: each.flat(),
      text: [...found.where, found.saids.join(" ")].join(" \u00b7 ") };
  });
}

// What somebody reported is alike only where the words are.
function byHand({ code }) {
  return code === "by_hand" ? code : undefined;
}

/** The status as it is told: a gate that is closed is shut, a nonconformance that is
 * closed is settled. @returns {string} */
export function shown({ status }) {
  return status === "closed" ? "settled" : status;
}

/** @returns {string[]} refusals in words, nonconformances of a step together */
export function refusalTexts(refusals, sheet, people, state) {
  const context = { sheet, people, state, entries: model.open?.entries ?? [] };
  const named = refusals.filter(({ code }) => code === "nonconformance")
    .map(({ facts }) => state?.nonconformances.find(({ id }) => id === facts.id));
  if (!state || named.length < 2 || named.some((one) => one === undefined)) {
    return refusals.map((one) => refusalText(one, sheet, people, state));
  }
  const pattern = (id) => refusalText({ code: "nonconformance", facts: { id } }, null);
  const first = refusals.findIndex(({ code }) => code === "nonconformance");
  return refusals.flatMap((one, place) => {
    if (one.code !== "nonconformance") return refusalText(one, sheet, people, state);
    return place === first
      ? faultsTogether(named, context).map(({ text }) => pattern(text)) : [];
  });
}

// Ids say nothing to a person; steps and lines have an order.
function inWorkOrder(faults, sheet) {
  const place = ({ step, line }) => [sheet.flow.indexOf(step),
    (sheet.steps[step]?.lines ?? []).findIndex(({ id }) => id === line)];
  return faults.map((one) => ({ one, at: place(one) }))
    .sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]).map(({ one }) => one);
}

function together(all, keyOf) {
  const found = new Map();
  for (const one of all) {
    const key = keyOf(one);
    found.set(key, [...(found.get(key) ?? []), one]);
  }
  return [...found.values()];
}
