"""How long another subject has been ahead of this one, as a segment on the other arm.

What hangs is what was recorded as done, allowed or not: neither a gate nor what other
subjects say changes it. So two subjects may be told of each other's moments without
waiting for one another.
"""

from collections.abc import Iterable
from typing import Any

from fieldapp.core.line import Line
from fieldapp.core.scene import Scene

Span = tuple[int, int | None]
"""From when to when, ms UTC; None: still."""


def moments_of(scene: Scene, steps: Iterable[str]) -> dict[str, int]:
    """Give for each of these steps when its last reading was done, ms UTC, if any."""
    found = {}
    for step in steps:
        known = step in scene.view.sheet.steps
        times = _times(scene, scene.view.lines(step).values()) if known else []
        if times:
            found[step] = max(times)
    return found


def spans_behind(scene: Scene, clock: dict[str, Any]) -> list[Span]:
    """Give from when to when the other subject of a clock was ahead of this one.

    The other is ahead from its own reading of the step that ends the clock, unless it
    was undone since.
    """
    view, step, other = scene.view, clock["until"], clock["other"]
    subjects = view.standing.get("subjects", {})
    told = subjects.get(other["subject"], {}).get("moments", {})
    undone = other.get("undone")
    if step not in told or told.get(undone, -1) >= told[step]:
        return []
    steps = [(step, True), *([(undone, False)] if undone else [])]
    events = [
        (at, done)
        for attempt, _ in view.attempts()
        for name, done in steps
        for line in view.lines_in(name, attempt).values()
        for at in _every_time(scene, line)
    ]
    return behind(told[step], events, bool(_times(scene, view.lines(step).values())))


def behind(since: int, events: Iterable[tuple[int, bool]], here: bool) -> list[Span]:
    """Give the spans without this subject's own, after the other's moment `since`.

    events: (moment, done or undone again); here: whether it stands as done now. Where
    it does not and nothing says when it was undone, it counts as never done.
    """
    spans: list[Span] = []
    start: int | None = since
    for at, done in sorted(events):
        if done and start is not None:
            if at > start:
                spans.append((start, at))
            start = None
        elif not done and start is None:
            start = max(at, since)
    if start is not None:
        return [*spans, (start, None)]
    return spans if here else [(since, None)]


def _times(scene: Scene, lines: Iterable[Line]) -> list[int]:
    return [scene.view.moment(line).at for line in lines if not line.discarded]


def _every_time(scene: Scene, line: Line) -> set[int]:
    """Give when a line was done, and done once more, not counting corrections."""
    history = scene.view.history
    done = [p for p in line.asserted if history.entry(p).kind != "correction"]
    if line.discarded:
        return set()
    return {scene.view.moment(line).at, *(history.moments[p].at for p in done)}
