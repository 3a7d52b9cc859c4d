// What the next line takes over from the last: the same jack, the same lot. After a
// STOP, or a line discarded, it is asked for anew: it may be the very thing that
// failed; and so is what is not fit for use. Where a plan sets lines in groups, one
// group's is not the other's: a level measures no line.

/** When somebody last said STOP, ms UTC; 0 if nobody did. @returns {number} */
export function stoppedAt({ entries }) {
  return Math.max(0, ...entries.filter(({ kind }) => kind === "stopped")
    .map(({ at }) => at));
}

/**
 * The last reading of a field that the sheet carries over to a line, if any.
 * @param {(item: string) => any} isUnfit says of an item why it is not fit for use
 */
export function carriedOver(open, step, line, field, isUnfit = () => false) {
  if (!field.same) return undefined;
  const { sheet, state } = open;
  const [stopped, { lines = [] }] = [stoppedAt(open), sheet.steps[step]];
  const groupOf = (name) => lines.find(({ id }) => id === name)?.group;
  const read = Object.entries(state.steps[step].lines)
    .filter(([name, { at }]) => at > stopped && groupOf(name) === groupOf(line))
    .map(([, one]) => one).sort((a, b) => b.at - a.at);
  const last = read[0]?.status === "discarded" ? undefined
    : read.map(({ values }) => values[field.id]).find((value) => value !== undefined);
  const isLeft = field.kind === "item" && last !== undefined && isUnfit(last);
  return isLeft ? undefined : last;
}
