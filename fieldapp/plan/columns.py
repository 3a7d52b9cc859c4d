"""Fills a kind's file in for one subject: { column = "bore_mm" } becomes its cell.

A cell that is a number becomes one, exactly as written; anything else stays text.
Done before anything is read, so that a column may stand wherever a value may.
"""

from decimal import Decimal, InvalidOperation
from typing import Any

from fieldapp.plan.site import Subject
from fieldapp.plan.toml_lines import Path
from fieldapp.plan.toml_node import Node

COLUMN = "column"


def column_places(value: Any, path: Path = ()) -> list[Path]:
    """Give where in a kind's file a column is asked for; the same for every subject."""
    if isinstance(value, dict) and set(value) == {COLUMN}:
        return [path]
    inner: Any = ()
    if isinstance(value, dict):
        inner = value.items()
    elif isinstance(value, list):
        inner = enumerate(value)
    return [place for key, each in inner for place in column_places(each, (*path, key))]


def filled(kind: Node, places: list[Path], subject: Subject) -> Node:
    """Give the kind's file with every column of the subject in its place."""
    value = kind.value
    for path in places:
        value = _with(value, path, Node(kind.source, path, None), subject)
    return Node(kind.source, kind.path, value)


def _with(part: Any, path: Path, place: Node, subject: Subject) -> Any:
    """Copy a file along one path, with the subject's cell at its end."""
    if not path:
        return _cell(part[COLUMN], place, subject)
    changed: Any = dict(part) if isinstance(part, dict) else list(part)
    changed[path[0]] = _with(part[path[0]], path[1:], place, subject)
    return changed


def _cell(name: Any, place: Node, subject: Subject) -> Any:
    cell = subject.cells.get(name, "") if isinstance(name, str) else ""
    if not cell:
        known = ", ".join(subject.cells)
        allowed = f"a filled column of {subject.id} in {subject.table}: {known}"
        place.fault(allowed, name)
        return ""
    try:
        number = Decimal(cell)
    except InvalidOperation:
        return cell
    if not number.is_finite():
        return cell
    return int(number) if number == number.to_integral_value() else number
