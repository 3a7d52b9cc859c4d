"""When a running clock's end is to be expected, at this gang's own pace.

What is left to record times the time a line takes. A pace is measured between acts:
what is noted within a quarter of a line's typical time is one act, and the lines of the
first are not counted, for nobody knows when they began. Until several acts are there
the slower counts: this joint's own, or the gang's from finished joints (before there
are any, the plan's typical time). Nothing here may look better than it is.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from fieldapp.core.line import Line
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step
from fieldapp.core.steps import step_state

ONE_ACT = 4
"""What is noted within this part of a line's typical time was noted together."""
ACTS_ENOUGH = 3
"""So many acts after the first, and a joint's own pace stands by itself."""


class Measured(NamedTuple):
    """A pace: ms a line, and the acts after the first that it was measured by."""

    line_ms: int
    acts: int


def measured(times: Sequence[int], typical_ms: int) -> Measured | None:
    """Measure a pace by when lines were noted, ms; None where all were one act."""
    ordered = sorted(times)
    apart = [
        place
        for place, (one, other) in enumerate(pairwise(ordered), start=1)
        if (other - one) * ONE_ACT >= typical_ms
    ]
    if not apart:
        return None
    lines, span = len(ordered) - apart[0], ordered[-1] - ordered[0]
    return Measured(-(-span // lines), len(apart))


def remaining_ms(scene: Scene, clock: dict[str, Any]) -> int | None:
    """Give the time still needed to a clock's milestone, ms; None without a pace."""
    if clock["until"] not in scene.view.sheet.milestones:
        return None
    steps = _remaining(scene, clock)
    return sum(missing * line_ms(scene, step) for step, missing in steps)


def guessed(scene: Scene, clock: dict[str, Any]) -> bool:
    """Say whether that time rests on the plan's typical one: nobody's own pace."""
    if clock["until"] not in scene.view.sheet.milestones:
        return False
    steps = _remaining(scene, clock)
    return any(_known_ms(scene, step) != line_ms(scene, step) for step, _ in steps)


def sure_ms(scene: Scene, clock: dict[str, Any]) -> int:
    """Give the part of that time that somebody's own pace says, ms: it needs at least.

    Where it alone takes too long, nothing is left to guess.
    """
    if clock["until"] not in scene.view.sheet.milestones:
        return 0
    steps = _remaining(scene, clock)
    return sum(missing * (_known_ms(scene, step) or 0) for step, missing in steps)


def line_ms(scene: Scene, step: Step) -> int:
    """Give the time one line of a step takes, ms: the slower of what may be so."""
    typical: int = step.raw["typical_ms"]
    known = _known_ms(scene, step)
    if known is None:
        return typical
    stands = _stands_alone(scene, step) or _of_gang(scene, step) is not None
    return known if stands else max(known, typical)


def _remaining(scene: Scene, clock: dict[str, Any]) -> list[tuple[Step, int]]:
    """Give the steps up to a clock's milestone that take time, and lines missing."""
    sheet = scene.view.sheet
    first = sheet.flow[clock["start"]]
    last = sheet.flow[sheet.milestones[clock["until"]].step]
    found = []
    for name, place in sheet.flow.items():
        if first <= place <= last and name in sheet.steps:
            step = sheet.steps[name]
            state = step_state(scene, step)
            missing = 0 if state.status == "off" else state.missing
            if missing and "typical_ms" in step.raw:
                found.append((step, missing))
    return found


def _known_ms(scene: Scene, step: Step) -> int | None:
    """Give the time a line takes by somebody's own pace, ms; None: nobody's."""
    own, gang = _of_joint(scene, step), _of_gang(scene, step)
    if own is None or gang is None or _stands_alone(scene, step):
        return gang if own is None else own.line_ms
    return max(own.line_ms, gang)


def _stands_alone(scene: Scene, step: Step) -> bool:
    own = _of_joint(scene, step)
    return own is not None and own.acts >= ACTS_ENOUGH


def _of_gang(scene: Scene, step: Step) -> int | None:
    kind = scene.view.sheet.raw["kind"]
    own: int | None = scene.view.standing.get("pace", {}).get(kind, {}).get(step.id)
    return own or None


def _of_joint(scene: Scene, step: Step) -> Measured | None:
    """Give this joint's own pace of a step.

    Sheets from before this was amended took any two lines for one.
    """
    lines = scene.lines(step.id).values()
    if scene.view.sheet.amended >= 2:
        return measured(_times(scene, lines), step.raw["typical_ms"])
    times = sorted(scene.view.moment(line).at for line in lines)
    if len(times) < 2 or times[-1] == times[0]:
        return None
    return Measured((times[-1] - times[0]) // (len(times) - 1), ACTS_ENOUGH)


def _times(scene: Scene, lines: Iterable[Line]) -> list[int]:
    """Give when lines were noted, ms, by the office's clock where all had heard it."""
    moments = [scene.view.moment(line) for line in lines if not line.discarded]
    known = [each for each in moments if not each.unknown]
    if None in [each.offset for each in known]:
        return [each.at for each in known]
    return [each.at + (each.offset or 0) for each in known]
