"""A calculation sheet as plain text, eighty-odd columns wide, to print or to read.

It only sets out; every figure comes ready from the sheet.
"""

import textwrap
from collections.abc import Iterator, Sequence

from fieldapp.calc.sketch import Sketch
from fieldapp.calc.sketch_text import drawn
from fieldapp.calc.working import Grid, Note, Part, Quantity, Step, Working

WIDTH = 84
RULE = "─" * WIDTH
BLANK_LINE = "_" * 24


def as_text(working: Working) -> str:
    """The whole sheet, ending with a line break."""
    lines = [
        *_heading(working),
        *_section("INPUTS", _values(working.inputs)),
        *(_section("SKETCH", _sketch(working.sketch)) if working.sketch else ()),
        *_section("CALCULATION", _parts(working.parts)),
        *_section("RESULT", _values(working.results)),
        *_section("RANGE OF VALIDITY", _bullets(working.validity)),
        *_section("SOURCES", _bullets(working.sources)),
        *_section("VERSION", iter([f"calculation {working.name}, {working.version}"])),
        "",
        *textwrap.wrap(working.caution, WIDTH),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _heading(working: Working) -> Iterator[str]:
    heading = working.heading
    yield RULE
    yield f"CALCULATION  {working.title}  ({working.name})"
    yield from textwrap.wrap(working.purpose, WIDTH)
    yield RULE
    for left, right in (
        (("Job", heading.job), ("Revision", heading.revision)),
        (("Subject", heading.subject), ("Prepared", heading.prepared)),
        (("", ""), ("Checked", heading.checked)),
    ):
        yield f"{_named(*left):<46}{_named(*right)}"


def _named(name: str, value: str) -> str:
    return f"{name:<9}{value or BLANK_LINE}" if name else ""


def _section(title: str, lines: Iterator[str]) -> Iterator[str]:
    yield ""
    yield title
    yield "─" * len(title)
    yield from lines


def _values(values: Sequence[Quantity | Grid]) -> Iterator[str]:
    for value in values:
        if isinstance(value, Grid):
            yield from _grid(value)
        else:
            yield from _quantity(value)


def _quantity(quantity: Quantity) -> Iterator[str]:
    name = f"{quantity.what} ({quantity.key})"
    value = f"{quantity.value} {quantity.unit}".strip()
    yield from _hung(f"{name} = {value}", 2)
    if quantity.source:
        yield from _hung(quantity.source, 6)


def _sketch(sketch: Sketch) -> Iterator[str]:
    yield from drawn(sketch)
    for note in sketch.notes:
        yield from _hung(note, 2)


def _parts(parts: Sequence[Part]) -> Iterator[str]:
    for part in parts:
        if isinstance(part, Step):
            yield from _step(part)
        elif isinstance(part, Grid):
            yield from _grid(part)
        elif isinstance(part, Note):
            yield from _hung(part.text, 2)


def _step(step: Step) -> Iterator[str]:
    yield from _hung(step.what, 2)
    yield from _hung(step.formula, 6)
    yield from _hung(f"= {step.numbers}", 6)
    yield from _hung(f"= {step.result}", 6)


def _grid(grid: Grid) -> Iterator[str]:
    yield from _hung(grid.title, 2)
    heads = _heads(grid, split=_width([grid.columns, *grid.rows]) > WIDTH)
    rows = [*heads, *grid.rows]
    widths = _widths(rows)
    for row in rows:
        cells = (f"{cell:>{width}}" for cell, width in zip(row, widths, strict=True))
        yield "    " + "  ".join(cells)


def _heads(grid: Grid, *, split: bool) -> list[tuple[str, ...]]:
    """The columns' heads in one row, or word under word where the page is narrow."""
    if not split:
        return [grid.columns]
    words = [column.replace("_", " ").split(" ") for column in grid.columns]
    deep = max(len(parts) for parts in words)
    padded = [[""] * (deep - len(parts)) + parts for parts in words]
    return list(zip(*padded, strict=True))


def _widths(rows: Sequence[tuple[str, ...]]) -> list[int]:
    return [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]


def _width(rows: Sequence[tuple[str, ...]]) -> int:
    return 4 + sum(_widths(rows)) + 2 * (len(rows[0]) - 1)


def _bullets(lines: Sequence[str]) -> Iterator[str]:
    for line in lines:
        yield from textwrap.wrap(
            line, WIDTH, initial_indent="  - ", subsequent_indent="    "
        )


def _hung(text: str, indent: int) -> Iterator[str]:
    yield from textwrap.wrap(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 2),
        break_on_hyphens=False,
    )
