// How far a segment is, read off its joint's sheet and state alone: what the first gate
// of the flow keeps back, what the race ends with, and what others wait for. No step is
// known here by name.

/** In the order a segment goes through them. */
export const STAGES = ["yard", "hung", "bonded", "carried"];
const WHOLE = new Set(["complete", "concession"]);

/**
 * @param {object[]} all every subject with its sheet and state, as far as they are here
 * @returns {Map<string, string>} a stage for each subject whose state is known
 */
export function stagesOf(all) {
  const known = all.filter(({ state }) => state);
  const awaited = awaitedBy(known);
  return new Map(known.map((open) =>
    [open.subject, stageOf(open, awaited.get(open.sheet.kind))]));
}

/**
 * @param {object} open sheet and state
 * @param {string} [awaited] what others of its kind wait for before their first gate
 * @returns {string} one of `STAGES`
 */
export function stageOf({ sheet, state }, awaited) {
  if (WHOLE.has(state.verdict) || isReached(state, awaited)) return "carried";
  if (!isHung(sheet, state)) return "yard";
  const ends = (sheet.clocks ?? []).filter((one) => !one.other && !one.per_line)
    .map(({ until }) => until);
  return ends.some((id) => isReached(state, id)) ? "bonded" : "hung";
}

// What others of its kind wait for, as at the desk: before their first gate, or else.
function awaitedBy(known) {
  const kinds = new Map(known.map(({ subject, sheet }) => [subject, sheet.kind]));
  const waits = (first) => known.flatMap(({ sheet }) => (sheet.prerequisites ?? [])
    .filter(({ subject, before }) => kinds.get(subject) === sheet.kind
      && before.includes(firstGate(sheet)) === first)
    .map(({ milestone }) => [sheet.kind, milestone]));
  return new Map([...waits(true), ...waits(false)].reverse());
}

function firstGate({ flow, points }) {
  return flow.find((id) => points[id]?.class === "hold");
}

// What the first gate keeps back was done, whoever let it through, and not undone.
function isHung(sheet, state) {
  const kept = sheet.points[firstGate(sheet)]?.shuts ?? [];
  const undone = (sheet.clocks ?? []).map(({ other }) => other?.undone).filter(Boolean);
  return lastOf(state, kept) > lastOf(state, undone);
}

function lastOf(state, steps) {
  return Math.max(0, ...steps.flatMap((id) =>
    Object.values(state.steps[id]?.lines ?? {}))
    .filter(({ status }) => status !== "discarded").map(({ at }) => at ?? 0));
}

// A step, a gate or a milestone.
function isReached(state, id) {
  return id !== undefined && (id in state.milestones
    || state.steps[id]?.status === "done" || state.points[id]?.status === "released");
}
