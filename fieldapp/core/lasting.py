"""What does not go back: a pot that was seen gelled is not soft again.

A plan says it of an option (`stays`). A later reading that says otherwise clears
nothing: the contradiction is told until the reading that was wrong is corrected, which
undoes it only before anybody had relied on it.
"""

from collections.abc import Iterator

from fieldapp.core.line import Line
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step

BACK = "taken_back"
"""The code of a reading that does not go back and was read otherwise since."""


def taken_back(scene: Scene, step: Step, line: Line) -> tuple[tuple[str, int], ...]:
    """Give each field that was read back, with the place of what said it stays."""
    if len(line.asserted) < 2 or line.disputed or line.discarded:
        return ()
    return tuple(
        (field, place)
        for field, place, value in said_to_stay(scene, step, line)
        if place != line.current and line.values.get(field) != value
    )


def said_to_stay(
    scene: Scene, step: Step, line: Line
) -> Iterator[tuple[str, int, int | str]]:
    """Give each field, place and value of a line's readings that does not go back."""
    lasting = _lasting(step)
    for place in line.asserted if lasting else ():
        if _corrected(scene, line, place):
            continue
        older = scene.view.line_at(line, place).values
        for field, values in lasting:
            value = older.get(field)
            if value is not None and value in values:
                yield field, place, value


def _lasting(step: Step) -> list[tuple[str, set[int]]]:
    """Give by field the values that do not go back."""
    fields = ((f["id"], f.get("options", ())) for f in step.raw.get("fields", ()))
    named = (
        (name, {o["value"] for o in opts if o.get("stays")}) for name, opts in fields
    )
    return [(name, values) for name, values in named if values]


def _corrected(scene: Scene, line: Line, place: int) -> bool:
    """Say whether a correction takes a reading back in time."""
    history = scene.view.history
    root = scene.view.root_of(line, place)
    return any(
        history.entry(other).kind == "correction"
        and other not in history.added
        and scene.view.root_of(line, other) == root
        and history.retaken_in_time(place, other)
        for other in line.asserted
    )
