"""When something was that a clock cannot tell: what it saw, and what saw it.

A wall clock that lies behind its device's previous session is wrong, or the previous
one was: nobody knows which. What the entry had in its past was before it, what has it
in its own past came after. Order comes from the graph, as everywhere; here it only
bounds how long something may have taken.
"""

from collections.abc import Sequence

from fieldapp.core.clocks import (
    MINUTE_MS,
    OVER_MS,
    Moment,
    bound_ms,
    bound_of,
    elapsed_ms,
    moment_of,
)
from fieldapp.core.graph import Graph

SLACK_MS = 2 * 60 * 1000
"""Clocks that are right differ by no more than this; more is a contradiction."""


def between(
    graph: Graph, moments: Sequence[Moment], place: int
) -> tuple[Moment | None, Moment | None]:
    """Give the known moments that one which is not known lies between.

    Where its time was typed, or its session had heard the office's clock, and that
    lies between them, both are that time.
    """
    first, last = _before(graph, moments, place), _after(graph, moments, place)
    own = _own(graph, moments, place)
    if own is not None and _fits(first, own) and _fits(own, last):
        return own, own
    return first, last


def untimed(start: Moment, end: Moment) -> bool:
    """Say whether a time is over only because nobody knows when it began or ended.

    Sheets from before this was amended called that run out.
    """
    bounded = start.between is not None or end.between is not None
    return bounded and elapsed_ms(start, end, use_by=True) == OVER_MS


def surely_before(act: Moment, moment: Moment) -> bool:
    """Say whether a typed time is before a moment, by more than the minute typed.

    Whoever typed it read the phone's clock, or a watch that is right where it is wrong.
    """
    return all(
        elapsed_ms(moment, each, use_by=True) < -MINUTE_MS for each in _typed(act)
    )


def surely_after(act: Moment, moment: Moment, ms: int = MINUTE_MS) -> bool:
    """Say whether a typed time is after a moment by more than so much, on every clock.

    The minute typed may have been over, never less: of a life nothing is taken off.
    """
    return all(elapsed_ms(moment, each, use_by=False) > ms for each in _typed(act))


def _typed(act: Moment) -> tuple[Moment, Moment]:
    return act, act._replace(session=None, mono=None, offset=0)


def over_at(began: Moment, at: Moment, wait_ms: int) -> int | None:
    """Give when a wait is surely over, ms UTC; None where nobody knows when it began.

    Within the session that began it its own clock tells, wrong or not. Sheets from
    before this was amended took the wrong clock's hour.
    """
    if began.between is None or bound_of(began, 1) is not None:
        return bound_ms(began, 1) + wait_ms
    run_ms = elapsed_ms(began, at, use_by=False)
    return at.at + wait_ms - run_ms if run_ms > 0 else None


def is_past(end: int, moment: Moment) -> bool | None:
    """Say whether a moment lies after an end, ms UTC; None where nobody knows.

    Sheets from before this was amended believed the wrong clock.
    """
    if moment.between is None:
        return end < moment.at
    first, last = moment.between
    if last is not None and last.at <= end:
        return False
    return True if first is not None and end < first.at else None


def _own(graph: Graph, moments: Sequence[Moment], place: int) -> Moment | None:
    entry, at = graph.entries[place], moments[place].at
    # Typed as later than it was signed, by a clock that is wrong, it is neither.
    if entry.at_by == "typed" and entry.at <= entry.made:
        return Moment(at, None, None, None)
    return None if entry.offset is None else _by_office(at, entry.offset)


def _before(graph: Graph, moments: Sequence[Moment], place: int) -> Moment | None:
    """Give the nearest moment it saw; of its own device only by the office's clock."""
    mine = graph.entries[place].device
    for other in range(place - 1, -1, -1):
        if graph.past[place] >> other & 1 and not moments[other].unknown:
            entry, moment = graph.entries[other], moments[other]
            if entry.device != mine:
                return moment
            if entry.offset is not None:
                return _by_office(moment.at, entry.offset)
    return None


def _after(graph: Graph, moments: Sequence[Moment], place: int) -> Moment | None:
    """Give the nearest moment that saw it; what was signed then, whatever it states."""
    for other in range(place + 1, len(graph.entries)):
        if graph.past[other] >> place & 1 and not moments[other].unknown:
            entry = graph.entries[other]
            return moment_of(entry, entry.made)
    return None


def _by_office(at: int, offset: int) -> Moment:
    return Moment(at + offset, None, None, 0)


def _fits(first: Moment | None, last: Moment | None) -> bool:
    """Say whether two moments may follow one another, as far as clocks agree."""
    if first is None or last is None:
        return True
    return first.at + (first.offset or 0) <= last.at + (last.offset or 0) + SLACK_MS
