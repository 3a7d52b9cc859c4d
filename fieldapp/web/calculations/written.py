"""Numbers and tables as people write them: decimal comma or point, pasted columns.

Nothing is guessed. What has one reading only is read; what has none is handed on as
the text it is, for the calculation to refuse by name; what has two is a fault here.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
LONGEST_NUMBER = 40
SHOWN_LINE = 40
MINUS_SIGNS = str.maketrans({"\N{MINUS SIGN}": "-", "\N{EN DASH}": "-"})
Plain = float | int | str


class TableFault(ValueError):
    """A pasted table that has no single reading; the text says where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What a table's lines hold: how each cell reads, and which may be left out."""

    names: tuple[str, ...]
    texts: frozenset[int]
    fewest: int

    @property
    def said(self) -> str:
        """Say the columns in words."""
        return ", ".join(self.names)


def number(text: str) -> Plain:
    """Read a number, or give the text itself where it is none."""
    plain = text.strip().translate(MINUS_SIGNS)
    if len(plain) > LONGEST_NUMBER or not NUMBER.fullmatch(plain):
        return text.strip()
    if plain.lstrip("+-").isdigit():
        return int(plain)
    return float(plain.replace(",", "."))


def numbers(text: str) -> list[Plain]:
    """Read numbers separated by semicolons, spaces or new lines.

    A comma with a space after it separates; a comma inside is a decimal comma.
    Errors: `TableFault` where commas alone could be either.
    """
    parts = [part for part in re.split(r"[;\s]+|,(?=\s|$)", text.strip()) if part]
    if len(parts) == 1 and "," in parts[0] and ";" not in text:
        if "." not in parts[0]:
            told = "decimal commas or separators? Put semicolons between the numbers"
            raise TableFault(f"{_quoted(text)}: {told}")
        parts = parts[0].split(",")
    return [number(part) for part in parts]


def table(text: str, columns: Columns) -> list[list[Plain]]:
    """Read lines of cells separated by tab, semicolon, comma or spaces.

    A first line of headings is left out. Cells left out at the end, or empty, are
    empty texts. Errors: `TableFault` for a line that is no row of the columns.
    """
    lines = [(i, line) for i, line in enumerate(text.splitlines(), 1) if line.strip()]
    rows = [(place, line, _row(line, columns)) for place, line in lines]
    if rows and rows[0][2] is None and _headings(rows[0][1]):
        rows = rows[1:]
    for place, line, row in rows:
        if row is None:
            raise TableFault(f"line {place}, {_quoted(line)}: wanted {columns.said}")
    return [row for _, _, row in rows if row is not None]


def _row(line: str, columns: Columns) -> list[Plain] | None:
    """Give the cells by the first separator that makes a row of them."""
    for way in _ways(line):
        cells = _without_empty_end(way, len(columns.names))
        if not columns.fewest <= len(cells) <= len(columns.names):
            continue
        row = [*cells, *[""] * (len(columns.names) - len(cells))]
        read = [_cell(cell, i in columns.texts) for i, cell in enumerate(row)]
        if all(
            i in columns.texts or cell == "" or not isinstance(cell, str)
            for i, cell in enumerate(read)
        ):
            return read
    return None


def _without_empty_end(cells: Sequence[str], most: int) -> Sequence[str]:
    """Leave out what a trailing separator adds beyond the columns."""
    last = len(cells)
    while last > most and not cells[last - 1]:
        last -= 1
    return cells[:last]


def _headings(line: str) -> bool:
    """Say whether a line holds words only; a line with a number is never dropped."""
    words = re.split(r"[\t;,\s]+", line)
    return all(isinstance(number(word), str) for word in words)


def _ways(line: str) -> Iterable[Sequence[str]]:
    splits: tuple[Callable[[str], list[str]], ...] = (
        lambda text: text.split("\t"),
        lambda text: text.split(";"),
        lambda text: text.split(","),
        str.split,
    )
    return ([cell.strip() for cell in split(line)] for split in splits)


def _cell(cell: str, text: bool) -> Plain:
    return cell if text else number(cell)


def _quoted(text: str) -> str:
    plain = " ".join(text.split())
    short = plain if len(plain) <= SHOWN_LINE else plain[: SHOWN_LINE - 1] + "…"
    return f"“{short}”"
