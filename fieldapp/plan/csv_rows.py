"""Rows of a site's CSV tables, each cell checked against its column.

A table states its columns; a cell that does not fit, a missing or unknown column and
a repeated key are reported with file, line and column, and reading goes on.
"""

import csv
import io
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from fieldapp.plan.faults import Faults
from fieldapp.plan.toml_node import ID, ID_ALLOWED

Read = Callable[[str], Any]
FREE = re.compile(r"[a-z][a-z0-9_]*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """How one column is read; `read` raises ValueError, `allowed` says what fits."""

    read: Read
    allowed: str
    need: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The columns of a table: needed, allowed, and whether any others are too."""

    columns: Mapping[str, Column]
    optional: Mapping[str, Column]
    free: bool

    def wrong(self, head: list[str]) -> list[str]:
        """Give the names that are no columns here, or stand twice."""
        known = {**self.columns, **self.optional}
        return [
            cell
            for cell in head
            if head.count(cell) > 1
            or not (cell in known or (self.free and FREE.fullmatch(cell)))
        ]

    def missing(self, head: list[str]) -> list[str]:
        """Give the needed columns that are not there."""
        return [column for column in self.columns if column not in head]

    @property
    def allowed(self) -> str:
        """Say which columns there may be."""
        names = "columns " + ", ".join([*self.columns, *self.optional])
        return f"{names}, others in small letters" if self.free else names

    def of(self, head: list[str]) -> dict[str, Column]:
        """Give how each column of a table is read."""
        known = {**self.columns, **self.optional}
        return {cell: known.get(cell) or text(need=False) for cell in head}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: its cells as read, an empty or faulty one as None."""

    file: str
    line: int
    cells: Mapping[str, Any]
    faults: Faults

    def __getitem__(self, column: str) -> Any:
        return self.cells[column]

    @property
    def whole(self) -> bool:
        """Whether every cell that must be there could be read."""
        return not self.cells[""]

    def refer(self, column: str, known: Iterable[str], file: str) -> bool:
        """Say whether a cell names something of another file, and report it if not.

        Nothing is reported where that file has faults of its own: what it would have
        named is not known.
        """
        names = tuple(known)
        if self[column] in names:
            return True
        if not self.faults.touch(file):
            self.fault(column, f"one of {file}: " + ", ".join(names))
        return False

    def fault(self, column: str, allowed: str, found: object = None) -> None:
        """Report a cell of this row."""
        what = self.cells.get(column) if found is None else found
        self.faults.add(self.file, self.line, column, what, allowed)


def read_rows(
    folder: Path,
    name: str,
    columns: Mapping[str, Column],
    key: tuple[str, ...],
    faults: Faults,
    *,
    optional: Mapping[str, Column] | None = None,
    free: bool = False,
) -> list[Row]:
    """Read a table's good rows; the columns named by `key` together occur once.

    `optional` columns may be left out, and are then None; `free`: the table may have
    any other columns, of text.
    """
    raw = _lines_of(folder / name, name, faults)
    head = Head(columns=columns, optional=optional or {}, free=free)
    rows = [row for row in _rows(raw, name, head, faults) if row.whole]
    seen: set[tuple[Any, ...]] = set()
    for row in rows:
        found = tuple(row[column] for column in key)
        if found in seen:
            row.fault(key[0], "each " + " and ".join(key) + " once")
        seen.add(found)
    return rows


def _lines_of(
    path: Path, name: str, faults: Faults
) -> list[tuple[int, list[str]]] | None:
    """Read a table's lines with their numbers; None where there is no text to read."""
    try:
        text = unicodedata.normalize("NFC", path.read_text("utf-8-sig"))
    except OSError as fault:
        faults.add(name, 1, "", fault.strerror, "a CSV table that can be read")
        return None
    except UnicodeDecodeError:
        faults.add(name, 1, "", "bytes that are not UTF-8", "UTF-8 text")
        return None
    reader = csv.reader(io.StringIO(text), strict=True)
    rows: list[tuple[int, list[str]]] = []
    try:
        rows.extend((reader.line_num, cells) for cells in reader)
    except csv.Error as fault:
        begun = rows[-1][0] + 1 if rows else 1
        faults.add(name, begun, "", str(fault), "CSV with commas and quotes")
    return [(line, cells) for line, cells in rows if any(map(str.strip, cells))]


def _rows(
    raw: list[tuple[int, list[str]]] | None, name: str, wanted: Head, faults: Faults
) -> Iterator[Row]:
    if raw is None:
        return
    if not raw:
        faults.add(name, 1, "", "an empty table", "a line of column names")
        return
    head = [cell.strip() for cell in raw[0][1]]
    if not _head_is_good(head, raw[0][0], name, wanted, faults):
        return
    columns = wanted.of(head)
    absent = {column: None for column in wanted.optional if column not in head}
    for line, cells in raw[1:]:
        if len(cells) != len(head):
            found = f"{len(cells)} cells"
            faults.add(name, line, "", found, f"{len(head)} cells, as in line 1")
            continue
        texts = dict(zip(head, map(str.strip, cells), strict=True))
        read = _row(name, line, texts, columns, faults)
        yield Row(name, line, {**absent, **read}, faults)


def _head_is_good(
    head: list[str], line: int, name: str, wanted: Head, faults: Faults
) -> bool:
    wrong, missing = wanted.wrong(head), wanted.missing(head)
    for cell in wrong:
        faults.add(name, line, cell, cell, wanted.allowed)
    for column in missing:
        faults.add(name, line, column, "no such column", wanted.allowed)
    return not (wrong or missing)


def _row(
    name: str,
    line: int,
    texts: Mapping[str, str],
    columns: Mapping[str, Column],
    faults: Faults,
) -> dict[str, Any]:
    cells: dict[str, Any] = {}
    bad = []
    for title, column in columns.items():
        text = texts[title]
        try:
            cells[title] = column.read(text) if text or column.need else None
        except (ValueError, InvalidOperation):
            cells[title] = None
            bad.append(title)
            faults.add(name, line, title, text, column.allowed)
    cells[""] = bad
    return cells


def text(need: bool = True) -> Column:
    """A column of free text."""
    return Column(read=_filled, allowed="text", need=need)


def identity(need: bool = True) -> Column:
    """A column of ids."""
    return Column(read=_identity, allowed=ID_ALLOWED, need=need)


def id_list() -> Column:
    """A column of ids with spaces between them."""
    return Column(
        read=lambda cell: tuple(_identity(part) for part in _filled(cell).split()),
        allowed="ids with spaces between them",
    )


def number(low: str, high: str, places: int = 6, need: bool = True) -> Column:
    """A column of numbers from low to high with at most so many decimal places."""
    least, most = Decimal(low), Decimal(high)

    def read(cell: str) -> Decimal:
        if not re.fullmatch(r"[+-]?[0-9]{1,12}(\.[0-9]{1,12})?", cell):
            raise ValueError(cell)
        value = Decimal(cell)
        if not least <= value <= most or value != round(value, places):
            raise ValueError(cell)
        return value

    decimals = f", {places} decimal places at most" if places else ", whole"
    return Column(
        read=read, allowed=f"a number from {low} to {high}{decimals}", need=need
    )


def whole(low: int, high: int, need: bool = True) -> Column:
    """A column of whole numbers from low to high."""
    exact = number(str(low), str(high), places=0)
    return Column(
        read=lambda cell: int(exact.read(cell)), allowed=exact.allowed, need=need
    )


def one_of(*words: str) -> Column:
    """A column of a few words."""

    def read(cell: str) -> str:
        if cell not in words:
            raise ValueError(cell)
        return cell

    return Column(read=read, allowed="one of " + ", ".join(words))


def day(need: bool = True) -> Column:
    """A column of days, year-month-day."""
    return Column(read=date.fromisoformat, allowed="a day as 2031-12-24", need=need)


def _filled(cell: str) -> str:
    if not cell:
        raise ValueError(cell)
    return cell


def _identity(cell: str) -> str:
    if ID.fullmatch(cell) is None:
        raise ValueError(cell)
    return cell
