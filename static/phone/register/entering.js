// The form of an item: a new one, a new certificate, or one that was entered wrongly.
// The figures, texts and choices are those of the form at the face.

import { monoMs } from "../../device/clock.js";
import { isSaving, nextOpen } from "../asking.js";
import { fieldRow, inputFor, markReady, saveButton } from "../fields.js";
import { figurePad } from "../keypad.js";
import { sayMissing } from "../missing.js";
import { engine, model, saveOrTell } from "../model.js";
import { button, DOUBLE_TAP_MS, fill, h } from "../parts.js";
import { keptSoon, photoKeys, thumbs } from "../photos.js";
import { reasonPicker } from "../reasons.js";
import { personName } from "../speak.js";
import { words as shared } from "../words.js";
import { mayBeEndless } from "./known.js";
import { keep, placeOf, takeUp, unsaved } from "./halfway.js";
import { labelText } from "./label.js";
import { mayRegister } from "./offer.js";
import { draftOf, read, rowsAfter, rowsFor, setDay } from "./rows.js";
import { words } from "./words.js";

const text = words.entering;
const SHORTEST_REASON = 3;

/**
 * Show the form. @param {HTMLElement} element @param {HTMLElement} dock
 * @param {{known:object, mode:"new"|"renew"|"correct"|"out", was?:object,
 *   label?:string, here:() => boolean, go:(route:string) => void,
 *   saved:(entry:object) => void}} how
 */
export async function enter(element, dock, how) {
  const form = { ...how, element, dock, active: -1, advanced: monoMs(), entries: [],
    key: placeOf(how.mode, how.was?.id ?? how.label ?? "") };
  const reasons = { correct: text.reasons, out: text.outReasons }[how.mode];
  shared.reasons.register = reasons ?? [];
  const picker = reasons ? reasonPicker("register", () => reasonSaid(form)) : undefined;
  form.entries = rowsFor({ ...how, picker });
  for (const row of form.entries) if (row.text) read(row, form);
  await takeUp(form);
  form.active = nextOpen(form) ?? 0;
  // What was entered wrongly is seldom the reason's fault.
  if (how.mode === "correct" && !form.found) form.active = dayPlace(form);
  if (form.here()) draw(form);
}

function dayPlace({ entries }) {
  return entries.findIndex((row) => row.day);
}

function draw(form) {
  const { element, dock, entries, mode, was } = form;
  const note = h("p.note", { role: "alert", id: "form-note" }, form.note ?? "");
  fill(element, was ? h("h2", {}, was.label) : null,
    mode === "renew" ? h("p.hint", {}, text.renewing) : null,
    mode === "correct" ? h("p.hint", {}, text.correcting) : null,
    mode === "out" ? h("p.hint", {}, text.takingOut) : null,
    h("div.fields", {}, ...entries.map((row, place) =>
      fieldRow({}, row, place === form.active, () => {
        form.active = place;
        form.sameKeys = true;
        draw(form);
      }))), note, form.kept ? unsaved(form) : null);
  fill(dock, input(form, entries[form.active]));
  element.querySelector(".field.active")?.scrollIntoView({ block: "nearest" });
}

function input(form, row) {
  const how = {
    ready: isSaving(form), skips: row.asked && row.value === undefined && !row.text,
    change: (changes) => change(form, changes),
    type: (typed) => {
      row.text = typed;
      read(row, form);
      keep(form);
      return isSaving(form);
    },
    go: () => advance(form),
  };
  if (row.day) return dayKeys(form, row, how);
  if (row.hashes) return photoDock(form, row, how);
  const asked = inputFor(undefined, undefined, row, how);
  const next = asked.querySelector("textarea");
  if (next && row.field) next.rows = 2;
  if (!row.point && !row.number) asked.classList.add("brief");
  return row.field?.id === "label" ? h("div.ask", {}, scanKey(form), asked) : asked;
}

function scanKey(form) {
  return button("plain", { mark: "photo", label: text.scan, id: "scan-item",
    onclick: async () => {
      const found = await labelText(form.known);
      if (found && form.here()) change(form, { ...found, value: undefined });
    } });
}

function dayKeys(form, row, how) {
  const kindId = form.entries.find(({ field }) => field?.id === "kind")?.value;
  const kind = form.known.kinds.find(({ id }) => id === (kindId ?? form.was?.kind));
  const pressed = (key) => {
    if (key === "go") how.go();
    else how.change({ text: key === "erase" ? row.text.slice(0, -1) : row.text + key });
  };
  const others = form.known.items.filter(({ id }) => id !== form.was?.id);
  const pad = figurePad(pressed, { signed: false, decimal: false, ready: how.ready,
    go: how.ready ? shared.form.save : shared.form.next });
  // In a place of the pad that is free: above it, the question would lose its room.
  if (kind && mayBeEndless(kind, others)) {
    pad.querySelector(".blank").replaceWith(h("button.key", { type: "button",
      id: "no-day", "aria-pressed": row.endless ? "true" : "false", onclick: () => {
        setDay(row, undefined);
        change(form, { text: "", value: row.value, done: true });
      } }, h("small", {}, text.noDay)));
  }
  return pad;
}

function photoDock(form, row, how) {
  const after = async (hash, fault) => {
    form.note = fault;
    if (hash && !row.hashes.includes(hash)) row.hashes.push(hash);
    await keep(form);
    if (form.here()) draw(form);
  };
  return h("div.ask", {}, thumbs(row.hashes), photoKeys({ before: () => keep(form),
    after, during: (one) => { form.taking = Promise.all([form.taking, one]); } }),
  saveButton(how));
}

function reasonSaid(form) {
  const row = form.entries.find((one) => one.reason);
  const said = row.picker.text();
  row.value = said.length >= SHORTEST_REASON ? said : undefined;
  keep(form);
  const key = form.dock.querySelector('[data-key="go"]');
  if (key) markReady(key, isSaving(form));
}

function change(form, changes) {
  if (form.busy) return;
  const row = form.entries[form.active];
  // A gloved double tap must not answer the next question, which stands in its place.
  const isSecond = monoMs() - form.advanced < DOUBLE_TAP_MS;
  if (isSecond && (changes.done || !form.sameKeys)) return;
  const before = row.value;
  const { done, ...answer } = changes;
  Object.assign(row, answer);
  form.note = "";
  if (!done && !answer.fault) read(row, form);
  if (row.value !== before) form.entries = rowsAfter(form.entries, row, form);
  keep(form);
  const goesOn = done && nextOpen(form) !== undefined && !isSaving(form);
  if (goesOn) advance(form);
  else draw(form);
}

function advance(form) {
  const row = form.entries[form.active];
  row.fault ??= row.field?.need && row.value === undefined ? missing(row) : undefined;
  if (row.fault) {
    draw(form);
    return;
  }
  if (row.asked && row.value === undefined) pass(form, row.point);
  if (isSaving(form)) {
    commit(form);
    return;
  }
  form.active = nextOpen(form) ?? form.active;
  form.advanced = monoMs();
  const isTyped = (one) => one.day || one.field?.kind === "number";
  form.sameKeys = isTyped(row) && isTyped(form.entries[form.active]);
  draw(form);
}

function missing({ day, field: { id, kind } }) {
  if (day) return text.fault.day;
  return kind === "number" ? shared.form.fault.empty : text.fault[id];
}

// Of a point that is not on the certificate, the force is not there either.
function pass({ entries }, point) {
  for (const row of entries) {
    if (row.point === point && row.value === undefined) row.skipped = true;
  }
}

function refuse(form, said, row) {
  form.note = said;
  if (row) form.active = form.entries.indexOf(row);
  draw(form);
  sayMissing(form.element.querySelector("#form-note"), said);
}

async function commit(form) {
  if (form.busy) return;
  const { shift } = model;
  if (!shift) {
    await keep(form);
    form.go("/people");
    return;
  }
  const why = mayRegister() ? undefined
    : text.role(personName(model.people, shift.person));
  const { was } = form;
  const moved = was && model.items[was.id]?.entry !== was.entry;
  const draft = moved ? { fault: text.fault.moved }
    : draftOf({ ...form, rows: form.entries });
  if (why || draft.fault) {
    refuse(form, why ?? draft.fault, why ? undefined : draft.row);
    return;
  }
  form.busy = true;
  await keptSoon(form.taking);
  const entry = await saveOrTell({ kind: "registered", ...draft, unsaved: form.key },
    shift, async (...told) => (await engine()).saveForSite(...told));
  form.busy = false;
  if (!entry) return;
  form.done = true;
  form.saved(entry);
}
