"""The calculation sheet a checker signs, for the page and as a PDF.

The PDF carries the input and the answer as files, so that it can be worked out again
from nothing but the paper.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from flask import current_app, render_template

from fieldapp import __version__
from fieldapp.calc import METHOD_VERSION
from fieldapp.calc.calculation import Calculation, set_out
from fieldapp.calc.working import Grid, Quantity, Working
from fieldapp.records.figures import moment
from fieldapp.records.files import File
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.web.calculations.links import as_json
from fieldapp.web.calculations.pictures.canvas import PENS, Drawing
from fieldapp.web.calculations.pictures.gallery import pictures
from fieldapp.web.calculations.reading import Given
from fieldapp.web.calculations.solving import Solved

PAPER = "A4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Values that stand together: lines of a list, or one table."""

    lines: tuple[Quantity, ...] = ()
    grid: Grid | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A worked calculation as page and paper show it."""

    working: Working
    inputs: tuple[Block, ...]
    results: tuple[Block, ...]
    drawings: tuple[Drawing, ...]


def sheet_of(calculation: Calculation, given: Given, solved: Solved) -> Sheet:
    """Set out a worked calculation; it must have been solved."""
    assert solved.values is not None
    assert solved.answer is not None
    working = set_out(
        calculation,
        solved.values,
        solved.answer,
        heading=given.heading,
        sources=given.sources,
        version=f"fieldapp {__version__}, method {METHOD_VERSION}",
    )
    return Sheet(
        working=working,
        inputs=tuple(_blocks(working.inputs)),
        results=tuple(_blocks(working.results)),
        drawings=pictures(calculation, solved.values, solved.answer),
    )


def sheet_pdf(
    sheet: Sheet, given: Given, solved: Solved, now_ms: int, zone: int = 0
) -> bytes:
    """Set the sheet as a PDF, dated as the site's other papers (its zone in minutes).

    Errors: `PaperUnavailable` where the machine lacks the libraries.
    """
    page = render_template(
        "calculations/paper.html",
        sheet=sheet,
        pens=PENS,
        printed=moment(now_ms, zone),
    )
    files = (
        _file("input.json", given.data, "The input, as the command reads it", "Source"),
        _file("answer.json", solved.answer, "The answer, unrounded", "Data"),
    )
    return set_pdf(
        Pages(html=page, style=_style(), size=PAPER, created_ms=now_ms, files=files)
    )


def _blocks(values: Iterable[Quantity | Grid]) -> Iterator[Block]:
    """Gather lines that follow one another."""
    for is_grid, found in groupby(values, key=lambda value: isinstance(value, Grid)):
        if is_grid:
            yield from (Block(grid=each) for each in found if isinstance(each, Grid))
        else:
            lines = tuple(each for each in found if isinstance(each, Quantity))
            yield Block(lines=lines)


def _style() -> str:
    assert current_app.template_folder is not None
    path = Path(current_app.template_folder) / "calculations" / "paper.css"
    return path.read_text("utf-8")


def _file(name: str, data: Any, about: str, relation: str) -> File:
    content = as_json(data).encode("utf-8") + b"\n"
    return File(name=name, content=content, about=about, relation=relation)
