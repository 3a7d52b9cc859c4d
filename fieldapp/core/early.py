"""What a reading raises before the race has begun: nothing yet, it is only read again.

A plan may name the steps a race begins with. A failure that the first reading of each
of them had in its past, or that stands while there is none, fails its own step, and so
shuts the gate before the race; once the race runs the same figure is a nonconformance.
What nobody knew when the race began counts as found in it.
"""

from fieldapp.core.check import Check
from fieldapp.core.line import Line
from fieldapp.core.scene import Scene


def is_early(scene: Scene, check: Check, line: Line) -> bool:
    """Say whether a line's failure of a check was known before the race began."""
    if not check.begins:
        return False
    saw = scene.view.history.saw
    return all(
        saw(each.root, line.current)
        for step in check.begins
        for each in scene.lines(step).values()
    )


def is_settled(scene: Scene, check: Check, line: Line) -> bool:
    """Say whether a step that settles a failure was read by somebody who knew of it."""
    return any(
        scene.view.history.saw(each.root, line.current)
        for step in check.settles
        for each in scene.lines(step).values()
    )
