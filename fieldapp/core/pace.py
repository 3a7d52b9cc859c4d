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
    sheet = scene.view.sheet
    if clock["until"] not in sheet.milestones:
        return None
    first = sheet.flow[clock["start"]]
    last = sheet.flow[sheet.milestones[clock["until"]].step]
    total = 0
    for name, place in sheet.flow.items():
        if first <= place <= last and name in sheet.steps:
            step = sheet.steps[name]
            found = step_state(scene, step)
            missing = 0 if found.status == "off" else found.missing
            if missing and "typical_ms" in step.raw:
                total += missing * line_ms(scene, step)
    return total


def line_ms(scene: Scene, step: Step) -> int:
    """Give the time one line of a step takes, ms: this joint's mean, or typical."""
    times = sorted(scene.view.moment(line).at for line in scene.lines(step.id).values())
    if len(times) >= 2 and times[-1] > times[0]:
        return (times[-1] - times[0]) // (len(times) - 1)
    kind = scene.view.sheet.raw["kind"]
    own = scene.view.standing.get("pace", {}).get(kind, {}).get(step.id)
    typical: int = step.raw["typical_ms"]
    return own or typical
