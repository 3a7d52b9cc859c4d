/**
 * Folds cases of the differential test: what goes in and comes out is JSON text, so
 * that every number and byte is JavaScript's own.
 */

import { readFileSync } from "node:fs";

import { momentsOf, spansBehind } from "../../static/core/ahead.js";
import { canonical, fingerprint } from "../../static/core/canonical.js";
import { chainFaults } from "../../static/core/chain.js";
import { readEntry } from "../../static/core/entries.js";
import { present, stateOf } from "../../static/core/fold.js";
import { useKinds } from "../../static/core/kinds.js";
import { releaseRefusals, reliedOn } from "../../static/core/rules.js";
import { heardOf } from "../../static/core/heard.js";
import { revisionsOf } from "../../static/core/revisions.js";
import { standingOf } from "../../static/core/standing.js";

const kinds = new URL("../../fieldapp/core/kinds.json", import.meta.url);
useKinds(JSON.parse(readFileSync(kinds, "utf-8")));

const SIGNERS = ["inspector", "engineer", "designer", "toString"];

/** Answer a case with what it adds up to, as canonical text. */
export function answerOf(text) {
  const { sheet, tables, older, entries, standing, now } = JSON.parse(text);
  const key = fingerprint(sheet);
  const prepared = revisionsOf({ ...older, [key]: sheet }, tables)(key);
  const read = entries.map((each) => readEntry(each));
  const scene = present(prepared, read, standing, now);
  const state = stateOf(scene);
  return canonical({
    state,
    standing: standingOf(state, now.at),
    chain: chainFaults(read),
    releases: Object.fromEntries(Object.keys(sheet.points).map((point) =>
      [point, Object.fromEntries(SIGNERS.map((person) =>
        [person, releaseRefusals(scene, point, person)]))])),
    moments: momentsOf(scene, Object.keys(sheet.steps).sort()),
    ahead: Object.fromEntries(sheet.clocks.filter(({ other }) => other).map((clock) =>
      [clock.id, spansBehind(scene, clock).map(([start, end = "still"]) =>
        [start, end])])),
    heard: heardOf(read, [...new Map(read.map((each) => [each.id, each])).values()]
      .sort((a, b) => (a.id < b.id ? -1 : 1)).slice(0, 3)),
    relied: Object.fromEntries(Object.keys(sheet.points).map((point) =>
      [point, reliedOn(scene, point)])),
  });
}

/** Answer many cases. @param {string[]} texts */
export function answersOf(texts) {
  return texts.map((text) => {
    try {
      return answerOf(text);
    } catch (error) {
      return `${error.name}: ${error.message}\n${error.stack}`;
    }
  });
}
