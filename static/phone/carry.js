// What the next line takes over from the last that this phone recorded: the same jack,
// the same lot. Another phone's is another thing in another hand. After a STOP, a line
// discarded, or one whose item was not fit, it is asked for anew: it may be the very
// thing that failed. Where a plan sets lines in groups, one group's is not the other's:
// a level measures no line.

import { stoppedAt } from "./decided.js";

/**
 * The last reading of a field that the sheet carries over to a line, if any.
 * @param {string} device this phone's
 * @param {(item: string) => any} isUnfit says of an item why it is not fit for use
 */
export function carriedOver(open, step, line, field, device, isUnfit = () => false) {
  if (!field.same) return undefined;
  const { lines = [] } = open.sheet.steps[step];
  const groupOf = (name) => lines.find(({ id }) => id === name)?.group;
  const read = readOf(open, step, field)
    .filter(({ name }) => groupOf(name) === groupOf(line));
  const mine = read.filter((one) => one.device === device);
  const last = mine.find(({ value }) => value !== undefined);
  // Whoever threw it away since, or found it wrong, need not have been on this phone.
  const isLeft = !last || mine[0].left || read.slice(0, read.indexOf(last))
    .some(({ left, value }) => left && value === last.value);
  return isLeft || (field.kind === "item" && isUnfit(last.value)) ? undefined
    : last.value;
}

/**
 * What the lines of a step say of a field since the last STOP, the newest first.
 * @returns {{name:string, at:number, value?:any, device?:string, left:boolean}[]}
 *   `left`: thrown away, read differently by two, or of an item that was not fit
 */
export function readOf({ entries, state }, step, field) {
  const [stopped, by] = [stoppedAt({ entries }), new Map(entries.map((one) =>
    [one.id, one]))];
  const isBad = (id) => id.startsWith("item_") && id.endsWith(`:${field.id}`);
  return Object.entries(state.steps[step].lines)
    .filter(([, { at }]) => at > stopped)
    .map(([name, { at, values, status, failed = [], entries: ids = [] }]) => ({
      name, at, value: values?.[field.id],
      // Who corrected a figure did not hold the jack.
      device: ids.map((id) => by.get(id)).findLast((one) =>
        one && one.kind !== "correction")?.device,
      left: status === "discarded" || status === "disputed" || failed.some(isBad),
    })).sort((a, b) => b.at - a.at);
}
