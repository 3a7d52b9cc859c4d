// Recording one line of a step: all its fields in view with what was understood, keys
// for gloves below. Nothing is saved but by the one SAVE key.

import { monoMs, timed } from "../device/clock.js";
import { firstAsked, isSaving, nextOpen } from "./asking.js";
import { justWon, meansOf, sayActive, sayLimits, warningOf } from "./beside.js";
import { noteCopying } from "./copying.js";
import {
  answersFor, draftOf, isOffered, isPaper, modeOf, takenBeside,
} from "./draft.js";
import { fieldRow, inputFor, markReady, saveButton } from "./fields.js";
import { model, save } from "./model.js";
import { notice, saidSaved } from "./notice.js";
import { onward } from "./onward.js";
import { DOUBLE_TAP_MS, fill, h, holdOff } from "./parts.js";
import { keptSoon, photoKeys, thumbs } from "./photos.js";
import { read, targetOf } from "./reading.js";
import { reasonPicker } from "./reasons.js";
import { reminders } from "./reminders.js";
import { intoSight } from "./sight.js";
import { lineLabel, refusalText } from "./speak.js";
import {
  begunBefore, keepUnsaved, noteBlank, takeUpUnsaved, unsavedKey, unsavedNote,
} from "./unsaved.js";
import { words } from "./words.js";

const text = words.form;
const SHORTEST_REASON = 3;
/** The next line looks much like the one saved: its target takes no tap for that. */
const NEXT_LINE_MS = 900;
/** Letters of a title that leave the keys their room. */
const LONG_TITLE = 44;

let heading = "";
let savedAt = -NEXT_LINE_MS;
export const title = () => heading;

/** Show the form of params [subject, step, line, mode]. @returns {() => void} */
export function mount(element, { dock, go, params, here }) {
  const [subject, step, lineParam, mode] = params;
  const open = model.open;
  const line = lineParam === "-" || lineParam === undefined ? "" : lineParam;
  const said = open.sheet.steps[step];
  const form = {
    open, step, line, mode, go, here, subject, active: -1, opened: monoMs(),
    advanced: monoMs(), busy: false,
    label: lineLabel(open.sheet, step, line) || said.title,
    entries: [],
  };
  // Which line it is comes first, and where both are long, alone.
  heading = [...new Set([form.label, said.title])].join(" \u00b7 ");
  if (heading.length > LONG_TITLE && form.label.length > LONG_TITLE / 3) {
    heading = form.label;
  }
  form.shut = open.state.steps[step].refusals[0];
  form.mode = modeOf(form);
  form.entries = answersFor(open, step, line, form.mode);
  const draw = () => drawForm(element, dock, form, draw);
  if (form.mode === "anyway" || form.mode === "correct") addReason(form, dock);
  form.active = firstAsked(form);
  sayLimits(form, () => { if (here()) draw(); });
  draw();
  noteBlank(form);
  takeUpUnsaved(form).then((taken) => { if (taken && here()) draw(); });
  const onkey = (event) => typedKey(event, form, draw);
  document.addEventListener("keydown", onkey);
  // An alarm that comes above takes room: what is asked stays in sight.
  const sight = new ResizeObserver(() => intoSight(element, form));
  sight.observe(element);
  return () => {
    document.removeEventListener("keydown", onkey);
    sight.disconnect();
  };
}

function drawForm(element, dock, form, draw) {
  const { open, entries } = form;
  sayActive(form);
  fill(element, notice(), form.mode ? null : justWon(open),
    begunBefore(form),
    form.mode === "anyway" ? h("div.caution", {}, h("b", {}, text.anyway),
      form.shut ? h("p", {},
        refusalText(form.shut, open.sheet, model.people, open.state)) : null) : null,
    form.mode === "correct" ? h("p.hint", {}, text.correct) : null,
    ...reminders(form),
    h("div.fields", {}, ...entries.map((entry, place) =>
      fieldRow(open, entry, place === form.active, () => {
        form.active = place;
        form.sameKeys = true;
        draw();
      }, isPaper(form)))),
    h("p.note", { role: "alert", id: "form-note" }, form.note ?? ""),
    unsavedNote(form));
  drawDock(dock, form, draw);
  intoSight(element, form);
}

function drawDock(dock, form, draw) {
  const active = form.entries[form.active];
  if (active.field?.kind === "number") active.target = targetOf(form, active.field);
  const input = (active.hashes ? photoDock : fieldDock)(form, active, draw);
  const warning = warningOf(form, active);
  fill(dock, warning ? h("div.ask", {}, warning, input) : input);
  holdOff(dock, savedAt, ".target", NEXT_LINE_MS);
}

function fieldDock(form, active, draw) {
  return inputFor(form.open, form.step, active, {
    ready: isSaving(form), taken: takenBeside(form, active), paper: isPaper(form),
    skips: isOffered(form, active) && !active.text, whose: form.label,
    change: (changes) => change(form, changes, draw),
    // Typed text must not lose its keyboard: no drawing, only whether it is enough.
    type: (typed) => {
      Object.assign(form.entries[form.active], { text: typed });
      if (!active.paper) read(form.entries[form.active]);
      keepUnsaved(form);
      return isSaving(form);
    },
    go: () => advance(form, draw), means: (entry) => meansOf(form, entry),
  });
}

function photoDock(form, entry, draw) {
  const after = async (hash, fault) => {
    form.note = fault;
    if (hash && !entry.hashes.includes(hash)) entry.hashes.push(hash);
    await keepUnsaved(form);
    if (form.here()) draw();
  };
  return h("div.ask", {}, thumbs(entry.hashes),
    photoKeys({ before: () => keepUnsaved(form), after,
      during: (one) => { form.taking = Promise.all([form.taking, one]); } }),
    saveButton({ ready: isSaving(form), go: () => advance(form, draw) }));
}

// Why a gate was passed or a reading changed is asked like any other field.
function addReason(form, dock) {
  const entry = { reason: true, text: "", value: undefined };
  entry.picker = reasonPicker(form.mode === "correct" ? "correction" : "anyway", () => {
    const said = entry.picker.text();
    entry.value = said.length >= SHORTEST_REASON ? said : undefined;
    document.querySelector('[data-field="reason"] .echo')
      ?.replaceChildren(said || "\u2026");
    keepUnsaved(form);
    markReady(dock.querySelector('[data-key="go"]'), isSaving(form));
  });
  // Why a reading is changed stands above the readings.
  form.entries.splice(form.mode === "correct" ? 0 : -1, 0, entry);
}

function change(form, changes, draw, { typed = false } = {}) {
  // What is being saved takes no more answers.
  if (form.busy) return;
  const entry = form.entries[form.active];
  // A gloved double tap must not answer the next question, which stands in its place.
  const isSecond = !typed && monoMs() - form.advanced < DOUBLE_TAP_MS;
  if (isSecond && (changes.done || !form.sameKeys)) return;
  Object.assign(entry, changes);
  form.note = "";
  if (!("value" in changes)) read(entry);
  const { done } = entry;
  // What is chosen may ask for what was optional.
  if (done) sayActive(form);
  delete entry.done;
  // A choice goes on by itself, but only a form of one question saves on it.
  const single = !isPaper(form)
    && form.entries.filter(({ field, reason }) => field || reason).length === 1;
  const goesOn = single || nextOpen(form) !== undefined;
  const going = done === "save" || (done && goesOn);
  // What is saved at once needs no keeping.
  if (!(going && isSaving(form))) keepUnsaved(form);
  if (going) advance(form, draw, { chosen: true });
  else draw();
}

function advance(form, draw, { chosen = false } = {}) {
  const entry = form.entries[form.active];
  if (entry.fault) return;
  if (isOffered(form, entry)) entry.skipped = true;
  if (isSaving(form)) {
    // The second tap of what led here must not save what nobody has looked at.
    if (form.answered || monoMs() - form.opened > DOUBLE_TAP_MS) commit(form, draw);
    return;
  }
  form.active = nextOpen(form) ?? form.active;
  form.advanced = monoMs();
  // From figure to figure by the pad's own key, the next digit may come at once.
  form.sameKeys = !chosen && isTyped(entry) && isTyped(form.entries[form.active]);
  draw();
}

function isTyped({ when, field }) {
  return when || field?.kind === "number";
}

async function commit(form, draw) {
  if (form.busy) return;
  if (!model.shift) {
    await keepUnsaved(form);
    form.go("/people");
    return;
  }
  // Shut since it was opened, as by another phone's reading: the form says so first.
  const [shut] = model.open.state.steps[form.step]?.refusals ?? [];
  if (modeOf({ ...form, shut }) !== form.mode) {
    await keepUnsaved(form);
    form.go(location.hash.slice(1));
    return;
  }
  form.busy = true;
  const before = model.open.state;
  let entry;
  try {
    await keptSoon(form.taking);
    const draft = { ...draftOf(form), unsaved: unsavedKey(form) };
    entry = await timed("saved-and-folded", () => save(draft, model.shift));
  } catch (fault) {
    form.note = `${words.joint.unsaved} ${fault.message}`;
    form.busy = false;
    keepUnsaved(form);
    if (form.here()) draw();
    throw fault;
  }
  form.done = true;
  savedAt = monoMs();
  await noteCopying(form, entry);
  saidSaved(entry, form.label, before);
  form.go(await onward(form));
}

function typedKey(event, form, draw) {
  if (["TEXTAREA", "INPUT"].includes(event.target.tagName)) return;
  const entry = form.entries[form.active];
  if (!isTyped(entry)) return;
  const typed = (text) => change(form, { text }, draw, { typed: true });
  if (/^[\d.,:-]$/.test(event.key)) typed(entry.text + event.key);
  if (event.key === "Backspace") typed(entry.text.slice(0, -1));
  // On a key of the screen, Enter presses that key.
  if (event.key === "Enter" && event.target.tagName !== "BUTTON") advance(form, draw);
}

