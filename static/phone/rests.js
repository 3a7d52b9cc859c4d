// Everything a release rests on, laid out for whoever signs: each covered step's
// readings with limits and who took them, and each demand of the point.

import { dayClockText } from "../device/clock.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { h } from "./parts.js";
import { photosOf } from "./photos.js";
import { otherArmHeard } from "./sighting.js";
import {
  checkText, lineLabel, personName, shownFigures, stateBadge, valueText,
} from "./speak.js";
import { words } from "./words.js";

const text = words.point;

/** @returns {HTMLElement[]} the point's demands and its steps, read by read */
export function whatItRestsOn(open, point) {
  const { sheet, state } = open;
  const said = sheet.points[point];
  const covered = said.covers.filter((step) => state.steps[step]?.status !== "off");
  return [
    h("h2", {}, text.rests),
    ...demands(said, state.points[point]),
    ...otherArmHeard(open, point),
    ...covered.map((step) => stepBlock(open, step)),
  ];
}

function demands(said, found) {
  const unmet = new Set((found.refusals ?? []).map((one) => one.facts?.requirement));
  return (said.requires ?? []).map((one) => {
    const met = !unmet.has(one.id);
    return h(`p.demand.${met ? "good" : "bad"}`, {},
      icon(met ? "tick" : "cross"), one.text,
      one.source ? h("small", {}, ` (${one.source})`) : null);
  });
}

function stepBlock({ sheet, state }, step) {
  const found = state.steps[step];
  const said = sheet.steps[step];
  const none = Object.keys(found.lines).length === 0;
  // What may be read as well has not been done for that: so says the column.
  const status = none && found.status === "done" ? "idle" : found.status;
  return h("article.rest", {},
    h("h3", {}, said.title, " ", stateBadge(status)),
    none ? h("p.hint", {}, text.nothing) : null,
    ...Object.entries(found.lines).map(([line, read]) =>
      lineTable(sheet, step, line, read)),
    ...shownFigures(sheet, step, found.shows).map((one) => h("p.figure", {}, one)),
    ...marks(sheet, step, found));
}

function lineTable(sheet, step, line, read) {
  const said = sheet.steps[step];
  const fields = (said.fields ?? []).filter((one) => read.values[one.id] !== undefined);
  const label = said.series ? "" : lineLabel(sheet, step, line);
  return h("div.restline", {},
    h("p.restwho", {},
      [label, dayClockText(read.at), personName(model.people, read.person)]
        .filter(Boolean).join(" \u00b7 "),
    read.status === "ok" ? null : stateBadge(read.status)),
    h("dl", {}, ...fields.flatMap((one) => [
      h("dt", {}, one.label, one.limit ? h("small", {}, ` ${text.limit}: ${one.limit}`)
        : null),
      h("dd", {}, valueText(sheet, one, read.values[one.id])),
    ])),
    ...shownFigures(sheet, step, read.shows).map((one) => h("p.figure", {}, one)),
    photosOf(model.open.entries.filter((one) => read.entries.includes(one.id))),
    ...marks(sheet, step, read));
}

function marks(sheet, step, { failed, cautions }) {
  return [
    ...failed.map((id) => h("p.bad", {}, icon("cross"), checkText(sheet, step, id))),
    ...cautions.map((id) =>
      h("p.careful", {}, icon("warn"), checkText(sheet, step, id))),
  ];
}
