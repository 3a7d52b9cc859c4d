// Which line of a step is next: in its turn, again, or only a spare. Pure.

/** The first line of a step that still wants an entry, or null. */
export function nextLine(sheet, state, step) {
  const found = state.steps[step]?.lines ?? {};
  const planned = sheet.steps[step].lines ?? [{ id: "", need: true }];
  const open = planned.filter((line) => !isRead(found[line.id]));
  const begun = open.filter((line) => hasBegun(sheet, state, step, line.id));
  const wanted = begun.find((line) => line.need) ?? begun[0]
    ?? open.find((line) => line.need) ?? open[0] ?? again(state.steps[step], planned);
  return wanted ? wanted.id : null;
}

// A discarded line comes again only where no other takes its place.
function again(found, planned) {
  return found?.missing
    ? planned.find(({ id }) => found.lines[id]?.status === "discarded") : undefined;
}

/**
 * The line to read again where a step failed as a whole, by what its lines are worth
 * together: the one a failed check names, else the first. Without its line an entry
 * would count for nothing. @returns {string|null}
 */
export function failedLine(sheet, state, step) {
  const { status, failed = [], lines } = state.steps[step];
  const read = (sheet.steps[step].lines ?? []).filter(({ id }) => lines[id]);
  if (status !== "failed") return null;
  const said = JSON.stringify(sheet.steps[step].checks?.filter(({ id }) =>
    failed.includes(id)) ?? "");
  return (read.find(({ id }) => said.includes(`"line":"${id}"`)) ?? read[0])?.id
    ?? null;
}

/** Until when only time keeps a step, ms UTC: nobody's next work before that. */
export function heldUntil({ steps }, id) {
  return steps[id].refusals.find(({ code }) => code === "hold_running")?.facts.until;
}

function isRead(line) {
  return line !== undefined && line.status !== "failed";
}

/**
 * Where a clock runs line by line from one step to another, the first comes first; what
 * was lost comes last. @returns {boolean} whether a line's turn has come
 */
export function hasBegun(sheet, state, step, line) {
  if (isLost(sheet, state, step, line)) return false;
  const before = (sheet.clocks ?? []).filter((one) => one.per_line
    && one.until === step).map((one) => state.steps[one.start]);
  return before.length === 0 || before.some((one) => isRead(one?.lines[line])
    && one.lines[line].status !== "discarded");
}

// A thing whose loss is recorded, by a step of making safe that asks nothing more.
function isLost(sheet, state, step, line) {
  const item = (sheet.steps[step].lines ?? []).find(({ id }) => id === line)?.item;
  return item !== undefined && Object.entries(sheet.steps).some(([id, one]) =>
    one.class === "make_safe" && !one.fields?.length && (one.lines ?? []).some((each) =>
      each.item === item && id !== step && isRead(state.steps[id]?.lines[each.id])
        && state.steps[id].lines[each.id].status !== "discarded"));
}

/** Say whether an act may be left out: a spare kit, a further spot. */
export function isSpare(sheet, { step, line }) {
  const said = sheet.steps[step].lines?.find(({ id }) => id === line);
  return said !== undefined && !said.need;
}
