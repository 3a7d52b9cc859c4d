"""A batch thrown away before it came to what its clock limits."""

from typing import Any

from fieldapp.core.scene import Scene


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
