// What this phone knows of the site's items and of who may enter them. Signs nothing.

import { siteEntries } from "../../device/book.js";
import { siteBundle } from "../../device/library.js";
import { inOrder } from "../numbers.js";
import { model, refresh } from "../model.js";
import { certificateOf, takesOut } from "./taken_out.js";

/**
 * The register as a person looks at it.
 * @returns {Promise<{roles:string[], kinds:object[], items:object[], zone?:number}>}
 *   kinds: {id, title, numbers, calibration?, unsayable}; items in the order of people,
 *   each with its `id`, `text` of the certificate, who entered it, when, and why if it
 *   was a correction; how many `earlier` certificates it had; `out`, why it was taken
 *   out of use, if it was; `planned`, whether its last day is a day of the programme,
 *   after which nothing has expired
 */
export async function readKnown() {
  // A page that begins here has not read the register yet.
  if (!model.registrars) await refresh();
  const [told, entries] = await Promise.all([siteBundle(), siteEntries()]);
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const items = Object.entries(model.items).map(([id, item]) => {
    const entry = byId.get(item.entry);
    return { ...item, id, text: certificateOf(entry, byId)?.about.text ?? "",
      at: entry?.at, earlier: Object.keys(item.certificates ?? {})
        .filter((one) => byId.has(one) && !takesOut(byId.get(one))).length - 1,
      photos: entry?.photos ?? [], reason: entry?.about.reason,
      renews: Boolean(entry?.about.replaces),
      by: entry?.key === model.identity?.officeKey ? undefined : entry?.person };
  }).sort((a, b) => inOrder(a.label, b.label));
  const kinds = kindsOf(told);
  const planned = new Set(kinds.filter((kind) => kind.planned).map(({ id }) => id));
  for (const item of items) item.planned = planned.has(item.kind);
  return { roles: told?.register?.roles ?? [], kinds, items,
    zone: told?.site?.zone };
}

// What a step may choose, or the site's files name: a kind whose certificates state
// what those files give no unit for is left to the files.
function kindsOf(told) {
  const chosen = told?.register?.kinds ?? {};
  const named = new Map((told?.site?.item_kinds ?? []).map((kind) => [kind.id, kind]));
  return Object.keys(chosen).map((id) => {
    const { title = id.replaceAll("-", " "), numbers = [], calibration, planned } =
      named.get(id) ?? {};
    const isFitted = calibration && chosen[id].numbers.includes("slope");
    const fitted = isFitted ? ["slope", "intercept", "low", "high"] : [];
    const sayable = [...numbers.map((one) => one.id), ...fitted];
    return { id, title, numbers, planned,
      calibration: isFitted ? calibration : undefined,
      unsayable: chosen[id].numbers.some((name) => !sayable.includes(name)) };
  }).sort((a, b) => inOrder(a.title, b.title));
}

/** Whether a certificate of this kind may have no last day: others have none. */
export function mayBeEndless(kind, items) {
  const alike = items.filter((item) => item.kind === kind.id);
  return !kind.calibration && (alike.length === 0
    || alike.some(({ expires }) => expires === undefined));
}
