// What a list of items offers first: what was looked at before for this very use, where
// the plan asks that it was, else what another phone recorded last in this step. That
// is another thing in another hand: it is named, and never taken over by itself.

import { dayClockText } from "../device/clock.js";
import { readOf } from "./carry.js";
import { words } from "./later.js";
import { model } from "./model.js";
import { lookedAt } from "./named.js";
import { lineLabel } from "./speak.js";

const text = words.hanging;

/** @returns {{first:boolean, said?:string, warns?:boolean}} of an item in a list */
export function offeredAs(open, step, field, item) {
  const seen = lookedAt(open, field);
  if (seen.length) {
    const first = seen.includes(item);
    return { first, warns: !first, said: first ? text.looked : text.unlooked };
  }
  const last = field.same && readOf(open, step, field)
    .find(({ left, value }) => !left && value !== undefined);
  const first = last?.value === item && last.device !== model.identity?.device;
  return { first, said: first ? text.elsewhere([lineLabel(open.sheet, step, last.name),
    dayClockText(last.at)].filter(Boolean).join(" \u00b7 ")) : undefined };
}
