// Which line of a step is next: in its turn, again, or only a spare. Pure.

/** The first line of a step that still wants an entry, or null: what is disputed is
 * read again once the others are read. */
export function nextLine(sheet, state, step) {
  const found = state.steps[step]?.lines ?? {};
  const planned = sheet.steps[step].lines ?? [{ id: "", need: true }];
  const open = planned.filter((line) => !isRead(found[line.id]));
  const begun = open.filter((line) => hasBegun(sheet, state, step, line.id));
  const wanted = begun.find((line) => line.need)
    ?? planned.find(({ id }) => isDisputed(found[id])) ?? begun[0]
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

/** How old what was read on a step may be, where a demand asks just that.
 * @returns {{step:string, most:number}|undefined} ms */
export function ageAsked({ conditions = {} }, must) {
  const { word, value, low, high } = conditions[must] ?? must;
  const isAge = word === "between" && low === undefined && typeof high === "number"
    && value?.word === "elapsed" && value.to === "now" && value.from?.step;
  return isAge ? { step: value.from.step, most: high } : undefined;
}

/**
 * What a gate wants fresh and would find too old, as only time opens it; with all that
 * comes behind that, up to the gate.
 * @param {{sheet:object, state:object, asOf:number}} open
 * @returns {{steps:string[], hold:string, until:number, from:number}|undefined} what
 *   waits until when, and from when on the first of the steps is of use, ms UTC
 */
export function tooEarly({ sheet, state, asOf }) {
  const { flow, points } = sheet;
  return flow.map((point) => {
    // A gate that was used asks for nothing anew.
    if (points[point]?.shuts?.some((step) =>
      Object.keys(state.steps[step].lines).length > 0)) return undefined;
    const [held] = state.points[point]?.refusals?.filter(({ code }) =>
      code === "hold_running").map(({ facts }) => facts)
      .sort((a, b) => b.until - a.until) ?? [];
    const place = (id) => flow.indexOf(id);
    const [age] = held ? points[point].requires?.map(({ must }) =>
      ageAsked(sheet, must)).filter((one) => one && held.until - one.most > asOf)
      .sort((a, b) => place(a.step) - place(b.step)) ?? [] : [];
    // Parting and cleaning waits for nothing.
    return age && { ...held, from: held.until - age.most,
      steps: flow.slice(place(age.step), place(point) + 1)
        .filter((id) => !sheet.steps[id]?.again) };
  }).find(Boolean);
}

function isRead(line) {
  return line !== undefined && line.status !== "failed";
}

const isDisputed = (line) => line?.status === "disputed";

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
    isOfLoss(one) && one.lines.some((each) =>
      each.item === item && id !== step && isRead(state.steps[id]?.lines[each.id])
        && state.steps[id].lines[each.id].status !== "discarded"));
}

/** Say whether what a step records is lost: nothing of it is in limits. */
export const isOfLoss = ({ class: kind, fields, lines }) => kind === "make_safe"
  && !fields?.length && Boolean(lines?.some(({ item }) => item !== undefined));

/** Say whether an act may be left out: a spare kit, a further spot; never what takes
 * the place of a line that was discarded, or whose kit was. */
export function isSpare(sheet, state, { step, line }) {
  const { lines } = sheet.steps[step];
  const said = lines?.find(({ id }) => id === line);
  const { lines: found, missing = 0 } = state.steps[step];
  return said !== undefined && !said.need && missing <= lines.filter(({ id, need }) =>
    need && !isRead(found[id]) && hasBegun(sheet, state, step, id)).length;
}

/** What nothing asks for, or is done, is opened to be looked at: it wants a SAVE; so
 * does what two have read differently. */
export function isAskedFor(open, { step, line }) {
  const { sheet, state } = open;
  const [{ class: kind }, { lines, status }] = [sheet.steps[step], state.steps[step]];
  return kind !== "make_safe" && status !== "done" && !isDisputed(lines[line])
    && !(kind === "raced" && partedAt(open)) && !isSpare(sheet, state, { step, line });
}

/** When what this attempt put on was taken off again, ms UTC: nothing of its race leads
 * any more, what becomes of it is decided. @returns {number} 0 while it is not */
export function partedAt({ entries, sheet, state }) {
  const linesOf = (id) => Object.values(state.steps[id]?.lines ?? {})
    .filter(({ status }) => status !== "discarded");
  return Math.max(0, ...sheet.flow.flatMap((id) => {
    const on = (sheet.steps[id]?.takes_off ?? []).flatMap(linesOf).map(({ at }) => at);
    return linesOf(id).filter(({ at, entry, status }) => status === "ok"
      && at >= Math.min(...on) && state.attempt === (entries.find((one) =>
      one.id === entry) ?? state).attempt).map(({ at }) => at);
  }));
}

/** A reading for clocks that have all ended, or whose life is over, says nothing any
 * more. @param {number} [now] ms UTC, in a race */
export function isTooLate({ clocks = [], steps }, state, step, now) {
  const fed = clocks.filter(({ id, temps }) => state.clocks?.[id]
    && temps?.some((one) => one.step === step));
  return Boolean(steps[step].series) && fed.length > 0
    && fed.every(({ id, ratios }) => {
      const { ended, deadlines } = state.clocks[id];
      const ends = ratios.filter(({ raises }) => raises).map((one) => one.id);
      return ended || (ends.length > 0 && ends.every((end) => deadlines?.[end] <= now));
    });
}
