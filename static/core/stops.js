// What was said after each STOP: what was reported of it, and notes. Whatever somebody
// says belongs to the newest STOP they had seen: neither arrival nor a clock tells, so
// paper and every phone say the same.

/**
 * Give every STOP, in order, with the ids of what was said of it.
 * @returns {{entry:string, reported:string[], said:string[]}[]}
 */
export function stops({ view }) {
  const { history } = view;
  const idOf = (place) => history.entry(place).id;
  const pulled = view.among(history.byKind.get("stopped"));
  const told = pulled.map((stop) => ({ entry: idOf(stop), reported: [], said: [] }));
  const add = (kind, name) => {
    for (const place of view.among(history.byKind.get(kind))) {
      const newest = pulled.findLastIndex((stop) => history.saw(place, stop));
      told[newest]?.[name].push(idOf(place));
    }
  };
  add("nonconformance", "reported");
  add("note", "said");
  return told;
}
