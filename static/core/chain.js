// The chain of one device: every entry it ever signed, numbered and linked. A gap
// means entries that have not arrived; a fork means two entries under one number (a
// phone cloned from a backup), which is shown and never repaired.

/**
 * Find gaps, forks and broken links, sorted by device, number and code.
 * @param {Iterable<object>} entries
 * @returns {{code:string, device:string, seq:number, entries:string[]}[]}
 */
export function chainFaults(entries) {
  const byDevice = new Map();
  for (const entry of entries) {
    if (!byDevice.has(entry.device)) byDevice.set(entry.device, new Map());
    const numbers = byDevice.get(entry.device);
    if (!numbers.has(entry.seq)) numbers.set(entry.seq, new Map());
    numbers.get(entry.seq).set(entry.id, entry);
  }
  return [...byDevice]
    .flatMap(([device, numbers]) => deviceFaults(device, numbers))
    .sort((one, other) => textOrder(one.device, other.device)
      || one.seq - other.seq || textOrder(one.code, other.code));
}

/** @returns {Set<string>} ids of entries that share a device's number with another */
export function forked(entries) {
  const byNumber = new Map();
  const found = new Set();
  for (const { device, seq, id } of entries) {
    const number = `${device}/${seq}`;
    const other = byNumber.get(number) ?? id;
    byNumber.set(number, other);
    if (other !== id) found.add(other).add(id);
  }
  return found;
}

function deviceFaults(device, numbers) {
  const faults = [];
  for (const [seq, here] of numbers) {
    const add = (code) =>
      faults.push({ code, device, seq, entries: [...here.keys()].sort() });
    if (here.size > 1) add("fork");
    if (seq === 1) continue;
    const before = numbers.get(seq - 1);
    if (!before) add("gap");
    else if ([...here.values()].some((entry) => !before.has(entry.prev))) {
      add("broken_link");
    }
  }
  return faults;
}

function textOrder(one, other) {
  if (one === other) return 0;
  return one < other ? -1 : 1;
}
