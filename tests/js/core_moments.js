/** Calls of the vectors that ask of moments: how long, and between what. */

import {
  isPast, overAt, surelyAfter, surelyBefore, untimed,
} from "../../static/core/bounds.js";
import {
  boundMs, boundOf, elapsedMs, momentNow, momentOf,
} from "../../static/core/clocks.js";
import { measured } from "../../static/core/pace.js";
import { plain } from "./core_words.js";

function known(found) {
  return { unknown: false, ...found };
}

function moment(found) {
  return { ...found, unknown: found.unknown || undefined };
}

export const MOMENTS = {
  "bounds.is_past": (g) => plain(isPast(g.end, known(g.at))),
  "bounds.over_at": (g) => plain(overAt(known(g.began), known(g.at), g.wait)),
  "bounds.surely_after": (g) => surelyAfter(known(g.act), known(g.moment), g.ms),
  "bounds.surely_before": (g) => surelyBefore(known(g.act), known(g.moment)),
  "bounds.untimed": (g) => untimed(g.start, g.end),
  "clocks.bound_of": (g) => plain(boundOf(g.moment, g.side) ?? undefined),
  "clocks.bound_ms": (g) => boundMs(g.moment, g.side),
  "clocks.elapsed_ms": (g) =>
    elapsedMs({ unknown: false, ...g.start }, { unknown: false, ...g.end }, g.use_by),
  "pace.measured": (g) => {
    const found = measured(g.times, g.typical);
    return found ? [found.lineMs, found.acts] : ["missing"];
  },
  "clocks.moment_of": (g) => moment(momentOf(g.entry, g.at, g.unknown)),
  "clocks.moment_now": (g) => moment(momentNow(g.now)),
};
