// How items are told apart: by label, as people write it, and by id.

import { sha256Hex } from "../../core/sha256.js";

const LONGEST_NAME = 40;
const CHECK_LENGTH = 5;

/** What tells labels apart: letters and figures, and what stands between figures. */
export function plain(name) {
  return name.toLowerCase().split(/[^\p{L}\p{N}]+/u).reduce((all, part) =>
    all + (/\p{N}$/u.test(all) && /^\p{N}/u.test(part) ? "-" : "") + part, "");
}

/**
 * The id of a new item, of its label and kind: two phones that enter the same item at
 * the same time mean the same, and whatever differs has another id.
 */
export function idFor(kind, label, known) {
  const name = label.normalize("NFKD").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-+|-+$/g, "").slice(0, LONGEST_NAME).replace(/-$/, "") || kind;
  const check = sha256Hex(`${kind}/${plain(label.normalize("NFC"))}`);
  for (let length = CHECK_LENGTH; ; length += 1) {
    const id = `${name.slice(0, LONGEST_NAME)}-${check.slice(0, length)}`;
    if (!known.some((one) => one.id === id)) return id;
  }
}
