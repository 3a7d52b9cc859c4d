// Which nonconformances belong to what a point rests on, decided ones included. The
// desk says the same beside the evidence (`fieldapp/web/concerning.py`).

/**
 * One that shut it, that is of its own work, or that the attempt in hand began with; of
 * a corrected certificate every reading by it.
 * @returns {boolean}
 */
export function concerns({ sheet, state, entries }, fault, point) {
  const { code, step, check, verdict, blocks, entry } = fault;
  if (verdict === "rework") return state.attempts > 1;
  const { covers, class: kind } = sheet.points[point];
  if (blocks.includes(point) || covers.includes(step)) return true;
  if (code === "item_corrected") {
    const item = entries.find(({ id }) => id === entry)?.values[check];
    return covers.some((one) => Object.values(state.steps[one]?.lines ?? {})
      .some(({ values }) => Object.values(values).includes(item)));
  }
  if (code === "by_hand" && !step) return kind === "hold";
  const named = [...sheet.steps[step]?.checks ?? [],
    ...(sheet.clocks ?? []).filter(({ start }) => start === step)
      .flatMap(({ ratios }) => ratios)].find(({ id }) => id === check)?.blocks ?? [];
  return named.length ? named.includes(point) : nextGate(sheet, step) === point;
}

// What is of no step, as words never signed, comes before no gate.
function nextGate({ flow, points }, step) {
  if (!flow.includes(step)) return undefined;
  return flow.slice(flow.indexOf(step) + 1).find((id) => points[id]?.class === "hold");
}
