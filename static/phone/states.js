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

/** A point's status as it is told: nobody is called to what is seen in passing.
 * @returns {string} */
export function pointStatus({ class: kind }, { status }, isLater = false) {
  if (status !== "ready") return status;
  return isLater ? "later" : kind === "surveillance" ? "idle" : status;
}

/**
 * The rule's word to be said: what is calibrated is out of calibration, where a lot
 * expires. Sheets from before fields said so are known by a jack's certified line.
 * @param {string} code @param {object} facts @param {object} [sheet]
 */
export function codeSaid(code, { step, check }, sheet) {
  if (code !== "item_expired") return code;
  const field = sheet?.steps[step]?.fields?.find(({ id }) => id === check);
  const calibrated = field?.calibrated || Object.values(sheet?.items ?? {})
    .some(({ kind, numbers }) => kind === field?.items && "slope" in (numbers ?? {}));
  return calibrated ? "item_uncalibrated" : code;
}
