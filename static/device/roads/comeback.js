// A phone the office does not know (brought back from an older copy), or does not know
// yet (signed for by its owner's own phone), proves by the key of somebody on it whose
// it is, and shows what makes that key known. No code is typed.

import { fromBase64url, sha256Hex } from "../bytes.js";
import { wallMs } from "../clock.js";
import { noteEnded } from "../heard.js";
import { getMeta, putMeta } from "../database.js";
import { listKeys, shiftSigner, sign } from "../keys.js";
import { comeBack, OfficeFault } from "../office.js";
import { proofOfKey } from "./pick.js";

const PAUSE_MS = 10 * 60_000;
let notBefore = 0;

/**
 * Prove it by the key of whoever records now; where it was refused, not again at once.
 * @returns {Promise<object|null>} this phone's identity with its new token, or null
 */
export async function comeBackByShift() {
  const signer = await shiftSigner();
  if (!signer || wallMs() < notBefore) return null;
  return comeBackBy(signer);
}

/**
 * Prove it by an unlocked key.
 * @param {{person:string, key:string, privateKey:CryptoKey}} signer
 * @returns {Promise<object|null>} the identity with its new token; null: refused
 */
export async function comeBackBy({ person, key, privateKey }) {
  const identity = await getMeta("identity");
  const { device } = identity;
  const row = (await listKeys()).find((each) => each.key === key);
  const asks = { device, public: row.public };
  try {
    const { challenge } = await comeBack(asks);
    const proof = await sign(privateKey, `return:${challenge}:${device}:${row.public}`);
    const rows = await proofOfKey(person, key, identity.officeKey);
    const entries = rows.map(({ bytes, sig }) => ({ bytes, sig }));
    return await keepToken(await comeBack({ ...asks, entries, challenge, proof }));
  } catch (fault) {
    if (!(fault instanceof OfficeFault) || fault.status === 0) throw fault;
    notBefore = wallMs() + PAUSE_MS;
    // Reported lost: that is to be said, not that nobody knows it.
    if (fault.answer.error?.code === "device_revoked") {
      await noteEnded(identity, true);
      throw fault;
    }
    return null;
  }
}

async function keepToken({ token, office_key: office }) {
  const identity = await getMeta("identity");
  if (await sha256Hex(fromBase64url(office)) !== identity.officeKey) {
    throw new OfficeFault(200, "another office answered than this phone belongs to");
  }
  const known = { ...identity, token };
  await putMeta("identity", known);
  return known;
}
