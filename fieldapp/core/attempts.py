"""The attempts at a subject: each opened by a disposition that ordered rework.

An attempt begins at the step the rework names; what stands before it in the flow keeps
what was read. Where something was put on that a step takes off (adhesive), an attempt
that puts on more begins with that step at the latest; where nothing was, or it is off
already, nothing is asked to be taken off. That follows from what was recorded.
"""

from collections.abc import Mapping
from typing import Any, Protocol

from fieldapp.core.history import History
from fieldapp.core.sheet import Sheet, Step

Chain = tuple[tuple[str | None, int], ...]
"""Attempts, each by the disposition that opened it, with where in the flow it starts.
"""


class Seen(Protocol):
    """The view whose attempts are told."""

    sheet: Sheet
    history: History

    def lines_in(self, step: str, attempt: str | None) -> Mapping[str, Any]:
        """Give the lines of a step as read in a given attempt."""


def attempt_chain(view: Seen, reworks: list[int]) -> Chain:
    """Follow the rework dispositions (by place): each opens an attempt.

    Of those that did not know of each other the one that redoes more stands.
    """
    chain: Chain = ((None, 0),)
    history, flow = view.history, view.sheet.flow
    while True:
        found = [p for p in reworks if history.entry(p).attempt == chain[-1][0]]
        if not found:
            return chain
        entries = [history.entry(place) for place in history.unseen(found)]
        starts = [(flow[entry.about["from"]], entry.id) for entry in entries]
        start, entry_id = min(starts)
        if any(entry_id == known for known, _ in chain):
            return chain
        chain += ((entry_id, _from_taking_off(view, chain, start)),)


def is_on(view: Seen, step: Step, chain: Chain) -> bool:
    """Say whether, after these attempts, anything is on that a step takes off.

    What was taken off at once, before anybody had decided of it, is off as well.
    """
    off = [
        line.root
        for attempt, _ in chain
        for line in view.lines_in(step.id, attempt).values()
        if not line.discarded
    ]
    return any(
        not line.discarded and not any(view.history.saw(o, line.root) for o in off)
        for name in step.takes_off
        for line in view.lines_in(name, _counting(view, name, chain)).values()
    )


def _counting(view: Seen, name: str, chain: Chain) -> str | None:
    """Give the attempt whose entries of a step count after these attempts."""
    place = view.sheet.flow[name]
    return next(attempt for attempt, start in reversed(chain) if place >= start)


def _from_taking_off(view: Seen, chain: Chain, start: int) -> int:
    """Give where an attempt starts: what it puts on again is taken off before."""
    flow = view.sheet.flow
    for step in view.sheet.steps.values():
        place = flow[step.id]
        redone = any(start <= flow[name] for name in step.takes_off)
        if redone and place < start and is_on(view, step, chain):
            start = place
    return start
