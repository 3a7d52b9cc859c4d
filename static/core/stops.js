// What was said after each STOP: what was reported of it, and notes. Whatever somebody
// says belongs to the newest STOP they had seen: neither arrival nor a clock tells, so
// paper and every phone say the same.

/**
 * Give every STOP, in order, with the ids of what was said of it.
 * @returns {{entry:string, reported:string[], said:string[]}[]}
 */
export function stops({ view }) {
  const { history } = view;
  const pulled = view.among(history.byKind.get("stopped"));
  const saidOf = (stop, kind) => view.among(history.byKind.get(kind)).filter((place) =>
    pulled.findLast((each) => history.saw(place, each)) === stop)
    .map((place) => history.entry(place).id);
  return pulled.map((stop) => ({
    entry: history.entry(stop).id,
    reported: saidOf(stop, "nonconformance"),
    said: saidOf(stop, "note"),
  }));
}
