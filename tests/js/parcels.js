/** Parcels and frames for tests: made from rows, and read from what may be spoiled. */

import { deflateRawSync } from "node:zlib";
import { FrameFault, framesOf, Gathering } from "../../static/device/roads/frames.js";
import { packed, ParcelFault, readFile, unpacked }
  from "../../static/device/roads/parcel.js";

/** @returns {Promise<string[]>} the frames of a parcel */
export async function framesOfRows(site, rows) {
  return framesOf(await packed(site, rows));
}

/** @returns {Promise<string[]>} frames of any bytes, deflated: for bombs */
export async function framesOfText(text, times) {
  return framesOf(new Uint8Array(deflateRawSync(Buffer.from(text.repeat(times)))));
}

/** Reads frames one after another: the entries, "more" or the code of the fault. */
export function gathered(site, frames) {
  const gathering = new Gathering();
  return frames.reduce(async (before, frame) => {
    const told = await before;
    return Array.isArray(told) ? told : judged(async () => {
      const { bytes } = await gathering.add(frame);
      return bytes ? unpacked(bytes, site) : "more";
    });
  }, Promise.resolve("more"));
}

/** Reads a file: its entries, or the code of the fault. */
export function fromFile(site, bytes) {
  return judged(() => readFile(new Blob([bytes]), site));
}

async function judged(work) {
  try {
    return await work();
  } catch (fault) {
    if (fault instanceof FrameFault || fault instanceof ParcelFault) return fault.code;
    throw fault;
  }
}
