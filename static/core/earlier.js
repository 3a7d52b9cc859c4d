// What a line said before it was read again, corrected or discarded: still judged. Its
// author may take it back on the same phone while nobody had relied on it. After that
// neither a correction nor a discard launders a failure: only a disposition clears it.

import { itemFailures } from "./items.js";
import { saidToStay, takenBack } from "./lasting.js";
import { fails, lineRaises } from "./steps.js";

/**
 * Give [check, place] of what a line said before it was read again or corrected. Of
 * readings side by side none stands: each is judged, in whatever order they came.
 * Sheets from before this was amended judged all but one of them, and told again what
 * its author had taken back as soon as anybody read the line once more.
 */
export function superseded(scene, step, line) {
  const { history, sheet } = scene.view;
  const amended = sheet.amended >= 2;
  const isOpen = line.disputed && amended;
  const lasting = (isOpen ? saidToStay : takenBack)(scene, step, line)
    .map(([, place]) => place);
  const stands = isOpen ? undefined : line.current;
  const said = line.asserted.filter((place) => !history.added.has(place));
  const later = amended ? said : [line.current];
  return said.filter((place) => place !== stands
    && (lasting.includes(place) || !isRetaken(history, place, later)))
    .flatMap((place) => failuresAt(scene, step, line, place));
}

function isRetaken(history, place, later) {
  return later.some((other) => history.retakenInTime(place, other));
}

/**
 * Give a line as it stood before it was discarded, and the places of what its author
 * could not take back any more; undefined where nothing was discarded.
 */
export function gone({ view }, step, line) {
  const { history } = view;
  const discards = history.discards.size > 0 && view.sheet.amended >= 2
    ? view.discardsOf(step.id, line.root) : [];
  if (discards.length === 0) return undefined;
  const mine = history.entry(line.root);
  const roots = view.among(history.readings.get(step.id)).filter((place) => {
    const { line: name, attempt } = history.entry(place);
    return name === mine.line && attempt === mine.attempt && (step.series
      ? place === line.root : line.discarded || !line.asserted.includes(place));
  });
  const said = view.among(roots.flatMap((root) =>
    [root, ...history.corrections.get(root) ?? []]))
    .filter((place) => !history.added.has(place)).sort((one, other) => one - other);
  const places = said.filter((place) =>
    !isRetaken(history, place, [...said, ...discards]));
  return { places,
    line: { ...line, discarded: false, disputed: false, asserted: said } };
}

/** Give [check, place] of what a line said before it was discarded. */
export function failuresGone(scene, step, { line, places }) {
  return places.flatMap((place) => failuresAt(scene, step, line, place));
}

// Judge a line as an earlier reading or correction stated it.
function failuresAt(scene, step, line, place) {
  const older = scene.view.lineAt(line, place);
  const judged = scene.withLines(step.id,
    new Map(scene.lines(step.id)).set(line.id, older));
  const failed = step.checks.filter((check) => check.raises !== "caution"
    && fails(judged, check, check.scope === "line" ? `${step.id}/${line.id}` : "")
    && !(check.begins.length > 0
      && lineRaises(scene, step, older, check.id) === "block")).map(({ id }) => id);
  const { amended } = scene.view.sheet.raw;
  const unfit = amended >= 2 ? itemFailures(judged, step, older) : [];
  return [...failed, ...unfit].map((each) => [each, place]);
}
