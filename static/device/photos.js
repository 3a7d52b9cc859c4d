// Photos of this phone: made small, named by the hash of their bytes, kept whole and
// read back before they count. They wait here until the office has answered for each.
// Nothing here ever deletes one.

import { sha256Hex } from "./bytes.js";
import { wallMs } from "./clock.js";
import { getMeta, NotSaved, transact } from "./database.js";
import { OfficeFault, pullPhoto, pushPhoto } from "./office.js";

const LONGEST_SIDE_PX = 1_600;
const QUALITY = 0.8;
const TYPE = "image/jpeg";
/** Answers that are about this one photo and would be the same again. */
const REFUSED = new Set([400, 413, 415]);

/** What was chosen is not a picture this browser can read. */
export class NotAPicture extends Error {}

/**
 * Make a picture small and keep it. @param {Blob} file
 * @returns {Promise<string>} its hash
 */
export async function keepPhoto(file) {
  const bytes = await shrunk(file);
  const hash = await sha256Hex(new Uint8Array(bytes));
  const made = wallMs();
  await put({ hash, bytes, made, waiting: made });
  return hash;
}

/** @returns {Promise<Blob|undefined>} a photo that is on this phone */
export async function photoHere(hash) {
  const row = await get(hash);
  return row && new Blob([row.bytes], { type: TYPE });
}

/** Ask the office for a photo. @returns {Promise<Blob|undefined>} if it has it */
export async function fetchPhoto(hash) {
  const identity = await getMeta("identity");
  try {
    const bytes = await pullPhoto(identity.token, hash);
    if ((await sha256Hex(new Uint8Array(bytes))) !== hash) return undefined;
    await put({ hash, bytes, made: wallMs() });
    return new Blob([bytes], { type: TYPE });
  } catch (fault) {
    if (fault instanceof OfficeFault) return undefined;
    throw fault;
  }
}

/** @returns {Promise<string[]>} hashes of photos the office has not answered for */
export function waitingPhotos() {
  return transact(["photos"], "readonly", (store) =>
    store("photos").index("waiting").getAllKeys());
}

/** Offer what waits, one at a time. @returns {Promise<number>} how many were sent */
export async function sendPhotos(token) {
  const hashes = await waitingPhotos();
  for (const hash of hashes) {
    const { waiting, ...row } = await get(hash);
    try {
      await pushPhoto(token, row.hash, row.bytes);
    } catch (fault) {
      if (!REFUSED.has(fault.status)) throw fault;
      row.fault = fault.message;
    }
    await put(row);
  }
  return hashes.length;
}

/** After a restore the office may lack what it once had. */
export async function offerPhotosAgain() {
  const hashes = await transact(["photos"], "readonly", (store) =>
    store("photos").getAllKeys());
  for (const hash of hashes) {
    const row = await get(hash);
    await put({ ...row, waiting: row.made });
  }
}

async function shrunk(file) {
  let picture;
  try {
    picture = await createImageBitmap(file);
  } catch (fault) {
    throw new NotAPicture(fault.message);
  }
  const { width, height } = picture;
  const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(width, height));
  const canvas = new OffscreenCanvas(
    Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale)));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await canvas.convertToBlob({ type: TYPE, quality: QUALITY });
  return blob.arrayBuffer();
}

function get(hash) {
  return transact(["photos"], "readonly", (store) => store("photos").get(hash));
}

async function put(row) {
  await transact(["photos"], "readwrite", (store) => store("photos").put(row));
  const back = await get(row.hash);
  if (!back || (await sha256Hex(new Uint8Array(back.bytes))) !== row.hash) {
    throw new NotSaved("the photo could not be read back");
  }
}
