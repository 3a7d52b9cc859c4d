// Steps that are behind fold into one line of the column, so that a thumb walks a whole
// joint: never the last few, a gate, what keeps people safe, what is read time and
// again, or what is not as it should be.

import { icon } from "./icons.js";
import { lackingPhotos } from "./minutes.js";
import { badge, h } from "./parts.js";
import { stateBadge } from "./speak.js";
import { isOfLoss } from "./turns.js";
import { unsavedHere } from "./unsaved.js";
import { words } from "./words.js";

/** How many stay before the current one, and how many are worth a fold. */
const [STAY, FEWEST] = [4, 3];

/**
 * @param {object} open @param {string[]} flow what is shown, in order
 * @param {string|undefined} current what still wants something, none at the end
 * @param {{selected?:string, unfolded:Set<string>}} view
 * @returns {string[][]} the flow; what folds into one line in one list
 */
export function runsOf(open, flow, current, { selected, unfolded }) {
  const end = current === undefined ? flow.length : flow.indexOf(current) - STAY;
  const unsaved = unsavedHere(open).map((one) => one.step);
  const runs = [];
  let run = [];
  const close = () => {
    const folds = run.length >= FEWEST && !unfolded.has(run[0]);
    runs.push(...(folds ? [run] : run.map((id) => [id])));
    run = [];
  };
  for (const [place, id] of flow.entries()) {
    const quiet = place < end && id !== selected && !unsaved.includes(id)
      && isQuiet(open, id);
    if (quiet) run.push(id);
    else {
      close();
      runs.push([id]);
    }
  }
  close();
  return runs;
}

function isQuiet({ sheet, state }, id) {
  const step = state.steps[id];
  return Boolean(step) && sheet.steps[id].class !== "make_safe"
    && !sheet.steps[id].series && step.status === "done"
    && !isMarked(step, sheet.steps[id])
    && lackingPhotos(sheet, state, id).length === 0
    && Object.values(step.lines).every((one) => one.status === "ok");
}

/** Say whether a check fails or warns on a step or on a line of it that counts, or
 * whether anything was lost.
 * @param {object} step its state @param {object} said of it in the sheet
 * @returns {boolean} */
export function isMarked({ failed, cautions, lines }, said) {
  return [{ failed, cautions }, ...Object.values(lines)].some((one) =>
    one.status !== "discarded" && (one.failed.length + one.cautions.length > 0
      || (one.status && isOfLoss(said))));
}

/** The badge of a step: what a check warns of is done, but not as it should be.
 * @returns {HTMLElement} */
export function stepBadge(step, status, said) {
  return status === "done" && isMarked(step, said)
    ? badge("yellow", "warn", words.state.done) : stateBadge(status);
}

/** One line for steps that are behind. @returns {HTMLElement} */
export function foldItem({ sheet, state }, run, unfold) {
  const done = run.filter((id) => Object.keys(state.steps[id].lines).length > 0);
  const title = (id) => sheet.steps[id].title;
  return h("li.tooth.green.fold", { "data-fold": run[0] },
    h("button.row", { type: "button", "aria-expanded": "false", onclick: unfold },
      h("span.rowtitle", {}, icon("plus"),
        `${title(run[0])} \u2026 ${title(run.at(-1))}`),
      h("span.rowstate", {}, badge("green", "tick", words.joint.folded(done.length)))));
}
