// The sign and the colour that go with every state, the same in every language. Colours
// follow IEC 60073 and never stand alone.

const STATES = {
  off: ["dash", "grey"], idle: ["dash", "grey"],
  closed: ["lock", "grey"], open: ["now", "blue"],
  partial: ["now", "blue"], failed: ["cross", "red"], disputed: ["warn", "yellow"],
  done: ["tick", "green"], ok: ["tick", "green"], anyway: ["warn", "yellow"],
  waiting: ["wait", "grey"], ready: ["now", "blue"], called: ["call", "blue"],
  released: ["open", "green"], refused: ["cross", "red"], lapsed: ["warn", "yellow"],
  expired: ["clock", "yellow"], complete: ["tick", "green"],
  incomplete: ["dash", "grey"], concession: ["warn", "yellow"],
  rejected: ["cross", "red"], running: ["clock", "yellow"], over: ["clock", "red"],
  met: ["tick", "green"], proposed: ["note", "blue"], disposed: ["pen", "yellow"],
  stopped: ["stop", "red"], race: ["clock", "yellow"], waived: ["clock", "yellow"],
  discarded: ["cross", "grey"], settled: ["tick", "green"],
  unknown: ["wait", "grey"], later: ["wait", "grey"],
};

/** @returns {string} the name of a state's sign */
export function signOf(status) {
  return STATES[status]?.[0] ?? "dash";
}

/** @returns {string} red, yellow, green, blue or grey */
export function toneOf(status) {
  return STATES[status]?.[1] ?? "grey";
}
