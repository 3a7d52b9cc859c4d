"""Running lives and holds: how long between two moments, how much life is used.

Within one session of one device a use-by clock takes the larger of wall and monotonic
difference and a not-before clock the smaller; otherwise only wall times exist, raw
and corrected by the server offsets. Nothing here ever says "refused": a running
clock below its table uses the coldest certified life, above it the life is spent.
"""

from itertools import pairwise
from typing import Any, NamedTuple

from fieldapp.core.entries import Entry
from fieldapp.core.kernel import straight
from fieldapp.core.numbers import Ratio, ceiling, ratio

RATE_UNIT = 10**15
"""Rates are whole numbers of 1e-15 of a life per millisecond."""
MINUTE_MS = 60_000
DAY_MS = 24 * 60 * MINUTE_MS
OVER_MS = 10**13
"""The elapsed time of a use-by clock whose time is not known: over."""


class Moment(NamedTuple):
    """A moment as its device saw it: wall and monotonic ms, offset to the server.

    `unknown`: its wall is not to be believed; then `between` are the known moments it
    lies between, each None where there is none. Without it nothing is known.
    """

    at: int
    session: str | None
    mono: int | None
    offset: int | None
    unknown: bool = False
    between: "tuple[Moment | None, Moment | None] | None" = None


def moment_of(entry: Entry, at: int | None = None, unknown: bool = False) -> Moment:
    """Give an entry's moment; a time stated later than it was signed is not taken."""
    made, stated, mono = entry.made, entry.at if at is None else at, entry.mono
    if stated < made:
        mono += stated - made
    else:
        stated = made
    session = f"{entry.device}/{entry.session}"
    parts = (stated, session, mono, entry.offset, unknown, None)
    return tuple.__new__(Moment, parts)


def moment_now(now: dict[str, Any]) -> Moment:
    """Give the moment of asking: `at`, and where known session, mono and offset."""
    session = now.get("session")
    if session is not None:
        session = f"{now.get('device', '')}/{session}"
    return Moment(now["at"], session, now.get("mono"), now.get("offset"))


def elapsed_ms(start: Moment, end: Moment, use_by: bool) -> int:
    """Give the time from start to end, ms: the larger for use-by, else the smaller."""
    at, session, mono, offset, unknown, _ = start
    end_at, end_session, end_mono, end_offset, end_unknown, _ = end
    if (unknown or end_unknown) and not _one_clock(start, end):
        return _apart_ms(start, end, use_by)
    wall = other = end_at - at
    if session is not None and session == end_session:
        if mono is not None and end_mono is not None:
            other = end_mono - mono
    elif offset is not None and end_offset is not None:
        other = wall + end_offset - offset
    return other if (other > wall) == use_by else wall


def _one_clock(start: Moment, end: Moment) -> bool:
    """Say whether a clock that is wrong ran on from one to the other."""
    bounded = all(each.between is not None for each in (start, end) if each.unknown)
    return bounded and start.session is not None and start.session == end.session


def _apart_ms(start: Moment, end: Moment, use_by: bool) -> int:
    """Give the most (use-by) or the least time there can be between two moments."""
    first = bound_of(start, 0 if use_by else 1)
    last = bound_of(end, 1 if use_by else 0)
    if first is None or last is None:
        return OVER_MS if use_by else 0
    return elapsed_ms(first, last, use_by)


def bound_of(moment: Moment, side: int) -> Moment | None:
    """Give the known moment before (side 0) or after which it lies; itself if known."""
    if not moment.unknown:
        return moment
    return None if moment.between is None else moment.between[side]


def bound_ms(moment: Moment, side: int) -> int:
    """Give when that is, ms; what the device's own clock said where it is not known."""
    bound = bound_of(moment, side)
    return moment.at if bound is None else bound.at


class Knot(NamedTuple):
    """A temperature reading, ms after the clock's start (below zero: before it)."""

    after_ms: int
    temp: int


class Life(NamedTuple):
    """A life as it runs: stretches of constant rate from the clock's start on.

    `stretches` are (from_ms, to_ms or None, rate) with the rate in 0.5e-15 per ms;
    `spent_ms` is when a reading above the table spent the life; `alarm` is "above",
    "below" or None.
    """

    stretches: tuple[tuple[int, int | None, int], ...]
    spent_ms: int | None
    alarm: str | None

    def used(self, at_ms: int) -> Ratio:
        """Give the share of the life used `at_ms` after the start (1: all of it)."""
        total = 0
        for start, end, rate in self.stretches:
            until = at_ms if end is None else min(end, at_ms)
            if until > start:
                total += (until - start) * rate
        if self.spent_ms is not None and at_ms >= self.spent_ms:
            total = max(total, 2 * RATE_UNIT)
        return ratio(total, 2 * RATE_UNIT)

    def deadline_ms(self, num: int, den: int) -> int:
        """Give when num/den of the life is used, ms after the start, rounded down.

        At most `OVER_MS`, so that it can be added to a time and written exactly.
        """
        wanted = 2 * RATE_UNIT * num
        found = OVER_MS
        total = 0
        for start, end, rate in self.stretches:
            need = wanted - total * den
            if rate > 0 and (end is None or need <= (end - start) * rate * den):
                found = min(start + max(need, 0) // (rate * den), OVER_MS)
                break
            total += 0 if end is None else (end - start) * rate
        return found if self.spent_ms is None else min(found, self.spent_ms)


def run_life(
    table: dict[str, Any],
    knots: list[Knot],
    age_ms: int,
    known: dict[int, int] | None = None,
    *,
    spent_when_read: bool = False,
) -> Life:
    """Lay out a running life from temperature readings.

    table: `temps` and `rates` (whole, 1e-15 per ms), `certified` temperatures, in
    0.1 °C. knots: sorted; the last at or before 0 is the temperature at the start.
    Between readings the mean of both rates counts, or the hotter where a certified
    temperature lies strictly between; a reading older than `age_ms` counts as the
    hottest certified one; without any reading that is so from the start. known: the
    rates by temperature read from this table before; more are added. spent_when_read:
    one above the table spends the life when it was read, not since the one before.
    """
    rates = Rates(table, {} if known is None else known)
    hottest = 2 * rates.of(table["certified"][-1])
    knots = _from_start(knots)
    if not knots:
        return Life(stretches=((0, None, hottest),), spent_ms=None, alarm=None)
    stretches: list[tuple[int, int | None, int]] = []
    if knots[0].after_ms > 0:
        stretches.append((0, knots[0].after_ms, hottest))
    for here, there in pairwise(knots):
        end = there.after_ms
        both = rates.between(here.temp, there.temp)
        stale = here.after_ms + age_ms
        if end <= stale:
            stretches.append((here.after_ms, end, both))
        else:
            hotter = 2 * max(rates.of(here.temp), rates.of(there.temp))
            stretches += [(here.after_ms, stale, hotter), (stale, end, hottest)]
    last = knots[-1]
    stale = last.after_ms + age_ms
    own = 2 * rates.of(last.temp)
    stretches += [(last.after_ms, stale, own), (stale, None, hottest)]
    return Life(
        stretches=tuple(
            (max(start, 0), end, rate)
            for start, end, rate in stretches
            if end is None or end > 0
        ),
        spent_ms=_spent(table, knots, spent_when_read),
        alarm=_alarm(table, knots),
    )


def _from_start(knots: list[Knot]) -> list[Knot]:
    before = [knot for knot in knots if knot.after_ms <= 0]
    return before[-1:] + [knot for knot in knots if knot.after_ms > 0]


class Rates(NamedTuple):
    """The rates of a table, and by temperature those read from it so far."""

    table: dict[str, Any]
    known: dict[int, int]

    def of(self, temp: int) -> int:
        """Give the rate at a temperature; beyond the certified ones the last."""
        found = self.known.get(temp)
        if found is None:
            table = self.table
            inside = min(max(temp, table["certified"][0]), table["certified"][-1])
            read = straight(table["temps"], table["rates"], (inside, 1))
            found = self.known[temp] = ceiling(read)
        return found

    def between(self, one: int, other: int) -> int:
        """Give twice the rate that counts from one temperature to another."""
        both = self.of(one), self.of(other)
        low, high = min(one, other), max(one, other)
        if any(low < node < high for node in self.table["certified"]):
            return 2 * max(both)
        return sum(both)


def _spent(table: dict[str, Any], knots: list[Knot], when_read: bool) -> int | None:
    for place, knot in enumerate(knots):
        if knot.temp > table["certified"][-1]:
            since = place if when_read else place - 1
            return max(knots[since].after_ms, 0) if since >= 0 else 0
    return None


def _alarm(table: dict[str, Any], knots: list[Knot]) -> str | None:
    if any(knot.temp > table["certified"][-1] for knot in knots):
        return "above"
    below = any(knot.temp < table["certified"][0] for knot in knots)
    return "below" if below else None
