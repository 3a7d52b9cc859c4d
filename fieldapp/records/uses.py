"""Items that were used, as the readings that name them stand: slips left out."""

from collections.abc import Iterator

from fieldapp.core.entries import Entry
from fieldapp.core.line import Line
from fieldapp.records.opened import Opened

Use = tuple[str, Entry]
"""An item, and a reading that named it."""


def uses_standing(opened: Opened) -> list[tuple[Use, bool]]:
    """Give the items that readings name, in the order they were signed.

    Each with whether it was discarded, and nothing read with it that was not.
    """
    every = list(_uses(opened))
    used = {name for (name, _), discarded in every if not discarded}
    return [(use, off) for use, off in every if not (off and use[0] in used)]


def _uses(opened: Opened) -> Iterator[tuple[Use, bool]]:
    """Yield the items that readings named and name still, in the order of signing.

    An item chosen by a slip was never used: its correction is told with its step. What
    was discarded is told as that: of an adhesive that was mixed, a lot was opened.
    """
    for entry in opened.entries:
        step = opened.sheet.steps.get(entry.step or "")
        for field, _ in step.items if step is not None else ():
            name = entry.values.get(field)
            line = _line(opened, entry) if isinstance(name, str) else None
            if isinstance(name, str) and (line is None or _says(line, field, name)):
                yield (name, entry), line is not None and line.discarded


def _line(opened: Opened, entry: Entry) -> Line | None:
    """Give the line an entry is of, as the readings of its attempt leave it."""
    lines = opened.scene.view.lines_in(entry.step or "", entry.attempt)
    return lines.get(entry.line)


def _says(line: Line, field: str, name: str) -> bool:
    # While two readings contradict each other nobody knows which was used.
    return line.disputed or line.values.get(field) == name
