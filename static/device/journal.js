// Where entries are made: numbered, linked, signed and saved, one at a time on this
// device whatever tabs are open. Only here is `seq` counted. An entry that could not
// be saved and read back is reported, never assumed.

import { canonical } from "../core/canonical.js";
import { entryOf } from "../core/entries.js";
import { headsOf, rowOf, shelve } from "./book.js";
import { sha256Hex } from "./bytes.js";
import { mark, moment, zoneMinutes } from "./clock.js";
import { appendEntry, ChainMoved, getMeta, getMetas } from "./database.js";
import { sign } from "./keys.js";

const LOCK = "fieldapp-append";
const TRIES = 3;

/**
 * Make, sign and durably save one entry.
 * @param {{kind:string, subject?:string, sheet?:string, rules?:number, step?:string,
 *   line?:string, point?:string, attempt?:string, values?:object,
 *   about?:object|((at:number) => object),
 *   photos?:string[], needs?:string[], at?:number, unsaved?:string}} draft `at` only if
 *   typed; `unsaved` names the answers that are kept no longer
 * @param {{person:string, key:string, privateKey:CryptoKey, unlocked:string}} signer
 * @returns {Promise<object>} the saved entry
 */
export function record(draft, signer) {
  return navigator.locks.request(LOCK, async () => {
    for (let attempt = 1; ; attempt += 1) {
      try {
        return await append(draft, signer);
      } catch (fault) {
        if (!(fault instanceof ChainMoved) || attempt === TRIES) throw fault;
      }
    }
  });
}

async function append(draft, signer) {
  const [[identity, chain], heads] = await Promise.all([
    getMetas("identity", "chain"), draft.subject ? headsOf(draft.subject) : []]);
  const document = compose(draft, signer, identity, chain, heads);
  const bytes = canonical(document);
  const [id, sig] = await Promise.all([
    sha256Hex(bytes), sign(signer.privateKey, bytes)]);
  const entry = entryOf(document, id);
  const row = { ...rowOf(entry, bytes, sig), waiting: 1, mine: 1 };
  await appendEntry(row, chain?.id, draft.unsaved, latestOf(chain, entry));
  mark("durable");
  shelve(row, entry);
  return entry;
}

// The rules take a time as not known while the phone's clock lies behind what it
// signed in another session: here it is known beforehand.
function latestOf(chain, { made, session }) {
  return isBack(chain, made, session) ? {}
    : { latest: Math.max(chain?.latest ?? 0, made), session };
}

function isBack(chain, now, session) {
  return chain?.latest > now && chain.session !== session;
}

/** Until when this phone's times count as not known, ms UTC; 0: they are known. */
export async function clockWentBack() {
  const chain = await getMeta("chain");
  const { at, session } = moment();
  return isBack(chain, at, session) ? chain.latest : 0;
}

function compose(draft, signer, identity, chain, heads) {
  const now = moment();
  const about = draft.about?.call ? draft.about(now.at) : draft.about;
  return withoutGaps({
    format: 1,
    site: identity.site,
    subject: draft.subject,
    sheet: draft.sheet,
    rules: draft.rules ?? 1,
    kind: draft.kind,
    step: draft.step,
    line: draft.line || undefined,
    point: draft.point,
    attempt: draft.attempt || undefined,
    values: draft.values && Object.keys(draft.values).length ? draft.values : undefined,
    about: about && Object.keys(about).length ? about : undefined,
    photos: draft.photos?.length ? draft.photos : undefined,
    person: signer.person,
    device: identity.device,
    key: signer.key,
    seq: (chain?.seq ?? 0) + 1,
    prev: chain?.id,
    after: heads,
    needs: draft.needs?.length ? [...draft.needs].sort() : undefined,
    at: draft.at ?? now.at,
    at_by: draft.at === undefined ? "tap" : "typed",
    made: now.at,
    zone: zoneMinutes(),
    session: now.session,
    mono: now.mono,
    offset: now.offset,
    shell: identity.shell,
    unlocked: signer.unlocked,
  });
}

function withoutGaps(fields) {
  return Object.fromEntries(
    Object.entries(fields).filter(([, value]) => value !== undefined));
}
