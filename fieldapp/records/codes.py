"""Codes to be scanned, as shapes: the one file that speaks to the library of codes.

The same text gives the same code. A code always stands beside what it says in words.
"""

import segno

from fieldapp.records.pictures.drawing import Drawing, Shape

QUIET = 4
"""Empty modules around a code, as ISO/IEC 18004 wants them (from memory)."""


def code(text: str, size_mm: float, title: str) -> Drawing:
    """Draw a text as a QR code with its quiet zone, with a quarter of it to spare."""
    rows = matrix(text)
    module_mm = size_mm / (len(rows) + 2 * QUIET)
    data = " ".join(
        f"M{(start + QUIET) * module_mm:.3f} {(number + QUIET) * module_mm:.3f}"
        f"h{length * module_mm:.3f}v{module_mm:.3f}h-{length * module_mm:.3f}z"
        for number, row in enumerate(rows)
        for start, length in _runs(row)
    )
    shape = Shape(tag="path", attributes=(("d", data), ("fill", "#000000")))
    return Drawing(
        title=title, caption="", width_mm=size_mm, height_mm=size_mm, shapes=(shape,)
    )


def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """Give the dark modules of a text's code, row by row, without quiet zone."""
    made = segno.make(text, error="q", boost_error=False, micro=False)
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Give where dark stretches of a row start, and how long they are."""
    runs: list[tuple[int, int]] = []
    for place, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == place:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((place, 1))
    return runs
