// What the phone knows right now, for the screens to show. All of it is derived and
// can be made again from storage; the only way to change a fact is `save`. The engine
// that folds entries is loaded behind the first screen and waited for by every act.

import { wallMs } from "../device/clock.js";
import { early, signersOf, UNKEPT } from "../device/early.js";

export const model = {
  shell: UNKEPT, settings: { theme: "sun", hand: "right" }, identity: null, here: [],
  shift: null, people: {}, titles: {}, zone: undefined, outbox: { count: 0 }, sync: {},
  open: null, notice: null, lastSubject: undefined, wanted: null,
};

/** Say whether the office ended this phone: reported lost. @returns {boolean} */
export function isEnded() {
  const { sync, identity } = model;
  return Boolean(sync.ended || (identity?.ended && !sync.since));
}

/** Say whether the office has yet to hear of this phone, signed for by another. */
export function isUnproven() {
  return Boolean(model.sync.refused && model.identity && !model.identity.token);
}

/** When the office was last heard, before this start as well; ms UTC, if ever. */
export function lastHeard() {
  return model.sync.since ?? model.heard;
}

const listeners = new Set();
let loading = null;
let pressed = false;
let waiting = false;
const held = [];

/** Hear of every change. @returns {() => void} stop hearing */
export function subscribe(told) {
  listeners.add(told);
  return () => listeners.delete(told);
}

/** Tell every screen that something it may show has changed. */
export function changed() {
  waiting = pressed;
  if (!pressed) for (const told of [...listeners]) told();
}

/** While a finger is down nothing is drawn anew: what it pressed must stay. */
export function press(down) {
  pressed = down;
  if (down) return;
  for (const work of held.splice(0)) work();
  if (waiting) changed();
}

/** Draw once no finger is down. @param {() => void} work */
export function onceLifted(work) {
  if (pressed) held.push(work);
  else work();
}

/** The engine, loaded once. @returns {Promise<typeof import("./engine.js")>} */
export function engine() {
  loading ??= import("./engine.js");
  return loading;
}

/** Take what was read early; a kept view makes the first screen without the engine. */
export async function loadEarly() {
  const {
    settings, identity, lastSubject, shift, keys, outbox, view, copying, heard,
  } = await early;
  if (settings) model.settings = settings;
  model.identity = identity ?? null;
  model.shell = identity?.shell ?? UNKEPT;
  model.lastSubject = lastSubject;
  model.shift = shift && shift.until > wallMs() ? shift : null;
  model.here = signersOf(keys);
  model.outbox = outbox;
  model.copying = copying;
  model.heard = heard;
  if (view) {
    model.people = view.people;
    model.titles = view.titles;
    model.zone = view.zone;
    model.open = view.open;
  }
}

/** @returns {string} a subject's title, as far as its sheet has been read */
export function subjectTitle(subject) {
  return model.titles[subject] ?? subject;
}

/** Read again who is here, what waits and, if one is open, the subject. */
export async function refresh() {
  return (await engine()).refresh();
}

/** Open a subject for the screens. @returns {Promise<object>} */
export async function openSubject(subject) {
  return (await engine()).openSubject(subject);
}

/** @returns {Promise<object[]>} every issued subject, or some, with its folded state */
export async function readAll(subjects) {
  return (await engine()).readAll(subjects);
}

/** @returns {Promise<string[]>} every issued subject, of which nothing is read yet */
export async function issued() {
  return (await engine()).issued();
}

/** @returns {Promise<object|undefined>} the picture of the site */
export async function picture() {
  return (await engine()).picture();
}

/**
 * Sign and save one entry about the open subject, then fold again.
 * @param {object} draft see the journal's `record` @param {object} signer
 * @returns {Promise<object>} the saved entry
 */
export async function save(draft, signer) {
  // What the person sees now is what is signed, whatever is opened meanwhile.
  const { open } = model;
  return (await engine()).save(draft, signer, open);
}

/**
 * The same for a key whose screen has no place of its own to say that it failed: it is
 * said above every screen, and stays there until something is saved.
 * @param {Function} [saving] what saves, if not `save`
 * @returns {Promise<object|null>} the saved entry, or null
 */
export async function saveOrTell(draft, signer, saving = save) {
  try {
    return await saving(draft, signer);
  } catch (fault) {
    model.failed = { kind: draft.kind, why: fault.message, at: wallMs() };
    changed();
    reportError(fault);
    return null;
  }
}
