// Which gate a nonconformance shuts as things stand.

/**
 * Give a nonconformance with the gates it shuts: the next, if its own are behind. A
 * release stands whatever comes later; what arises after it shuts what is to come.
 */
export function shutting(scene, found) {
  const { sheet } = scene.view;
  const isBehind = (name) => scene.case.reached(scene, "point", name);
  const amended = sheet.amended >= 2 && found.shuts.length > 0;
  if (!amended || !found.shuts.every(isBehind)) return found;
  const through = (name) => sheet.points.get(name).shuts
    .some((step) => scene.lines(step).size > 0);
  let last = found.shuts.reduce((one, other) =>
    (sheet.flow.get(other) > sheet.flow.get(one) ? other : one));
  do [last] = sheet.nextGate(last); while (last !== undefined && isBehind(last));
  return last === undefined ? found
    : { ...found, shuts: [...found.shuts.filter((name) => !through(name)), last] };
}
