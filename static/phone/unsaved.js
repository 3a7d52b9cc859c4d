// Answers of a form that are not saved: kept on the phone until they are saved or
// thrown away, whatever becomes of the browser. They are no entry and count as nothing.

import { dayClockText, wallMs } from "../device/clock.js";
import { dropMeta, getMeta, putMeta, transact } from "../device/database.js";
import { nextOpen } from "./asking.js";
import { stoppedAt } from "./decided.js";
import { icon } from "./icons.js";
import { mayChoose } from "./items.js";
import { model } from "./model.js";
import { button, h } from "./parts.js";
import { read } from "./reading.js";
import { personName } from "./speak.js";
import { words } from "./words.js";

const PLACE = "unsaved/";
const CORRECTING = ["correct", "photo"];

/** What is kept unsaved, oldest first. @param {string} [subject] of one subject only */
export async function unsavedOf(subject) {
  const first = subject === undefined ? PLACE : `${PLACE}${subject}/`;
  const rows = await transact(["meta"], "readonly", (store) => store("meta")
    .getAll(IDBKeyRange.bound(first, `${first}\uffff`)));
  return rows.sort((a, b) => a.begun - b.begun);
}

/** What is kept unsaved of the open subject's present attempt. @returns {object[]} */
export function unsavedHere({ unsaved = [], state, sheet }) {
  return unsaved.filter((row) => row.attempt === state.attempt && !isGone(row, sheet));
}

/** Say whether a newer sheet has no such step or line. @returns {boolean} */
export function isGone({ step, line }, { steps }) {
  const said = steps[step];
  return !said || (!said.series && Boolean(said.lines?.every(({ id }) => id !== line)));
}

/** Where a form's answers are kept until it is saved. @returns {string} */
export function unsavedKey({ subject, step, line, mode, open }) {
  const sort = CORRECTING.includes(mode) ? mode : "";
  return `${PLACE}${[subject, open.state.attempt, step, line, sort].join("/")}`;
}

/**
 * The address of the form that goes on with what was kept. Whether its gate is shut by
 * now, the form finds out anew.
 * @returns {string}
 */
export function routeOf({ subject, step, line, mode }) {
  const sort = CORRECTING.includes(mode) ? `/${mode}` : "";
  return `/form/${subject}/${step}/${line || "-"}${sort}`;
}

/** Note how a form begins, to know later whether anything was answered. */
export function noteBlank(form) {
  form.blank = JSON.stringify(answersOf(form));
}

/** Keep a form's answers as they stand; what says nothing new is not kept. */
export async function keepUnsaved(form) {
  // What is being saved is the journal's now.
  if (form.done || form.busy) return;
  form.answered = true;
  const answers = answersOf(form);
  form.kept = JSON.stringify(answers) !== form.blank;
  form.begun ??= wallMs();
  const { subject, step, line, mode, begun, open } = form;
  const row = {
    key: unsavedKey(form), subject, step, line, mode, begun, answers,
    asked: nameOf(form.entries[form.active]),
    attempt: open.state.attempt, person: form.by ?? model.shift?.person,
  };
  tellModel(row.key, form.kept ? row : undefined);
  try {
    await (form.kept ? putMeta(row.key, row) : dropMeta(row.key));
  } catch (fault) {
    // A full phone keeps no draft, but must not keep anybody from going on.
    form.note = `${words.joint.unsaved} ${fault.message}`;
  }
}

/** Take up what was kept of a form. @returns {Promise<boolean>} if there was any */
export async function takeUpUnsaved(form) {
  const kept = await getMeta(unsavedKey(form));
  if (!kept || form.kept) return false;
  Object.assign(form, { begun: kept.begun, by: kept.person, kept: true, found: true });
  const isPaper = kept.answers.some(({ name, value }) => name === "paper" && value);
  for (const entry of form.entries) {
    const answer = kept.answers.find((one) => one.name === nameOf(entry));
    if (answer && fits(form, entry, answer, isPaper)) takeUp(entry, answer);
  }
  // A figure half typed looks whole: it is asked again, with what it would mean.
  const half = form.entries.findIndex((entry) =>
    entry.text && nameOf(entry) === kept.asked);
  form.active = half < 0 ? nextOpen(form) ?? form.active : half;
  return true;
}

/** Throw a form's answers away, or those of a row kept. */
export function throwAway(key) {
  tellModel(key);
  return dropMeta(key);
}

/** Answers that were left say since when: nobody is to take them for new. */
export function begunBefore({ found, begun, by }) {
  return found ? h("p.careful", { id: "begun" }, icon("pen"),
    words.unsaved.since(dayClockText(begun), personName(model.people, by))) : null;
}

/** What stands below the questions, where its coming moves nothing under the thumb. */
export function unsavedNote(form) {
  if (!form.kept) return null;
  const left = async () => {
    form.done = true;
    await throwAway(unsavedKey(form));
    form.go(`/joint/${form.subject}`);
  };
  return h("div.ask", {},
    h("p.careful", { id: "unsaved" }, icon("pen"), words.unsaved.title),
    awayButton(left));
}

/** A key that throws away, once it was meant twice. */
export function awayButton(left) {
  const key = (mark, label, sort, onclick) =>
    button("plain", { mark, label, "data-away": sort, onclick });
  const first = key("cross", words.unsaved.away, "ask", () => first.replaceWith(
    key("warn", words.unsaved.sure, "sure", left)));
  return first;
}

function answersOf({ entries }) {
  return entries.map((entry) => ({
    name: nameOf(entry), said: JSON.stringify(entry.field), text: entry.text,
    value: entry.value, hashes: entry.hashes && [...entry.hashes],
  }));
}

function nameOf({ field, when, paper, reason }) {
  return field ? `field ${field.id}`
    : when ? "when" : paper ? "paper" : reason ? "reason" : "photos";
}

// A question that reads differently by now is asked anew, as is an item gone bad, or
// one taken over from the line before if a STOP came since.
function fits({ open, step, begun }, { field }, { said, value }, isPaper) {
  return said === JSON.stringify(field) && !(field?.same && begun <= stoppedAt(open))
    && (!field || isPaper || value === undefined
      || mayChoose(open, step, field, value));
}

function takeUp(entry, { text, value, hashes }) {
  Object.assign(entry, { text, value }, hashes && { hashes });
  if (entry.reason) entry.picker.take(value ?? "");
  else if (text && value === undefined) read(entry);
}

function tellModel(key, row) {
  if (!model.open?.unsaved) return;
  const others = model.open.unsaved.filter((one) => one.key !== key);
  model.open.unsaved = row ? [...others, row] : others;
}
