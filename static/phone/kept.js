// What is kept of the open subject for the next cold start: its state, and of its sheet
// only what the joint's own screen says. Rules are not in it, so nothing can be judged,
// and nothing signed, by what was kept.

const RULES = new Set([
  "conditions", "facts", "pictures", "prerequisites", "tables", "values",
]);
const STEP_RULES = new Set(["by", "first", "least", "needs", "sign_off", "source"]);
const CHECK_SAYS = ["id", "text"];
const LINE_RULES = new Set(["numbers"]);
const POINT_RULES = new Set([
  "after", "covers", "critical", "independent", "other_organisation", "releases",
  "source",
]);
/** Of the entries, what the screens themselves look into before the fold is there. */
const SHOWN_KINDS = new Set(["acknowledged", "copied", "disposition", "made_safe",
  "nonconformance", "note", "proposal", "refusal", "release", "spoken", "stopped"]);

/** @returns {object} an open subject as far as its screen shows it */
export function shownOf({ subject, hash, sheet, state, asOf, entries }) {
  return {
    subject, hash, state, asOf, sheet: sheetShown(sheet),
    entries: entries.filter(({ kind, step }) => SHOWN_KINDS.has(kind)
      || sheet.steps[step]?.fields?.some(({ same }) => same)).map(slim),
  };
}

// Of a reading only whose hand it was: the next line takes over what that held.
function slim(entry) {
  const { id, kind, device } = entry;
  return SHOWN_KINDS.has(kind) ? entry : { id, kind, device };
}

function sheetShown(sheet) {
  return {
    ...without(sheet, RULES),
    steps: each(sheet.steps, stepShown),
    points: each(sheet.points, (point) => without(point, POINT_RULES)),
  };
}

function stepShown(step) {
  const { checks, lines } = step;
  return {
    ...without(step, STEP_RULES),
    checks: checks?.map((check) => only(check, CHECK_SAYS)),
    lines: lines?.map((line) => without(line, LINE_RULES)),
  };
}

function each(parts, shown) {
  return Object.fromEntries(Object.entries(parts).map(([id, one]) => [id, shown(one)]));
}

function without(thing, names) {
  return Object.fromEntries(Object.entries(thing).filter(([name]) => !names.has(name)));
}

function only(thing, names) {
  return Object.fromEntries(names.map((name) => [name, thing[name]]));
}
