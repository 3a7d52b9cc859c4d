// The straight line of a jack's certificate: least squares of force on pressure, in
// whole numbers, so that what is signed is what the points say. The office's own files
// are fitted by `fieldapp/calc/jack.py`; a test compares the two.

/** Pressures are typed in the places of the plan's field, forces in these. */
export const FORCE_PLACES = 2;
const SLOPE_SCALE = 10n ** 7n;
const PER_CENT_PLACES = 2;

/**
 * Fit points [pressure, force], whole numbers of 10^-places bar and 10^-2 kN.
 * @param {number[][]} points @param {number} places of a pressure
 * @returns {{numbers:object, off:number}|{fault:"few"|"rising", at:number}} `off`: the
 *   largest departure from the line, in hundredths of a per cent of the largest force,
 *   rounded up
 */
export function fitted(points, places) {
  if (points.length < 2) return { fault: "few", at: points.length };
  const at = points.findIndex(([pressure, force], place) => place > 0
    && (pressure <= points[place - 1][0] || force <= points[place - 1][1]));
  if (at > 0) return { fault: "rising", at };
  const pairs = points.map((one) => one.map(BigInt));
  const { over, rise, base } = line(pairs);
  const [lows, highs] = [points[0], points.at(-1)];
  // slope: 10^-7 kN a unit of pressure; intercept: 10^-7 kN.
  const scale = SLOPE_SCALE / 10n ** BigInt(FORCE_PLACES);
  return {
    numbers: {
      slope: nearest(rise * scale, over),
      intercept: nearest(base * scale, over),
      low: lows[0], high: highs[0],
    },
    off: departure(pairs, { over, rise, base }), places,
  };
}

// force = (rise * pressure + base) / over
function line(pairs) {
  const count = BigInt(pairs.length);
  const sum = (of) => pairs.reduce((all, pair) => all + of(pair), 0n);
  const [x, y] = [sum(([one]) => one), sum(([, one]) => one)];
  const spread = count * sum(([one]) => one * one) - x * x;
  const rise = count * sum(([one, other]) => one * other) - x * y;
  return { over: spread * count, rise: rise * count, base: y * spread - x * rise };
}

function departure(pairs, { over, rise, base }) {
  const off = pairs.map(([x, y]) => magnitude(y * over - rise * x - base));
  const worst = off.reduce((most, one) => (one > most ? one : most), 0n);
  const whole = over * pairs.at(-1)[1];
  const scaled = worst * 10n ** BigInt(2 + PER_CENT_PLACES);
  return Number((scaled + whole - 1n) / whole);
}

function magnitude(value) {
  return value < 0n ? -value : value;
}

function nearest(value, by) {
  const half = by / 2n;
  return Number((value < 0n ? value - half : value + half) / by);
}
