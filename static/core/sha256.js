// SHA-256, worked out at once: the computed ids of nonconformances and the hashes of
// a sheet's parts are needed in the middle of a fold, where nothing can be awaited.
// Source: FIPS 180-4, sections 4.1.2, 4.2.2, 5.1.1, 5.3.3 and 6.2.2.

const coder = new TextEncoder();
const [ROUND_CONSTANTS, START] = rootFractions();
const schedule = new Int32Array(64);

/** @param {Uint8Array|string} raw bytes, or text as UTF-8 @returns {string} hex */
export function sha256Hex(raw) {
  const bytes = padded(typeof raw === "string" ? coder.encode(raw) : raw);
  const view = new DataView(bytes.buffer);
  const hash = Int32Array.from(START);
  for (let offset = 0; offset < bytes.length; offset += 64) {
    spread(view, offset);
    compress(hash);
  }
  const digits = (word) => (word >>> 0).toString(16).padStart(8, "0");
  return Array.from(hash, digits).join("");
}

// The message, a single 1 bit, zeros, and its length in bits as 64 bits.
function padded(raw) {
  const bytes = new Uint8Array(Math.ceil((raw.length + 9) / 64) * 64);
  bytes.set(raw);
  bytes[raw.length] = 0x80;
  const view = new DataView(bytes.buffer);
  view.setUint32(bytes.length - 8, Math.floor(raw.length / 2 ** 29));
  view.setUint32(bytes.length - 4, raw.length * 8);
  return bytes;
}

function spread(view, offset) {
  for (let t = 0; t < 16; t += 1) schedule[t] = view.getInt32(offset + 4 * t);
  for (let t = 16; t < 64; t += 1) {
    const x = schedule[t - 15];
    const y = schedule[t - 2];
    const small0 = turn(x, 7) ^ turn(x, 18) ^ (x >>> 3);
    const small1 = turn(y, 17) ^ turn(y, 19) ^ (y >>> 10);
    schedule[t] = small1 + schedule[t - 7] + small0 + schedule[t - 16];
  }
}

function compress(hash) {
  let [a, b, c, d, e, f, g, h] = hash;
  for (let t = 0; t < 64; t += 1) {
    const large1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const choice = (e & f) ^ (~e & g);
    const first = (h + large1 + choice + ROUND_CONSTANTS[t] + schedule[t]) | 0;
    const large0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const second = large0 + ((a & b) ^ (a & c) ^ (b & c));
    h = g;
    g = f;
    f = e;
    e = (d + first) | 0;
    d = c;
    c = b;
    b = a;
    a = (first + second) | 0;
  }
  [a, b, c, d, e, f, g, h].forEach((word, place) => { hash[place] += word; });
}

function turn(word, by) {
  return (word >>> by) | (word << (32 - by));
}

// The first 32 bits of the fractions of cube roots (64) and square roots (8) of the
// first primes, worked out exactly in whole numbers.
function rootFractions() {
  const primes = [];
  for (let n = 2; primes.length < 64; n += 1) {
    if (primes.every((prime) => n % prime !== 0)) primes.push(n);
  }
  const fraction = (prime, power) =>
    Number(BigInt.asIntN(32, wholeRoot(BigInt(prime) << BigInt(32 * power), power)));
  return [
    Int32Array.from(primes, (prime) => fraction(prime, 3)),
    Int32Array.from(primes.slice(0, 8), (prime) => fraction(prime, 2)),
  ];
}

function wholeRoot(value, power) {
  let low = 0n;
  let high = 1n << 40n;
  while (high - low > 1n) {
    const middle = (low + high) >> 1n;
    if (middle ** BigInt(power) <= value) low = middle;
    else high = middle;
  }
  return low;
}
