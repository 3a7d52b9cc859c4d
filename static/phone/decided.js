// What is decided wants nothing more: a time over that somebody disposed of rings no
// more, and a STOP is over once what was reported of it is disposed of. Until then it
// is in sight, whatever else was decided meanwhile.

const DECIDED = new Set(["disposed", "closed"]);
const OVER = new Set(["complete", "concession", "rejected"]);

/**
 * Whether a deadline of this attempt wants nothing of anybody any more.
 * @param {{sheet:object, state:object}} open
 * @param {{id:string, raises?:string}} deadline of a clock, as `deadlinesOf` gives it
 * @param {string} [line] of its clock @returns {boolean}
 */
export function timeDecided({ sheet, state }, { id, raises }, line = "") {
  if (OVER.has(state.verdict)) return true;
  return (state.nonconformances ?? []).some((one) => one.code === "clock_over"
    && DECIDED.has(one.status) && (one.line ?? "") === line
    && sheet.clocks.some(({ id: clock, start }) => start === one.step
      && (id === `${clock}.${one.check}` || (!raises && id.startsWith(`${clock}.`))))
    // One of an attempt that is over says nothing of this one.
    && Object.values(state.steps[one.step].lines).some(({ entries }) =>
      entries.includes(one.entry)));
}

/**
 * The newest STOP, made safe, of which it is not decided yet what becomes of it: what
 * was reported of it; where nothing was, somebody's word or a new attempt ends it.
 * @returns {{stop:object, reported:object[], said:string[]}|undefined} entries, ids
 */
export function stopLeft({ entries, state }) {
  if (state.stopped) return undefined;
  const named = (ids) => entries.filter(({ id }) => ids.includes(id));
  return state.stops?.map(({ entry, reported, said }) => ({
    stop: named([entry])[0], reported: named(reported), said,
  })).findLast((one) => !isOver(one, state));
}

function isOver({ stop, reported, said }, { attempt, nonconformances }) {
  if (reported.length === 0) return said.length > 0 || stop.attempt !== attempt;
  const open = new Set(nonconformances.filter(({ status }) => !DECIDED.has(status))
    .map(({ id }) => id));
  return !reported.some(({ id }) => open.has(id));
}

/** Whether a STOP, in force or made safe, ended the release on which work is done. */
export function isCalledOff(open) {
  const { stopped } = open.state;
  const left = stopped ? { stop: { about: stopped } } : stopLeft(open);
  return Boolean(left) && callsOff(open, left);
}

/**
 * Whether a STOP ended the release on which work is done now: then nothing that goes on
 * is offered before what the STOP asks for. @returns {boolean}
 */
export function callsOff({ sheet, state }, { stop }) {
  return Object.values(sheet.points).some(({ lapses = [], shuts = [] }) =>
    lapses.includes(stop.about.reason) && shuts.some((step) =>
      Object.keys(state.steps[step]?.lines ?? {}).length > 0));
}

/** When somebody last said STOP, ms UTC; 0 if nobody did. @returns {number} */
export function stoppedAt({ entries }) {
  return Math.max(0, ...entries.filter(({ kind }) => kind === "stopped")
    .map(({ at }) => at));
}
