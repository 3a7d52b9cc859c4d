// What the tests of codes and parcels call: the phone's own modules, in plain values.

import {
  framesOf, fromBase45, Gathering, toBase45,
} from "../../static/device/roads/frames.js";
import { readMark } from "../../static/device/roads/marks.js";
import { packed, readFile, unpacked } from "../../static/device/roads/parcel.js";

export { framesOf, packed, readMark, toBase45 };

/** @returns {Promise<Uint8Array|string>} bytes, or the code of the refusal */
export function base45Read(text) {
  return told(async () => fromBase45(text));
}

/** @returns {Promise<object[]>} what each frame leads to, or the code of a refusal */
export async function gathered(frames) {
  const gathering = new Gathering();
  const answers = [];
  for (const frame of frames) answers.push(await told(() => gathering.add(frame)));
  return answers;
}

/** @returns {Promise<object[]|string>} the entries, or the code of the refusal */
export function opened(bytes, site) {
  return told(() => unpacked(bytes, site));
}

/** @returns {Promise<object[]|string>} the entries of a file, or the refusal's code */
export function fileRead(bytes, site) {
  return told(() => readFile(new Blob([bytes]), site));
}

async function told(work) {
  try {
    return await work();
  } catch (fault) {
    if (fault.code) return fault.code;
    throw fault;
  }
}
