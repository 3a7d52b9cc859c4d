// What the next line takes over from the last: the same jack, the same lot. After a
// STOP it is asked for anew: it may be the very thing that failed.

/** When somebody last said STOP, ms UTC; 0 if nobody did. @returns {number} */
export function stoppedAt({ entries }) {
  return Math.max(0, ...entries.filter(({ kind }) => kind === "stopped")
    .map(({ at }) => at));
}

/** The last reading of a field that the sheet carries over, if there is one. */
export function carriedOver(open, step, field) {
  if (!field.same) return undefined;
  const stopped = stoppedAt(open);
  const lines = Object.values(open.state.steps[step].lines)
    .filter(({ at }) => at > stopped).sort((a, b) => b.at - a.at);
  return lines.map((one) => one.values[field.id]).find((value) => value !== undefined);
}
