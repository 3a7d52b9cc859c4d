// When a line was done, where its hour was mended. A correction states an hour earlier,
// never later: a race is not won by typing. Only a slip is mended either way: by its
// author, on the same phone, before anything but that very line was recorded; and to no
// time after the slip was signed, since what was recorded had been done by then.

/** Kinds of entries that say nothing of the work: an alarm was seen. */
const NO_WORK = new Set(["acknowledged"]);

/**
 * Give the wall time, ms, from which a line counts as done.
 * @param {boolean} mended whether the sheet lets a slip be mended to a later time
 */
export function statedAt(history, { root, asserted }, mended) {
  // What is read again since was not done again: only an hour typed says when.
  const saidBy = ({ kind, about, at, at_by: by }, since) => about.at
    ?? (mended && since && kind !== "correction" && by === "typed" ? at : undefined);
  const said = [[root, history.entry(root).at], ...asserted
    .map((place) => [place, saidBy(history.entry(place), place > root)])
    .filter(([, at]) => at !== undefined)];
  const later = mended ? said : [];
  return Math.min(...said.filter(([place]) =>
    !later.some(([other]) => atOnce(history, place, other))).map(([, at]) => at));
}

// Whether an entry takes back one on which nothing was built meanwhile.
function atOnce(history, place, later) {
  if (later === place || !history.retakenInTime(place, later)) return false;
  const old = history.entry(place);
  for (let other = place + 1; other < later; other += 1) {
    if (!history.saw(later, other) || !history.saw(other, place)) continue;
    const { step, line, kind } = history.entry(other);
    const isSame = step === old.step && line === old.line;
    // What was thrown away was there: a discard is no slip of the hour.
    if (kind === "discarded" || !(isSame || NO_WORK.has(kind))) return false;
  }
  return true;
}
