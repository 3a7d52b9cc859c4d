"""What outlasts an attempt: adhesive sets on, whatever was decided about the joint.

For judging, the clocks of an attempt end with the disposition that opened the next. A
deadline that raises nothing (part clean by) is judged nowhere: it says what can still
be done, and it holds until what every further attempt begins with (parted and cleaned)
is recorded. More adhesive put on what is still there makes nothing of it later.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.clocks import bound_ms
from fieldapp.core.lives import clock_lines, deadline_ms, ratios_of, run_clock
from fieldapp.core.scene import Scene
from fieldapp.core.steps import step_state

State = dict[str, Any]


def outlasting(scene: Scene) -> list[State]:
    """Give the deadlines that outlast their attempts, newest attempt first.

    Each with its clock, its line ("" for the subject's own), the attempt it is of (the
    first has none), when it began, the deadlines (ms UTC) and what is left to them (ms,
    below zero: over).
    """
    found: list[State] = []
    later = scene
    for count in range(len(scene.view.attempts()) - 1, 0, -1):
        if _begun_with(later):
            break
        ended = scene.case.earlier(scene, count)
        for clock in scene.view.sheet.clocks.values():
            told = [r for r in ratios_of(ended, clock) if not r.get("raises")]
            if told and not _taken_over(later, ended, clock["start"]):
                found += _of_clock(ended, clock, told, scene)
        later = ended
    return found


def _begun_with(scene: Scene) -> bool:
    """Say whether an attempt is past what every further one begins with."""
    return any(
        step.again and step_state(scene, step).status == "done"
        for step in scene.view.sheet.steps.values()
    )


def _taken_over(later: Scene, ended: Scene, start: str) -> bool:
    """Say whether the later attempt goes on with what began the clock.

    Sheets from before this was amended let it end where the clock was begun anew.
    """
    if later.view.sheet.amended < 2:
        return bool(later.lines(start))
    return later.view.attempt_of(start) == ended.view.attempt_of(start)


def _of_clock(
    ended: Scene, clock: dict[str, Any], told: list[dict[str, Any]], scene: Scene
) -> Iterator[State]:
    """Run an ended attempt's clock on to now: it stops for nobody's decision."""
    attempt = ended.view.attempts()[-1][0]
    of = {} if attempt is None else {"attempt": attempt}
    for line in clock_lines(ended, clock):
        run = run_clock(ended, clock, line, scene.at)
        if run is None:
            continue
        start = bound_ms(run.moment, 0)
        ends = {each["id"]: deadline_ms(run, each) for each in told}
        yield {
            "clock": clock["id"],
            "line": line,
            **of,
            "start": start,
            "deadlines": {name: start + end for name, end in ends.items()},
            "left": {name: end - run.run_ms for name, end in ends.items()},
        }
