"""What a form is made of: fields, groups, tables and stacks, ready to be drawn.

`place` is a field's name, its id, and where the input keeps it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One field to fill in. `place` is its name; `shape` says how it is drawn."""

    place: str
    label: str
    shape: str
    needed: bool
    value: str = ""
    unit: str = ""
    hint: str = ""
    options: tuple[str, ...] = ()
    fault: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Fields that belong together; `inline` where they are one row of numbers."""

    place: str
    label: str
    needed: bool
    members: tuple["Node", ...]
    inline: bool = False
    hint: str = ""
    fault: str = ""
    shape: str = "group"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list of rows; `text` is given instead of rows where they are too many."""

    place: str
    label: str
    needed: bool
    columns: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    text: str
    opened: bool
    hint: str = ""
    fault: str = ""
    shape: str = "table"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A list of things that are groups or tables themselves."""

    place: str
    label: str
    needed: bool
    members: tuple["Node", ...]
    each: str
    hint: str = ""
    fault: str = ""
    shape: str = "stack"


Node = Cell | Group | Table | Stack


def places(nodes: Sequence[Node]) -> Iterator[str]:
    """Yield every place of a form that a refusal can stand beside."""
    for node in nodes:
        yield node.place
        if isinstance(node, Table):
            yield from (cell.place for row in node.rows for cell in row)
        elif isinstance(node, Group | Stack):
            yield from places(node.members)
