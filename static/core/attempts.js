// The attempts at a subject: each opened by a disposition that ordered rework. An
// attempt begins at the step the rework names; what stands before it in the flow keeps
// what was read. Where something was put on that a step takes off (adhesive), an
// attempt that puts on more begins with that step at the latest; where nothing was, or
// it is off already, nothing is asked to be taken off: that follows from the record.

/**
 * Follow the rework dispositions (by place): each opens an attempt. Of those that did
 * not know of each other the one that redoes more stands.
 * @returns {[string|undefined, number][]} attempt id, and where in the flow it starts
 */
export function attemptChain(view, reworks) {
  const { history, sheet: { flow } } = view;
  const chain = [[undefined, 0]];
  for (;;) {
    const [latest] = chain.at(-1);
    const found = reworks.filter((place) => history.entry(place).attempt === latest);
    if (found.length === 0) return chain;
    const [id, start] = history.unseen(found).map((place) => history.entry(place))
      .map((entry) => [entry.id, flow.get(entry.about.from)])
      .reduce((best, each) => (earlier(each, best) ? each : best));
    if (chain.some(([known]) => known === id)) return chain;
    chain.push([id, fromTakingOff(view, chain, start)]);
  }
}

/**
 * Say whether, after these attempts, anything is on that a step takes off. What was
 * taken off at once, before anybody had decided of it, is off as well.
 */
export function isOn(view, step, chain) {
  const inForce = (name, attempt) => [...view.linesIn(name, attempt).values()]
    .filter((line) => !line.discarded);
  const off = chain.flatMap(([attempt]) => inForce(step.id, attempt));
  return step.takesOff.some((name) => {
    const place = view.sheet.flow.get(name);
    const [attempt] = chain.findLast(([, start]) => place >= start);
    return inForce(name, attempt).some(({ root }) =>
      !off.some((each) => view.history.saw(each.root, root)));
  });
}

function earlier([id, start], [bestId, bestStart]) {
  return start < bestStart || (start === bestStart && id < bestId);
}

// Where an attempt starts: what it puts on again is taken off before.
function fromTakingOff(view, chain, from) {
  const { flow, steps } = view.sheet;
  let start = from;
  for (const step of steps.values()) {
    const place = flow.get(step.id);
    const redone = step.takesOff.some((name) => start <= flow.get(name));
    if (redone && place < start && isOn(view, step, chain)) start = place;
  }
  return start;
}
