// Lets the tests put questions about the office's history to the phone's own module.

import {
  compare, contradicts, onward, proves, START,
} from "../../static/device/history.js";

/** Follow a list of ids from the start; gives every place passed. */
export async function followed(ids) {
  const passed = [];
  let at = { last: START.last, head: START.head };
  for (const id of ids) {
    at = await onward(at, id);
    passed.push(at);
  }
  return passed;
}

export { compare, contradicts, proves };
