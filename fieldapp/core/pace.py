"""When a running clock's end is to be expected, at this gang's own pace.

What is left to record times the time a line takes: this joint's own mean once two
lines of the step are there, before that the gang's own from finished joints, and
before there are any the plan's typical time.
"""

from typing import Any

from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step
from fieldapp.core.steps import step_state


def remaining_ms(scene: Scene, clock: dict[str, Any]) -> int | None:
    """Give the time still needed to a clock's milestone, ms; None without a pace."""
    if clock["until"] not in scene.view.sheet.milestones:
        return None
    steps = _remaining(scene, clock)
    return sum(missing * line_ms(scene, step) for step, missing in steps)


def guessed(scene: Scene, clock: dict[str, Any]) -> bool:
    """Say whether that time rests on the plan's typical one: nobody's own pace."""
    return clock["until"] in scene.view.sheet.milestones and any(
        _measured_ms(scene, step) is None for step, _ in _remaining(scene, clock)
    )


def sure_ms(scene: Scene, clock: dict[str, Any]) -> int:
    """Give the part of that time that somebody's own pace says, ms: it needs at least.

    Where it alone takes too long, nothing is left to guess.
    """
    if clock["until"] not in scene.view.sheet.milestones:
        return 0
    steps = _remaining(scene, clock)
    return sum(missing * (_measured_ms(scene, step) or 0) for step, missing in steps)


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


def line_ms(scene: Scene, step: Step) -> int:
    """Give the time one line of a step takes, ms: this joint's mean, or typical."""
    typical: int = step.raw["typical_ms"]
    measured = _measured_ms(scene, step)
    return typical if measured is None else measured


def _measured_ms(scene: Scene, step: Step) -> int | None:
    times = sorted(scene.view.moment(line).at for line in scene.lines(step.id).values())
    if len(times) >= 2 and times[-1] > times[0]:
        return (times[-1] - times[0]) // (len(times) - 1)
    kind = scene.view.sheet.raw["kind"]
    own: int | None = scene.view.standing.get("pace", {}).get(kind, {}).get(step.id)
    return own or None
