// Where a form leads once it is saved: to the next form with no tap between, as long as
// all is as it should be, else to the joint.

import { currentOf, raceBegan } from "./column.js";
import { isPaper } from "./draft.js";
import { hasBegun, nextLine, tooEarly } from "./turns.js";
import { model } from "./model.js";

/** What the plan gives a line no longer than this is read in one go; what takes a step
 * longer than the other begins at another time. */
const [QUICK_MS, SITTING_MS] = [2 * 60_000, 20 * 60_000];

/** @param {object} form that was saved @returns {Promise<string>} what is shown now */
export async function onward(form) {
  const { open, subject, step, mode } = form;
  const home = `/joint/${subject}`;
  if (model.open.subject !== subject) return home;
  // Whoever settled a dispute goes back to what they left for it.
  if (open.state.steps[step].lines[form.line]?.status === "disputed") {
    const left = await import("./disputed.js").catch(() => {});
    return left?.leftFor() || home;
  }
  if (mode !== undefined) return home;
  const line = followingLine(form);
  if (line !== null) return `/form/${subject}/${step}/${line}`;
  const then = followingStep(form);
  return then ? `/form/${subject}/${then}` : home;
}

// Bar after bar of a round, point after point of a survey.
function followingLine({ step, line, entries }) {
  const { sheet, state } = model.open;
  const { class: kind, typical_ms: each } = sheet.steps[step];
  const isQuick = kind === "gated" && each <= QUICK_MS
    && state.steps[step].status === "partial";
  const goesOn = model.notice?.tone !== "red"
    && (isQuick || entries.some((one) => one.target !== undefined));
  const next = goesOn ? nextLine(sheet, state, step) : null;
  const stays = next !== null && next !== line && hasBegun(sheet, state, step, next)
    && state.steps[step].lines[next]?.status !== "disputed";
  return stays ? next : null;
}

// Before the race, what is asked next: never once it has begun, from paper, where
// anything is said of what was just read, or before it is of use.
function followingStep({ step, entries }) {
  const { sheet, state } = model.open;
  const id = currentOf(model.open);
  const next = sheet.steps[id];
  const goesOn = !raceBegan(model.open) && model.notice?.tone === "green"
    && !isPaper({ entries })
    && sheet.steps[step].class === "gated" && state.steps[step].status === "done"
    && next?.class === "gated" && !next.series && next.typical_ms <= SITTING_MS
    && (next.fields ?? []).some(({ need }) => need)
    && state.steps[id].refusals.length === 0 && state.steps[id].status !== "failed"
    && !tooEarly(model.open)?.steps.includes(id);
  return goesOn ? `${id}/${nextLine(sheet, state, id) || "-"}` : "";
}
