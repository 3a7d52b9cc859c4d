"""Reads tables that may be damaged: what can be read is given, the rest is named.

Nothing is assumed of a row but that it has columns: a hand may have put anything
there. Rows are asked for in pages, and one by one where a page cannot be read.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fieldapp.store.database import DISK_FAULTS, Store

PAGE = 500
FARTHEST = 10_000
"""So many unreadable rows in a row, and the rest is given up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unreadable:
    """A place of a table that could not be read, and why."""

    number: int
    why: str


def numbered_rows(
    store: Store, table: str, number: str
) -> Iterator[dict[str, Any] | Unreadable]:
    """Give the rows of a table that is counted by one of its columns, in order."""
    after, lost = 0, 0
    while lost < FARTHEST:
        which = f"{number} > ? ORDER BY {number} LIMIT ?"
        try:
            page = _rows(store, table, which, (after, PAGE))
        except DISK_FAULTS:
            singly = list(_one_by_one(store, table, number, after))
            lost += sum(isinstance(row, Unreadable) for row in singly) or PAGE
            after += PAGE
            yield from singly
            continue
        yield from page
        # Text sorts behind every number: what comes after it cannot be counted.
        if not page or not isinstance(page[-1][number], int):
            return
        after, lost = page[-1][number], 0


def named_rows(
    store: Store, table: str, name: str
) -> Iterator[dict[str, Any] | Unreadable]:
    """Give the rows of a table that is named by one of its columns, by that name.

    Each is asked for by itself, since one (a photo) may be large.
    """
    which = f"1 ORDER BY {name}"
    try:
        names = [row[name] for row in _rows(store, table, which, (), columns=name)]
    except DISK_FAULTS as trouble:
        yield Unreadable(number=0, why=str(trouble))
        return
    for each in names:
        try:
            yield from _rows(store, table, f"{name} IS ?", (each,))
        except DISK_FAULTS as trouble:
            yield Unreadable(number=0, why=f"{each}: {trouble}")


def _rows(
    store: Store, table: str, which: str, given: tuple[Any, ...], columns: str = "*"
) -> list[dict[str, Any]]:
    # The names come from this package; what was given from outside is bound.
    asked = f"SELECT {columns} FROM {table} WHERE {which}"  # noqa: S608
    cursor = store.database.execute_sql(asked, given)
    names = [column[0] for column in cursor.description]
    return [dict(zip(names, row, strict=True)) for row in cursor]


def _one_by_one(
    store: Store, table: str, number: str, after: int
) -> Iterator[dict[str, Any] | Unreadable]:
    for each in range(after + 1, after + PAGE + 1):
        try:
            yield from _rows(store, table, f"{number} = ?", (each,))
        except DISK_FAULTS as trouble:
            yield Unreadable(number=each, why=str(trouble))
