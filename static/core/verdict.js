// The nonconformances of every attempt laid out, and what they add up to. A record says
// facts: complete, complete under concession, rejected or incomplete.

import { conditions } from "./conditions.js";
import { nonconformances } from "./faults.js";
import { passed } from "./gates.js";

const UNDECIDED = ["open", "proposed"];

/** Give the nonconformances of every attempt, earlier ones as rework left them. */
export function allFaults(scene) {
  const found = new Map();
  for (const fault of nonconformances(scene)) {
    found.set(fault.id, faultState(scene, fault));
  }
  const chain = scene.view.attempts();
  for (let count = 1; count < chain.length; count += 1) {
    const [reopened] = chain[count];
    for (const fault of nonconformances(scene.case.earlier(scene, count))) {
      if (!found.has(fault.id)) {
        found.set(fault.id, faultState(scene, fault, reopened));
      }
    }
  }
  return [...found.keys()].sort().map((id) => found.get(id));
}

/** Say complete, concession (complete under one), rejected or incomplete. */
export function verdict(scene, faults) {
  if (faults.some((each) => each.verdict === "reject" && each.blocks.length > 0)) {
    return "rejected";
  }
  const { sheet } = scene.view;
  const behind = [...sheet.steps.keys()].every((name) =>
    scene.case.reached(scene, "step", name));
  const points = [...sheet.points.values()];
  const open = points.every((point) =>
    point.raw.class === "surveillance" || passed(scene, point));
  const unclosed = points.some((point) =>
    conditions(scene, point).some((each) => each.closedBy === undefined));
  // One that shuts no gate, because none is left, is still to be decided; sheets from
  // before this was amended are read as they were.
  const counted = sheet.amended ? UNDECIDED : [];
  const undecided = faults.some((each) =>
    each.blocks.length > 0 || counted.includes(each.status));
  if (!behind || !open || unclosed || undecided) return "incomplete";
  const conceded = faults.some((each) =>
    each.verdict === "use_as_is" || each.verdict === "repair");
  return conceded ? "concession" : "complete";
}

function faultState(scene, fault, reopened) {
  const { history } = scene.view;
  const state = {
    id: fault.id,
    code: fault.code,
    derived: fault.derived ? 1 : 0,
    blocks: reopened === undefined ? fault.shuts : [],
    ...decision(history, fault.disposal, reopened),
  };
  const amended = scene.view.sheet.amended >= 2;
  if (fault.running && amended && reopened === undefined) state.running = 1;
  if (fault.step !== undefined) state.step = fault.step;
  if (fault.line) state.line = fault.line;
  if (fault.check !== undefined) state.check = fault.check;
  if (fault.item !== undefined) {
    Object.assign(state, { item: fault.item, lines: fault.lines.join() });
  }
  if (fault.place !== undefined) state.entry = history.entry(fault.place).id;
  return state;
}

function decision(history, { status, verdict: decided, place }, reopened) {
  if (place !== undefined) {
    return { status, verdict: decided, disposition: history.entry(place).id };
  }
  if (reopened === undefined) return { status };
  return { status: "disposed", verdict: "rework", disposition: reopened };
}
