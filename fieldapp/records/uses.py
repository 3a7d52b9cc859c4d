"""Items that were used, as the readings that name them stand: slips left out."""

from collections.abc import Iterator

from fieldapp.core.entries import Entry
from fieldapp.core.kinds import READINGS
from fieldapp.core.view import View
from fieldapp.records.opened import Opened

Use = tuple[str, Entry]
"""An item, and a reading that named it."""
DISCARDED, REPLACED = "discarded", "replaced"
"""What became of what a reading named; of most nothing, which is empty."""
Line = list[tuple[int, int]]
"""Readings and corrections of a line by place, each with the reading it is about."""


def uses_standing(opened: Opened) -> list[tuple[Use, str]]:
    """Give the items that readings name, in the order they were signed.

    Each with what became of it, where that is so of all that was read with it.
    """
    every = list(_uses(opened))
    used = {name for (name, _), fate in every if not fate}
    return [(use, fate) for use, fate in every if not (fate and use[0] in used)]


def _uses(opened: Opened) -> Iterator[tuple[Use, str]]:
    """Yield the items that readings named, in the order of signing, with their fate.

    An item chosen by a slip was never used: its correction is told with its step. What
    was discarded is told as that: of an adhesive that was mixed, a lot was opened. So
    is what another took the place of when work had gone on with it: a bar that broke.
    """
    view = opened.scene.view
    lines = {place: (root, line) for line in _lines(view) for place, root in line}
    for entry in opened.entries:
        place = view.history.graph.index.get(entry.id, -1)
        root, line = lines.get(place, (-1, []))
        for field, _ in view.sheet.steps[entry.step or ""].items if line else ():
            name = entry.values.get(field)
            if isinstance(name, str) and not _is_slip(view, line, (place, root), field):
                discards = view.discards_of(entry.step or "", root)
                off = any(not view.history.saw(root, each) for each in discards)
                gone = _is_replaced(view, line, (place, root), field)
                yield (name, entry), DISCARDED if off else REPLACED if gone else ""


def _lines(view: View) -> Iterator[Line]:
    """Yield each line that names items; in a series every reading is one."""
    history, steps = view.history, view.sheet.steps
    about = {place: root for root, found in history.corrections.items()
             for place in found}  # fmt: skip
    lines: dict[tuple[str, str | None, str], Line] = {}
    for place, entry in enumerate(history.graph.entries):
        step, root = steps.get(entry.step or ""), about.get(place, place)
        if step and step.items and (place in about or entry.kind in READINGS):
            first = history.entry(root)
            name = first.id if step.series else first.line
            lines.setdefault((step.id, first.attempt, name), []).append((place, root))
    yield from lines.values()


def _is_slip(view: View, line: Line, said: tuple[int, int], field: str) -> bool:
    """Say whether a line was told otherwise by somebody who had seen what it said.

    Read anew after a discard it tells of another batch, and takes nothing back; nor
    does it once others had relied on the line. While two readings contradict each other
    nobody knows which was used.
    """
    history, (place, root) = view.history, said
    named = history.entry(place).values[field]
    for other, of in line:
        now = history.entry(other).values
        if of == root:
            meant = field in now and history.saw(other, place)
        else:
            again = other == of and _takes_back(view, other, root)
            # A correction of what was read anew before it corrects nothing.
            stale = history.saw(place, other) and history.saw(other, root)
            if again and stale and place != root:
                return True
            meant = again and history.saw(other, place)
        if meant and now.get(field) != named:
            return True
    return False


def _is_replaced(view: View, line: Line, said: tuple[int, int], field: str) -> bool:
    """Say whether the line was read anew with another item past retaking."""
    history, (place, root) = view.history, said
    named = history.entry(place).values[field]
    return any(
        history.entry(other).values.get(field) != named
        for other, of in line
        if other == of and of != root and history.saw(other, place)
    )


def _takes_back(view: View, reading: int, before: int) -> bool:
    """Say whether what was read anew takes back what was read before.

    It does in time, and where nothing was discarded between them.
    """
    in_time = view.history.retaken_in_time(before, reading)
    return in_time and not _is_anew(view, reading, before)


def _is_anew(view: View, reading: int, before: int) -> bool:
    """Say whether something read before was discarded when it was read anew."""
    history = view.history
    discards = view.discards_of(history.entry(before).step or "", before)
    return any(
        history.saw(reading, each) and not history.saw(before, each)
        for each in discards
    )
