// Folds what is kept into what the screens show, and is the screens' one way to sign
// and save. Loaded behind the first screen.

import { present, stateOf } from "../core/fold.js";
import { reliedOn } from "../core/rules.js";
import { entriesOf, revisionRead } from "../device/book.js";
import { wallMs } from "../device/clock.js";
import { getMeta, putMeta } from "../device/database.js";
import { keepView, UNKEPT, waitingForOffice } from "../device/early.js";
import { enrolledHere, noteShell, settleKeys } from "../device/enrolled.js";
import { clockWentBack, record } from "../device/journal.js";
import { keysWork, shiftSigner } from "../device/keys.js";
import { issuedSheets, people, siteBundle } from "../device/library.js";
import { kick, startSync, syncStatus } from "../device/sync.js";
import { shownOf } from "./kept.js";
import { changed, model } from "./model.js";
import { countUses, here, readRegister, readySheet, standingFor } from "./told.js";
import { unsavedOf } from "./unsaved.js";
import { fetchRest, startWorker, versionInUse } from "./update.js";

const VIEW_PAUSE_MS = 700;

model.items = {};
let viewTimer = null;
let begun = 0;
let taken = 0;
let informed = null;

/** Begin behind the first screen: the true state, sync, versions, the keys' test. */
export async function begin() {
  await refresh();
  startSync(onSync);
  startWorker(changed).then(noteVersion);
  model.keysLost = !(await keysWork());
  await recount();
}

async function recount() {
  await countUses();
  await refold();
}

/** Read again who is here, what waits and, if one is open, the subject. */
export async function refresh() {
  informed = null;
  await whoIsWho();
  await settleKeys(model.people);
  [model.here, model.shift, model.outbox] = await Promise.all([
    enrolledHere(), shiftSigner(), waitingForOffice()]);
  model.sync = syncStatus();
  model.clockBack = await clockWentBack();
  await refold();
}

// Asked again where the storage failed once: nothing can be folded without.
function whoIsWho() {
  informed ??= inform().catch((fault) => {
    informed = null;
    throw fault;
  });
  return informed;
}

// Who is who, and the register: without them every release looks void.
async function inform() {
  [model.people, model.identity] = await Promise.all([people(), getMeta("identity")]);
  await readRegister();
}

/** Prove by an unlocked key whose this phone is; if it fails, at the next PIN again. */
export async function prove(signer) {
  const road = await import("../device/roads/comeback.js");
  await road.comeBackBy(signer).catch(reportError);
  kick();
}

/** Fold the open subject again for this moment, and any entries that came. */
export async function refold() {
  // A shift ends by itself, on a screen that nobody touches as well.
  if (model.shift?.until <= wallMs()) model.shift = undefined;
  // An answer without news tells nobody, and was heard all the same.
  model.sync = syncStatus();
  const subject = model.wanted ?? model.open?.subject;
  if (subject) await show(subject);
  changed();
}

/** Open a subject for the screens. @returns {Promise<object>} as `readSubject` */
export async function openSubject(subject) {
  model.wanted = subject;
  await show(subject);
  const shown = model.open?.subject === subject && model.open.state;
  if (shown && model.lastSubject !== subject) {
    model.lastSubject = subject;
    await putMeta("lastSubject", subject);
  }
  return model.open;
}

/** @returns {Promise<string[]>} every issued subject, of which nothing is read yet */
export async function issued() {
  return [...(await issuedSheets()).keys()];
}

/** @returns {Promise<object[]>} every issued subject, or some, with its folded state */
export async function readAll(subjects) {
  return Promise.all((subjects ?? await issued()).map(readSubject));
}

/** @returns {Promise<object|undefined>} the picture of the site */
export async function picture() {
  return (await siteBundle())?.site;
}

/** Sign and save one entry about an open subject, then fold again. */
export async function save(draft, signer, shown) {
  // A view kept from before is no ground to sign on.
  const open = shown.scene ? shown : await readSubject(shown.subject);
  const { subject, hash, sheet, scene } = open;
  // What was saved before this is no answer to it.
  model.notice = null;
  const entry = await record({
    subject, sheet: hash, rules: sheet.rules, attempt: attemptOf(open, draft),
    needs: draft.point ? reliedOn(scene, draft.point) : certificates(sheet, draft),
    ...draft,
  }, signer);
  model.outbox = {
    ...model.outbox,
    count: model.outbox.count + 1,
    since: model.outbox.since ?? entry.made,
  };
  // Signed and on the disk: whatever becomes of the picture now, it is saved.
  model.failed = null;
  model.unread = await show(subject).then(() => null, (fault) => {
    reportError(fault);
    return fault;
  });
  kick();
  changed();
  return entry;
}

/** Sign and save one entry of the site's own, about no subject. */
export async function saveForSite(draft, signer) {
  const entry = await record(draft, signer);
  model.failed = null;
  kick();
  // It is kept: what cannot be read just now is no "not saved".
  await refresh().catch(reportError);
  return entry;
}

// A reading names the registration of each item it relied on.
function certificates({ steps }, { step, values = {} }) {
  const fields = steps[step]?.fields ?? [];
  const named = fields.filter((field) => field.kind === "item")
    .map((field) => model.items[values[field.id]]?.entry);
  return [...new Set(named.filter(Boolean))];
}

// Several may be read at once: only the subject wanted last is shown, and never an
// older reading of it over a newer one.
async function show(subject) {
  const mine = begun += 1;
  const found = await readSubject(subject);
  if (mine < taken || subject !== (model.wanted ?? subject)) return;
  taken = mine;
  model.open = found;
  model.unread = null;
  clearTimeout(viewTimer);
  viewTimer = setTimeout(rememberView, VIEW_PAUSE_MS);
}

/**
 * Read one subject whole. `sheet` is missing while its sheet has not arrived.
 * @returns {Promise<object>} {subject, hash, sheet, prepared, entries, scene, state,
 *   asOf, unsaved}: `scene` is what rules are asked of, `asOf` the moment it is for,
 *   `unsaved` the answers kept of forms that were left
 */
async function readSubject(subject) {
  await whoIsWho();
  const ready = await readySheet(subject);
  if (!ready) return { subject };
  // What is read from here on is at least as new.
  const revision = revisionRead();
  const told = entriesOf(subject);
  const kept = unsavedOf(subject);
  const standing = await standingFor(ready, told);
  const [entries, now] = [await told, here()];
  const scene = present(ready.prepared, entries, standing, now);
  // In the order in which the rules read them, which is not that in which they came.
  return { subject, ...ready, entries: scene.view.history.graph.entries, scene,
    state: stateOf(scene), asOf: now.at, unsaved: await kept, revision };
}

function rememberView() {
  if (!model.open.state) return;
  keepView(model.open.revision, model.shell, {
    people: model.people, titles: model.titles, zone: model.zone, outbox: model.outbox,
    open: shownOf(model.open),
  });
}

// Rework opens an attempt from one step on; what stands before it keeps the older.
function attemptOf({ sheet, state, scene }, { step, point }) {
  const name = step ?? point;
  return sheet.flow.includes(name) ? scene.view.attemptOf(name) : state.attempt;
}

async function noteVersion() {
  model.shell = (await versionInUse()) || UNKEPT;
  await noteShell(model.shell);
}

async function onSync(news) {
  model.sync = news;
  model.outbox = news.outbox;
  if (news.arrived || news.sent) await refresh();
  else changed();
  if (news.reached) fetchRest();
  if (news.arrived) await recount();
}
