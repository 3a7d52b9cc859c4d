// A further phone for somebody who has one: the new phone makes a key and asks for it
// by a code, the person's own phone signs that the key is theirs too. The new key
// proves itself in the asking, and no secret ever crosses from phone to phone.

import { ID } from "../../core/entries.js";
import { fromBase64url, sha256Hex } from "../bytes.js";
import { getMeta, putMeta } from "../database.js";
import { newDevice } from "../enrolment.js";
import { keepKey, makeKey, sign, unlock, verify } from "../keys.js";

const ASKS = /^FR1:KEY:([^:]+):([^:]+):([A-Za-z0-9_-]{87}):([A-Za-z0-9_-]{86})$/;
const SITE = /^FR1:SITE:([^:]+):([A-Za-z0-9_-]{87})$/;

/** @returns {boolean} whether a text tells an empty phone which site it is for */
export function isSiteCode(text) {
  return SITE.test(text.trim());
}

/** @returns {Promise<string>} what an empty phone must know to make keys for it */
export async function siteCode() {
  const { site, officePublic } = await getMeta("identity");
  return `FR1:SITE:${site}:${officePublic}`;
}

/**
 * Let this phone belong to a site which another phone showed. It has no token yet: that
 * comes from the office, by a key signed for.
 * @param {string} text a site code @param {string} shell @returns {Promise<boolean>}
 *   false where it belongs to another site, or this is none
 */
export async function joinSite(text, shell) {
  const [, site, officePublic] = SITE.exec(text.trim());
  const identity = await getMeta("identity");
  if (identity) {
    return identity.site === site && identity.officePublic === officePublic;
  }
  if (!ID.test(site)) return false;
  const officeKey = await sha256Hex(fromBase64url(officePublic));
  await putMeta("identity",
    { device: await newDevice(), site, officeKey, officePublic, shell });
  return true;
}

/**
 * Make a key on this phone for somebody who will say on their own that it is theirs.
 * @param {string} pin @returns {Promise<{text:string, key:string}>} what is shown
 */
export async function askForKey(pin) {
  const { site, device } = await getMeta("identity");
  const row = { ...(await makeKey(pin)), asked: 1 };
  await keepKey(row, pin);
  const signer = await unlock(row.key, pin);
  const proof = await sign(signer.privateKey, claim(site, device, row.public));
  return { text: `FR1:KEY:${site}:${device}:${row.public}:${proof}`, key: row.key };
}

/**
 * Read what another phone asks.
 * @param {string} text @param {string} site this phone's
 * @returns {Promise<{device:string, public:string, key:string}
 *   |{fault:"damaged"|"foreign_site"}>}
 */
export async function readAsked(text, site) {
  const found = ASKS.exec(text);
  if (!found) return { fault: "damaged" };
  const [, of, device, publicText, proof] = found;
  if (!ID.test(of) || !ID.test(device)
    || !(await verify(publicText, claim(of, device, publicText), proof))) {
    return { fault: "damaged" };
  }
  if (of !== site) return { fault: "foreign_site" };
  const key = await sha256Hex(fromBase64url(publicText));
  return { device, public: publicText, key };
}

function claim(site, device, publicText) {
  return `key:${site}:${device}:${publicText}`;
}
