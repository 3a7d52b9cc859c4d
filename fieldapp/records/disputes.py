"""Lines that two phones read without knowing of each other, and not the same."""

from collections.abc import Iterator

from fieldapp.core.kinds import READINGS
from fieldapp.core.line import Line
from fieldapp.records.acts import line_label
from fieldapp.records.opened import Opened


def contradictions(opened: Opened) -> Iterator[tuple[str, bool]]:
    """Yield the place of each line that was contradicted, and whether it is settled."""
    for name in opened.raw["flow"]:
        if name not in opened.sheet.steps:
            continue
        for line in opened.scene.lines(name).values():
            if contradicted(opened, line):
                title = opened.words.fact("step", name)
                label = line_label(opened, name, line.id)
                yield ", ".join(filter(None, (title, label))), not line.disputed


def contradicted(opened: Opened, line: Line) -> frozenset[str]:
    """Give the readings of a line that contradict another their author had not seen."""
    history = opened.scene.view.history
    roots = [p for p in line.asserted if history.entry(p).kind in READINGS]
    found = {
        history.entry(each).id
        for place in roots
        for other in roots
        if not (place == other or history.saw(place, other))
        and not history.saw(other, place)
        and history.entry(place).values != history.entry(other).values
        for each in (place, other)
    }
    return frozenset(found)
