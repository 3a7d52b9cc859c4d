// A reason half typed, and what is chosen beside it, are kept on the phone until they
// are signed, whatever becomes of the browser. They are no entry and count as nothing.

import { dayClockText, wallMs } from "../device/clock.js";
import { dropMeta, getMeta, putMeta, transact } from "../device/database.js";
import { icon } from "./icons.js";
import { model } from "./model.js";
import { fill, h } from "./parts.js";
import { reasonPicker } from "./reasons.js";
import { words } from "./later.js";

/** Not where answers of forms are kept: no form goes on with it. */
const PLACE = "written/";
const DISPOSITION = "disposition";
export const CONDITIONS = "conditions";
/** What nobody signed for so long is forgotten. */
const LONGEST_MS = 30 * 24 * 3_600_000;
const NOTHING = { chosen: () => ({}), take: () => {} };

/**
 * A picker as `reasonPicker` makes it, that begins with what was left typed here.
 * @param {string} kind which ready-made reasons @param {string} about what is signed
 * @param {() => void} [changed] @param {string} [offered] what stands there at first
 * @param {{chosen:() => object, take:(chosen:object) => void}} [beside] what is chosen
 *   beside the reason, and how it is chosen again
 * @returns {{element:HTMLElement, text:() => string, take:(said:string) => void,
 *   keep:() => void, done:() => Promise<void>}} `keep` is told of what was chosen
 *   beside it, `done` forgets all, once it is signed
 */
export function keptReason(kind, about, changed = () => {}, offered = "",
  beside = NOTHING) {
  const place = keptHere(kind, about);
  const note = h("p.careful", { hidden: true });
  let touched = false;
  const keep = () => {
    touched = true;
    note.hidden = true;
    const [said, chosen] = [picker.text(), beside.chosen()];
    const isNew = said !== "" && said !== offered.trim();
    place.keep(isNew || isSaid(chosen) ? { said, chosen } : undefined);
  };
  const picker = reasonPicker(kind, () => { keep(); changed(); });
  picker.take(offered);
  place.read().then((row) => {
    if (!row || touched) return;
    picker.take(row.said);
    fill(note, ...notSaved(row));
    note.hidden = false;
    beside.take(row.chosen ?? {});
  });
  picker.element.append(note);
  return { ...picker, keep, done: place.drop };
}

/** Where something half said about the open subject is kept. */
export function keptHere(kind, about) {
  const { subject, state } = model.open;
  const key = `${PLACE}${[subject, state.attempt, kind, about].join("/")}`;
  return {
    read: () => getMeta(key),
    // A full phone keeps nothing half typed, but keeps nobody from signing.
    keep: (row) => (row ? putMeta(key, { ...row, key, kind, about, subject,
      at: wallMs() }) : dropMeta(key)).catch(() => {}),
    drop: () => dropMeta(key),
  };
}

/** Since when it is not saved yet. @returns {(Node|string)[]} */
export function notSaved({ at }) {
  return [icon("pen"), `${words.unsaved.title}, ${dayClockText(at)}`];
}

/**
 * Forget what was half said about what somebody has decided since, and whatever nobody
 * signed for long: it would stay on the phone for ever.
 */
export function forgetDecided(open) {
  const kept = IDBKeyRange.bound(PLACE, `${PLACE}\uffff`);
  return transact(["meta"], "readwrite", (store, then) => {
    then(store("meta").getAll(kept), (rows) => {
      for (const row of rows) {
        if (isOver(open, row)) store("meta").delete(row.key);
      }
    });
  }, "relaxed").catch(() => {});
}

function isOver({ subject, state, entries }, row) {
  if (wallMs() - row.at > LONGEST_MS) return true;
  if (row.subject !== subject) return false;
  if (row.kind === CONDITIONS) return isAnswered(state, entries, row);
  if (row.kind !== DISPOSITION) return false;
  const wanted = row.about.split("+");
  return wanted.every((id) => isDecidedSince(state, entries, id, row.at));
}

// A repair that is decided waits for its closing: what is typed for that stays.
function isDecidedSince({ nonconformances }, entries, id, at) {
  const found = nonconformances.find((one) => one.id === id);
  return !found || found.status === "closed" || entries.some((entry) =>
    entry.kind === DISPOSITION && entry.about.target === id && entry.made > at);
}

// Refused, or released as far as anybody must: of several who sign, the next may still
// say what the first left open.
function isAnswered({ points }, entries, { about, at }) {
  const isSigned = ["released", "lapsed", "expired"].includes(points[about]?.status);
  return entries.some(({ kind, point, made }) => point === about && made > at
    && (kind === "refusal" || (kind === "release" && isSigned)));
}

function isSaid(chosen) {
  return Object.values(chosen).some((one) => one !== null && one !== undefined);
}
