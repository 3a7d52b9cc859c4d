// What a reading raises before the race has begun: nothing yet, it is only read again.
// A failure that the first reading of each step the race begins with had in its past,
// or that stands while there is none, fails its own step, and so shuts the gate before
// the race. What nobody knew when the race began counts as found in it.

/** Say whether a line's failure of a check was known before the race began. */
export function isEarly(scene, { begins }, line) {
  return begins.length > 0 && rootsOf(scene, begins)
    .every((root) => scene.view.history.saw(root, line.current));
}

/** Say whether a step that settles a failure was read by somebody who knew of it. */
export function isSettled(scene, { settles }, line) {
  return rootsOf(scene, settles)
    .some((root) => scene.view.history.saw(root, line.current));
}

function rootsOf(scene, steps) {
  return steps.flatMap((step) => [...scene.lines(step).values()])
    .map((line) => line.root);
}
