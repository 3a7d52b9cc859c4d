// A release that a refusal stands against: its signer had not seen the refusal, or it
// came after the release. The refusal wins; who had released, and when, is told on the
// gate of every phone, so that one which showed GO says why it does not any more.

import { births, releases } from "../core/gates.js";
import { lapse } from "../core/lapses.js";
import { dayClockText } from "../device/clock.js";
import { releaser } from "../core/signers.js";
import { model } from "./model.js";
import { personName } from "./speak.js";
import { words } from "./later.js";

/** @returns {string[]} who released a refused point, when, and that it does not hold */
export function overruled({ scene, state }, id) {
  const { refused_by: refused } = state.points[id] ?? {};
  if (!refused || !scene) return [];
  const { history, sheet } = scene.view;
  const point = sheet.points.get(id);
  return releases(scene, point).filter((place) =>
    births(scene, point, place).length === 0
      && lapse(scene, point, place) !== undefined)
    .map((place) => history.entry(place)).map((entry) =>
      words.point.overruled(personName(model.people, releaser(entry)),
        dayClockText(entry.at)));
}
