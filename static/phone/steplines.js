// The lines of a step that is open in the column: what was read, what is still to be.
// What all of them share is said once above them.

import { dayClockText } from "../device/clock.js";
import { model } from "./model.js";
import { button, fill, h, lines as paragraphs } from "./parts.js";
import {
  checkText, lineLabel, personName, photosMissing, readings, shownFigures,
} from "./speak.js";
import { signOf } from "./states.js";
import { isOfLoss } from "./turns.js";
import { routeOf, unsavedHere } from "./unsaved.js";
import { words } from "./words.js";

/** @returns {HTMLElement[]} keys to what was begun and not saved */
export function unsavedList(open, view, id) {
  return unsavedHere(open).filter((one) => one.step === id).map((one) =>
    button("plain", { mark: "pen", "data-unsaved": one.line || "-",
      label: words.unsaved.title, note: lineLabel(open.sheet, id, one.line),
      onclick: () => view.go(routeOf(one)) }));
}

/** @returns {HTMLElement[]} every line of a step */
export function lineList(open, view, id) {
  const { sheet, state, subject } = open;
  const step = sheet.steps[id];
  const found = state.steps[id].lines;
  const planned = step.series || !step.lines
    ? Object.keys(found).map((line) => ({ id: line, label: "" }))
    : step.lines;
  const facts = new Map(Object.entries(found).map(([line, read]) =>
    [line, factsOf(open, id, line, read)]));
  const shared = sharedOf([...facts.values()]);
  return [shared.length ? h("p.help", {}, shared.join(" \u00b7 ")) : null,
    onceHere(import("./backwards.js"), (one) => one.earlyList(open, id)),
    h("ul.lines", {}, ...planned.map((line) => {
      const read = found[line.id];
      const label = line.label || step.title;
      if (!read) {
        return h("li", {}, button("line.open", {
          mark: "dash", label, "data-line": line.id,
          note: line.need ? words.state.open : undefined,
          onclick: () => view.go(`/form/${subject}/${id}/${line.id || "-"}`),
        }));
      }
      return h("li", {}, button("line", {
        mark: read.status === "ok" && isOfLoss(step) ? "cross" : signOf(read.status),
        label: `${label}`,
        note: [...(read.status === "discarded" ? [words.state.discarded] : []),
          dayClockText(read.at), ...facts.get(line.id)
          .filter((one) => !shared.includes(one))].join(" \u00b7 "),
        "data-line": line.id, "data-status": read.status,
        onclick: () => view.go(`/line/${subject}/${id}/${line.id || "-"}`),
      }), ...failTexts(read.failed.map((check) => checkText(sheet, id, check, read))),
      // Whoever reads again must see all that was read.
      read.status === "disputed" ? onceHere(import("./disputed.js"), (one) =>
        failTexts(one.disputeTexts(open, id, read))) : null);
    }))];
}

const failTexts = (texts) => paragraphs("failtext", texts);

// Told once what tells it is here.
function onceHere(coming, said) {
  const place = h("div");
  coming.then((one) => fill(place, said(one)), () => {});
  return place;
}

function factsOf(open, id, line, read) {
  const lacking = photosMissing(open, id, line);
  return [personName(model.people, read.person),
    ...readings(open.sheet, id, read.values),
    ...shownFigures(open.sheet, id, read.shows),
    ...(lacking ? [words.photo.missing(lacking)] : [])];
}

// Of two lines nothing need be saved.
function sharedOf([first, ...others]) {
  return others.length < 2 ? [] : first.filter((one) =>
    others.every((facts) => facts.includes(one)));
}
