// What is printed on the site to be scanned: labels of items, marks of segments and
// joints, and what one phone asks of another. A mark carries its site and a check, so
// that a foreign or a damaged one is known before anything is looked up.

import { ID } from "../../core/entries.js";
import { sha256Hex } from "../../core/sha256.js";

const PRINTED = /^FR1:(ITEM|SUBJECT):([^:]+):([^:]+):([0-9a-f]{8})$/i;
const KEY = "FR1:KEY:";
const OURS = "FR1:";

/**
 * Say what a text read from a code is.
 * @param {string} text @param {string} site this phone's
 * @returns {{kind:"item"|"subject"|"key", id?:string}
 *   |{fault:"foreign_site"|"damaged"|"stranger"}}
 */
export function readMark(text, site) {
  const read = text.trim();
  if (read.startsWith(KEY)) return { kind: "key" };
  const found = PRINTED.exec(read);
  if (!found) return { fault: read.startsWith(OURS) ? "damaged" : "stranger" };
  const [, kind, of, id, check] = found;
  const sound = ID.test(of) && ID.test(id)
    && sha256Hex(`${of}/${id}`).startsWith(check.toLowerCase());
  if (!sound) return { fault: "damaged" };
  if (of !== site) return { fault: "foreign_site" };
  return { kind: kind.toLowerCase(), id };
}
