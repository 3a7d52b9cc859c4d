// Carries entries to the office and back, whenever an answer proves that there is a
// road. Nothing leaves the outbox before the office has answered for that very entry.

import { heldAgainst, keepAnswers, promised } from "./answers.js";
import { siteEntries, waitingForOffice, waitingRows } from "./book.js";
import { moment, noteServerTime, wallMs } from "./clock.js";
import { dropMeta, getMeta, putEntries, putMeta, transact } from "./database.js";
import { noteEnded, noteHeard } from "./heard.js";
import { callsForJudging, judgeAgain, readPulled } from "./judge.js";
import { compare, contradicts, onward, proves, START } from "./history.js";
import { refreshLibrary, siteBundle } from "./library.js";
import { OfficeFault, ping, pull, push } from "./office.js";
import { offerPhotosAgain, sendPhotos } from "./photos.js";

const PAUSE_MS = 4_000;
const LONGEST_PAUSE_MS = 15_000;
const BATCH = 100;
const PAGE = 200;

const FINE = { reached: true, refused: false, ended: false, fault: null };
const status = { ...FINE, reached: false, since: null, alarm: null };
const listeners = new Set();
let timer = null;
let pauseMs = PAUSE_MS;
let batch = BATCH;
let told = false;
const road = () => [status.reached, status.refused].join();

/** Start carrying; `listener` hears of what arrived and of the road. */
export function startSync(listener) {
  listeners.add(listener);
  // An alarm stands until a person has told the office of it, reload or not.
  getMeta("syncAlarm").then((kept) => { status.alarm ??= kept?.alarm ?? null; })
    .finally(kick);
  return () => listeners.delete(listener);
}

/** Try at once: something was saved, the page came to the front, a code came in. */
export function kick() {
  clearTimeout(timer);
  pauseMs = PAUSE_MS;
  timer = setTimeout(turn, 0);
}

/** @returns {object} {reached, refused, ended, since, alarm, fault} as last found */
export function syncStatus() {
  return { ...status };
}

/** Take the alarm off: a person has told the office. */
export async function alarmTold() {
  status.alarm = null;
  await dropMeta("syncAlarm");
  return tell({ arrived: 0, sent: 0 });
}

/** One whole round: offer what waits, take what is new, fetch what is issued. */
export function syncOnce() {
  return navigator.locks.request("fieldapp-sync", { ifAvailable: true }, (lock) =>
    lock ? round() : { arrived: 0, sent: 0 });
}

async function turn() {
  const before = road();
  let moved = { arrived: 0, sent: 0 };
  try {
    moved = await syncOnce();
    pauseMs = PAUSE_MS;
  } catch (fault) {
    note(fault);
    pauseMs = Math.min(pauseMs * 2, LONGEST_PAUSE_MS);
  }
  if (moved.arrived || moved.sent || before !== road() || !told) tell(moved);
  clearTimeout(timer);
  timer = setTimeout(turn, pauseMs);
}

async function round() {
  const identity = await getMeta("identity");
  if (!identity) return { arrived: 0, sent: 0 };
  return roundAs(identity).catch(async (fault) => roundAs(await comeBack(fault)));
}

// An office that does not know this phone is shown who it is; then all goes its way.
async function comeBack(fault) {
  const road = fault.status === 401
    ? await import("./roads/comeback.js").catch(() => null) : null;
  const known = await road?.comeBackByShift();
  if (!known) throw fault;
  return known;
}

async function roundAs(identity) {
  let sent = await offer(identity);
  const found = await take(identity).catch((fault) => lookFromOutside(fault, identity));
  if (found.offered) sent += await offer(identity);
  // A plan that waits is no entry, but news.
  const planned = (await siteBundle())?.plan !== found.plan;
  if (found.site || planned || !(await getMeta("libraryFull"))) {
    await putMeta("libraryFull", false);
    await refreshLibrary(identity.token);
    await putMeta("libraryFull", true);
  }
  await noteEnded(identity, false);
  Object.assign(status, FINE, { since: await noteHeard(wallMs()) });
  sent += await sendPhotos(identity.token);
  return { arrived: found.arrived + Number(planned), sent };
}

async function offer(identity) {
  let sent = 0;
  for (;;) {
    const rows = (await waitingRows()).slice(0, batch);
    if (rows.length === 0) return sent;
    const answered = await offerBatch(identity, rows);
    if (answered === 0) return sent;
    sent += answered;
  }
}

async function offerBatch(identity, rows) {
  let answer;
  try {
    answer = await push(identity.token, rows.map(({ bytes, sig }) => ({ bytes, sig })));
  } catch (fault) {
    // One bad envelope must not hold up the rest: go on one by one.
    if ([400, 413].includes(fault.status) && rows.length > 1) {
      batch = 1;
      return offerBatch(identity, rows.slice(0, 1));
    }
    throw fault;
  }
  const results = answer.results ?? [];
  if (!(await proves(answer.receipt, identity.officePublic, results))) {
    raise("receipt");
    throw new OfficeFault(200, "the office's receipt does not hold");
  }
  const done = await keepAnswers(rows, { results, receipt: answer.receipt });
  batch = BATCH;
  return done;
}

async function take(identity) {
  let arrived = 0;
  let site = false;
  let offered = false;
  let plan;
  let doubtful = false;
  for (;;) {
    const cursor = (await getMeta("cursor")) ?? START;
    const asked = moment();
    const page = await pull(identity.token, cursor.last, PAGE);
    noteServerTime(page.now, asked.at);
    plan = page.plan;
    const restored = cursor.epoch !== null && cursor.epoch !== page.epoch;
    const read = restored ? null : await readPage(page, cursor, identity);
    if (restored || (read.contradicts && !offered)) {
      await offerEverything(page.epoch, cursor);
      offered = true;
      continue;
    }
    await putEntries(read.rows, read.known);
    arrived += read.rows.filter((row) => !row.mine).length;
    site ||= read.rows.some((row) => row.subject === "");
    doubtful ||= read.rows.some(callsForJudging);
    if (page.entries.length === 0 || read.known.cursor.last >= page.last) break;
  }
  if (doubtful) arrived += await judgeAgain();
  return { arrived, site, offered, plan };
}

// A phone out of force is told nothing but the name of the office's history: once then,
// and after each restore, all it has goes again.
async function lookFromOutside(fault, identity) {
  if (fault.status === 403) {
    await noteEnded(identity, true);
    const [cursor, { epoch }] = [await getMeta("cursor"), await ping()];
    if (cursor && !(cursor.outside && cursor.epoch === epoch)) {
      await offerEverything(epoch, cursor);
      await putMeta("cursor", { ...START, epoch, outside: true });
      await offer(identity);
    }
    await sendPhotos(identity.token);
  }
  throw fault;
}

// After a restore, or where its history is another, the office may lack what it once
// had: everything goes again.
async function offerEverything(epoch, seen) {
  const rows = await transact(["entries"], "readonly", (store) =>
    store("entries").getAll());
  const again = rows.map(({ index, ...row }) => ({ ...row, waiting: 1 }));
  // Photos first: killed in between, the cursor has not moved and all is done again.
  await offerPhotosAgain();
  await putEntries(again, { cursor: { ...START, epoch }, seen, promises: [] });
}

async function readPage(page, cursor, identity) {
  let at = { last: cursor.last, head: cursor.head };
  const passed = [at];
  const rows = [];
  const places = new Map();
  let moved = false;
  const site = [...(await siteEntries())];
  for (const { index, bytes, sig } of page.entries) {
    if (index !== at.last + 1) {
      raise("hole");
      throw new OfficeFault(200, `entry ${at.last + 1} is missing from the list`);
    }
    const row = await readPulled(bytes, sig, site, identity);
    at = await onward(at, row.id);
    passed.push(at);
    rows.push({ ...row, index });
    moved ||= (places.get(row.id) ?? row.index ?? index) !== index;
    places.set(row.id, index);
  }
  const owed = heldAgainst(await promised(), passed, page);
  const denied = contradicts(page, at) || owed.broken || moved;
  if (denied) raise("history");
  const before = await getMeta("seen");
  const found = compare(before, passed, page);
  if (found === "lost") raise("restored");
  const known = {
    cursor: { epoch: page.epoch, ...at }, seen: found ? null : before,
    promises: owed.left,
  };
  return { rows, contradicts: denied, known };
}

function raise(alarm) {
  if (status.alarm) return;
  status.alarm = alarm;
  putMeta("syncAlarm", { alarm, at: wallMs() });
}

function note(fault) {
  status.reached = fault instanceof OfficeFault && fault.status > 0;
  // An office that does not know this phone takes back nothing it was told before.
  if (status.reached && fault.status !== 401) status.ended = fault.status === 403;
  status.refused = [401, 403].includes(fault.status);
  status.fault = fault.message;
  if (!(fault instanceof OfficeFault)) throw fault;
}

async function tell(moved) {
  told = true;
  const outbox = await waitingForOffice();
  for (const listener of listeners) listener({ ...moved, ...syncStatus(), outbox });
}
