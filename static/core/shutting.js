// Which gate a nonconformance shuts as things stand.

/** Say whether anything is recorded that a point stands before. */
export function wentThrough(scene, point) {
  return scene.view.sheet.points.get(point).shuts
    .some((step) => scene.lines(step).size > 0);
}

/**
 * Give a nonconformance with the gates it shuts: the next, if its own are behind, and
 * before it every one that is released and has let nothing through yet. A release
 * stands whatever comes later; what arises after it shuts what is to come.
 */
export function shutting(scene, found) {
  const { sheet } = scene.view;
  const isBehind = (name) => scene.case.reached(scene, "point", name);
  const amended = sheet.amended >= 2 && found.shuts.length > 0;
  if (!amended || !found.shuts.every(isBehind)) return found;
  let last = found.shuts.reduce((one, other) =>
    (sheet.flow.get(other) > sheet.flow.get(one) ? other : one));
  const shuts = found.shuts.filter((name) => !wentThrough(scene, name));
  for (;;) {
    [last] = sheet.nextGate(last);
    if (last === undefined) return found;
    if (!isBehind(last)) return { ...found, shuts: [...shuts, last] };
    const unused = sheet.points.get(last).shuts.length > 0 && !wentThrough(scene, last);
    if (unused) shuts.push(last);
  }
}
