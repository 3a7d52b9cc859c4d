// Limits beside the questions of a form, once what reads them out of the checks is
// here: a form is there without.

let limits = null;

/** Say to each question its limits; `late` is told where they come afterwards. */
export function sayLimits(form, late) {
  if (limits) lay(form);
  else {
    import("./limits.js").then((one) => {
      limits = one;
      // What is being typed must not be drawn over.
      if (lay(form) && !form.kept) late();
    }, () => {});
  }
}

function lay({ open, step, line, entries }) {
  if (!open.scene) return false;
  for (const entry of entries.filter(({ field }) => field)) {
    entry.limit = limits.limitBeside(open, step, line, entry.field);
  }
  return true;
}
