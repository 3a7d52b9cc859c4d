"""When a line was done, where its hour was mended.

A correction states an hour earlier, never later: a race is not won by typing. Only a
slip is mended either way: by its author, on the same phone, before anything but that
very line was recorded; and to no time after the slip was signed, since what was
recorded had been done by then.
"""

from fieldapp.core.history import History
from fieldapp.core.line import Line

NO_WORK = frozenset({"acknowledged"})
"""Kinds of entries that say nothing of the work: an alarm was seen."""


def stated_at(history: History, line: Line, *, mended: bool) -> int:
    """Give the wall time, ms, from which a line counts as done.

    `mended`: whether the sheet lets a slip be mended to a later time.
    """
    said = [(line.root, history.entry(line.root).at)]
    for place in line.asserted:
        entry = history.entry(place)
        at = entry.about.get("at")
        # What is read again since was not done again: only an hour typed says when.
        if mended and place > line.root and entry.at_by == "typed":
            at = entry.at if entry.kind != "correction" else at
        if at is not None:
            said.append((place, at))
    later = [place for place, _ in said] if mended else []
    return min(
        at
        for place, at in said
        if not any(_at_once(history, place, other) for other in later)
    )


def _at_once(history: History, place: int, later: int) -> bool:
    """Say whether an entry takes back one on which nothing was built meanwhile."""
    if later == place or not history.retaken_in_time(place, later):
        return False
    old, past = history.entry(place), history.graph.past[later]
    between = (
        history.entry(other)
        for other in range(place + 1, later)
        if past >> other & 1 and history.saw(other, place)
    )
    # What was thrown away was there: a discard is no slip of the hour.
    return all(
        each.kind != "discarded"
        and ((each.step, each.line) == (old.step, old.line) or each.kind in NO_WORK)
        for each in between
    )
