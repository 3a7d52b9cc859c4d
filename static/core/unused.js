// A batch thrown away before it came to what its clock limits.

/**
 * Say whether a clock's own batch was discarded and never came to what ends it: a spare
 * kit that nobody needed was never on the face too late.
 */
export function thrownAway(scene, clock, line) {
  const { sheet } = scene.view;
  return Boolean(clock.per_line) && sheet.amended >= 2
    && sheet.steps.has(clock.until)
    && Boolean(scene.lines(clock.start).get(line)?.discarded)
    && !scene.lines(clock.until).has(line);
}
