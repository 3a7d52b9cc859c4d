// The steps a rework may start again from: first what it is about, then what a stage
// begins with; every other one a tap away. The rules take any step of the sheet.

/**
 * @param {object} open sheet and state @param {object[]} faults decided together
 * @returns {{about:string[], stages:string[], others:string[]}} steps this subject has;
 *   those off now may be called for again
 */
export function restarts({ sheet, state }, faults) {
  const all = sheet.flow.filter((id) => sheet.steps[id]
    && state.steps[id].status !== "off"
    && sheet.steps[id].class !== "make_safe" && !sheet.steps[id].again);
  const clean = all.filter((id) => !leavesUncleaned(sheet, id));
  const about = clean.filter((id) => faults.some(({ step }) => step === id));
  // What nobody has begun cannot be begun again.
  const begun = clean.filter((id) => Object.keys(state.steps[id].lines).length > 0);
  const heads = new Set([all[0], ...stageHeads(sheet, all), ...readFresh(sheet)]);
  const stages = begun.filter((id) => heads.has(id) && !about.includes(id));
  const others = all.filter((id) => ![...about, ...stages].includes(id));
  return { about, stages, others };
}

// A time over is about what began it, the first kit; begun again from there, what every
// further attempt begins with (parted and cleaned) would be left out.
function leavesUncleaned({ clocks = [], flow, steps }, id) {
  const again = flow.findIndex((one) => steps[one]?.again);
  return again >= 0 && again < flow.indexOf(id)
    && clocks.some(({ start }) => start === id);
}

// What comes first behind a gate.
function stageHeads({ flow, points }, all) {
  return flow.flatMap((id, place) => (points[id]?.class === "hold"
    ? all.filter((step) => flow.indexOf(step) > place).slice(0, 1) : []));
}

// What a gate wants read shortly before: its stage is prepared from there.
function readFresh({ points }) {
  return Object.values(points).flatMap(({ requires = [] }) => requires
    .map(({ must }) => must?.value).filter((said) => said?.word === "elapsed"
      && said.to === "now" && said.from?.step).map((said) => said.from.step));
}
