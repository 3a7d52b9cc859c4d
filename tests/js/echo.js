/** What `tests/test_javascript.py` calls to see how values cross. */

export const same = (value) => value;
export const kind = (value) => typeof value;
export const isBytes = (value) => value instanceof Uint8Array;
export const later = async (value) => value;
export const notANumber = () => NaN;
export const aMap = () => new Map();
export const nothing = () => undefined;
export const noise = () => console.log("this must not reach the answers");

export function refuse(code) {
  throw Object.assign(new RangeError("outside the table"), { code });
}

export function hang() {
  for (;;);
}
