// A parcel as text in numbered frames, each small enough for one code on a screen.
// Frames may be read in any order, as often as one likes, and mixed with others: each
// says which parcel it is of by the hash over the whole, and nothing is believed
// before that hash holds. Text is base 45, the letters a code packs best.
// Source: RFC 9285 (base 45); ISO/IEC 18004 (alphanumeric mode).

import { sha256 } from "../bytes.js";

const LETTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
const MARK = "FR1:P";
const DIGITS = 3;
const HASH_LETTERS = 48;
const HEAD_LETTERS = MARK.length + 2 * DIGITS + HASH_LETTERS;
/** The most a code of version 22 holds at level M, less the head of a frame. */
const LARGEST_SINGLE = 1_134 - HEAD_LETTERS;
/** Frames that run on a screen are smaller: an unsteady hand must read them. */
const FRAME_LETTERS = 720;
/** So many frames a parcel has at most. */
export const MOST_FRAMES = 200;
const MOST_PARCELS = 4;

/** Text that is no frame, or a parcel whose frames do not add up. */
export class FrameFault extends Error {
  /** @param {"not_a_frame"|"too_large"|"damaged"} code */
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** @param {Uint8Array} bytes @returns {Promise<string[]>} frames, one for what fits */
export async function framesOf(bytes) {
  const text = toBase45(bytes);
  const size = text.length <= LARGEST_SINGLE ? LARGEST_SINGLE : FRAME_LETTERS;
  const of = Math.max(1, Math.ceil(text.length / size));
  if (of > MOST_FRAMES) throw new FrameFault("too_large");
  const hash = toBase45(await sha256(bytes));
  return Array.from({ length: of }, (_, place) => MARK + padded(place + 1)
    + padded(of) + hash + text.slice(place * size, (place + 1) * size));
}

/** @returns {boolean} whether a text read from a code means to be a frame */
export function isFrame(text) {
  return text.startsWith(MARK);
}

/**
 * Gathers frames. `add(text)` gives how far its parcel is; `bytes` once it is whole.
 * Throws `FrameFault`; what was gathered before stays.
 */
export class Gathering {
  #parcels = new Map();

  /** @returns {Promise<object>} {have, of, missing: numbers, bytes once whole} */
  async add(text) {
    const frame = readFrame(text);
    const parcel = this.#parcelOf(frame);
    parcel.set(frame.number, frame.data);
    const missing = Array.from({ length: frame.of }, (_, place) => place + 1)
      .filter((number) => !parcel.has(number));
    const found = { have: parcel.size, of: frame.of, missing };
    if (missing.length > 0) return found;
    const whole = Array.from({ length: frame.of }, (_, place) => parcel.get(place + 1));
    return { ...found, bytes: await this.#checked(frame, whole.join("")) };
  }

  async #checked({ hash, name }, text) {
    const bytes = fromBase45(text);
    if (toBase45(await sha256(bytes)) === hash) return bytes;
    // One of the frames lied: all are to be read again.
    this.#parcels.delete(name);
    throw new FrameFault("damaged");
  }

  #parcelOf({ name }) {
    const kept = this.#parcels.get(name) ?? new Map();
    this.#parcels.delete(name);
    this.#parcels.set(name, kept);
    // Of many parcels begun, the one not heard of for longest is let go.
    if (this.#parcels.size > MOST_PARCELS) {
      this.#parcels.delete(this.#parcels.keys().next().value);
    }
    return kept;
  }
}

function readFrame(text) {
  const numbers = text.slice(MARK.length, MARK.length + 2 * DIGITS);
  const data = text.slice(HEAD_LETTERS);
  if (!isFrame(text) || !/^\d+$/.test(numbers) || text.length <= HEAD_LETTERS
    || data.length > LARGEST_SINGLE) throw new FrameFault("not_a_frame");
  const number = Number(numbers.slice(0, DIGITS));
  const of = Number(numbers.slice(DIGITS));
  const hash = text.slice(HEAD_LETTERS - HASH_LETTERS, HEAD_LETTERS);
  if (number < 1 || number > of) throw new FrameFault("not_a_frame");
  if (of > MOST_FRAMES) throw new FrameFault("too_large");
  return { number, of, hash, data, name: `${of}:${hash}` };
}

function padded(number) {
  return String(number).padStart(DIGITS, "0");
}

/** @param {Uint8Array} bytes @returns {string} RFC 9285 */
export function toBase45(bytes) {
  let text = "";
  for (let place = 0; place < bytes.length; place += 2) {
    const pair = place + 1 < bytes.length;
    let value = pair ? bytes[place] * 256 + bytes[place + 1] : bytes[place];
    for (let letter = pair ? 3 : 2; letter > 0; letter -= 1) {
      text += LETTERS[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return text;
}

/** @param {string} text @returns {Uint8Array} throws `FrameFault` "damaged" */
export function fromBase45(text) {
  const bytes = [];
  for (let place = 0; place < text.length; place += 3) {
    const part = Array.from(text.slice(place, place + 3),
      (one) => LETTERS.indexOf(one));
    const value = part.reduceRight((sum, digit) => sum * 45 + digit, 0);
    const most = part.length === 3 ? 65_535 : 255;
    if (part.includes(-1) || part.length === 1 || value > most) {
      throw new FrameFault("damaged");
    }
    if (part.length === 3) bytes.push(value >> 8);
    bytes.push(value & 255);
  }
  return Uint8Array.from(bytes);
}
