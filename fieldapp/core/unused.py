"""A batch thrown away before it came to what its clock limits, or taken off again."""

from typing import Any

from fieldapp.core.clocks import Moment
from fieldapp.core.scene import Scene
from fieldapp.core.steps import line_state


def thrown_away(scene: Scene, clock: dict[str, Any], line: str) -> bool:
    """Say whether a clock's own batch was discarded and never came to what ends it.

    A spare kit that nobody needed was never on the face too late. Sheets from before
    this was amended told it as over.
    """
    sheet = scene.view.sheet
    if not clock.get("per_line") or sheet.amended < 2:
        return False
    if clock["until"] not in sheet.steps:
        return False
    began = scene.lines(clock["start"]).get(line)
    used = line in scene.lines(clock["until"])
    return began is not None and began.discarded and not used


def taken_off(scene: Scene, clock: dict[str, Any], line: str) -> Moment | None:
    """Give when all was off again whose life a clock runs; None: it is on, or was not.

    Who took it off had seen all of it: what they did not know of may be on still.
    """
    history = scene.view.history
    began = [
        each.root
        for each in scene.lines(clock["start"]).values()
        if not each.discarded and (not clock.get("per_line") or each.id == line)
    ]
    off = [
        each
        for step in scene.view.sheet.steps.values()
        if clock["start"] in step.takes_off
        for each in scene.lines(step.id).values()
        if all(history.saw(each.root, root) for root in began)
        and line_state(scene, step, each).status == "ok"
    ]
    first = min(off, key=lambda each: each.root, default=None)
    return scene.view.moment(first) if began and first is not None else None
