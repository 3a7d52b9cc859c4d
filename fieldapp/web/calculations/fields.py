"""The form of a calculation, grown from its declaration and what was given so far.

Every field shows what was read, not what was typed, so that a wrong reading is seen.
A place of the form is a place of the input: the refusals find their field by it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.calc.headings import words_of
from fieldapp.calc.inputs import (
    ANY_SIGN,
    Choice,
    Field,
    Kind,
    ListOf,
    Number,
    Record,
    Row,
    Text,
)
from fieldapp.calc.refusals import MISSING
from fieldapp.calc.specs.kinds import ZERO_K_C
from fieldapp.web.calculations.nodes import Cell, Group, Node, Stack, Table
from fieldapp.web.calculations.reading import flat
from fieldapp.web.calculations.units import spoken

MOST_ROWS_AS_CELLS = 60
"""A longer list is one text field: nobody types it cell by cell."""
EXACT = 2**53
"""Whole numbers up to here are themselves as a float."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a form shows beside its fields: faults, unread texts, rows to add."""

    faults: Mapping[str, str]
    unread: Mapping[str, str]
    more: Mapping[str, int]


def form_of(inputs: Record, data: Any, asked: Asked) -> tuple[Node, ...]:
    """Grow the form of a calculation's input."""
    return _members(inputs, data, "", asked)


def _members(kind: Record, data: Any, place: str, asked: Asked) -> tuple[Node, ...]:
    given = data if isinstance(data, Mapping) else {}
    return tuple(
        _node(each.kind, given.get(each.key), _at(place, each.key), each, asked)
        for each in kind.fields
    )


def _node(kind: Kind, value: Any, place: str, about: Field, asked: Asked) -> Node:
    label, needed = spoken(about.what), not about.optional
    fault = asked.faults.get(place, "")
    if isinstance(kind, Record):
        members = _members(kind, value, place, asked)
        return Group(
            place=place, label=label, needed=needed, members=members, fault=fault
        )
    if isinstance(kind, Row):
        cells = tuple(_row_cells(kind, value, place, asked))
        return Group(
            place=place,
            label=label,
            needed=needed,
            members=cells,
            inline=True,
            fault=fault,
        )
    if isinstance(kind, ListOf):
        return _list(kind, value, place, about, asked)
    return _cell(kind, value, place, about, asked)


def _list(kind: ListOf, value: Any, place: str, about: Field, asked: Asked) -> Node:
    if isinstance(kind.item, Number):
        return _numbers(kind.item, value, place, about, asked)
    if flat(kind.item):
        return _table(kind, value, place, about, asked)
    given = list(value) if isinstance(value, list | tuple) else []
    fewest = 0 if about.optional else kind.fewest - len(given)
    shown = [*given, *[None] * asked.more.get(place, fewest)]
    name = spoken(about.what.removesuffix("s"))
    members = tuple(
        _node(
            kind.item,
            each,
            _at(place, index),
            Field(key=str(index), kind=kind.item, what=f"{name} {index}"),
            asked,
        )
        for index, each in enumerate(shown)
    )
    return Stack(
        place=place,
        label=f"{name}s",
        each=name,
        needed=not about.optional,
        members=members,
        hint=_count(kind, about),
        fault=asked.faults.get(place, ""),
    )


def _table(kind: ListOf, value: Any, place: str, about: Field, asked: Asked) -> Table:
    given = list(value) if isinstance(value, list | tuple) else []
    unread = asked.unread.get(place, "")
    long = len(given) > MOST_ROWS_AS_CELLS
    blank = asked.more.get(place, 0 if given else max(min(kind.fewest, 6), 1))
    shown = [] if long else [*given, *[None] * blank]
    rows = tuple(
        tuple(_line(kind.item, each, _at(place, index), asked))
        for index, each in enumerate(shown)
    )
    return Table(
        place=place,
        label=spoken(about.what),
        needed=not about.optional,
        columns=tuple(_line(kind.item, None, place, asked)),
        rows=rows,
        text=unread or (_as_lines(kind.item, given) if long else ""),
        opened=bool(unread) or long,
        hint=_count(kind, about),
        fault=_table_fault(place, len(given) if long else 0, asked),
    )


def _table_fault(place: str, hidden: int, asked: Asked) -> str:
    """Give the fault of a table, or those of its rows where they have no cells."""
    own = asked.faults.get(place, "")
    inside = [
        f"row {name.removeprefix(f'{place}.')} {text}"
        for name, text in asked.faults.items()
        if name.startswith(f"{place}.") and hidden
    ]
    return "; ".join(filter(None, [own, *inside[:3]]))


def _line(item: Kind, value: Any, place: str, asked: Asked) -> Iterator[Cell]:
    """Yield the cells of one row; a fault of the whole row stands at its first."""
    if isinstance(item, Row):
        cells = list(_row_cells(item, value, place, asked))
    else:
        assert isinstance(item, Record)
        members = _members(item, value, place, asked)
        cells = [cell for cell in members if isinstance(cell, Cell)]
    fault = asked.faults.get(place, "")
    for index, cell in enumerate(cells):
        whole = fault if index == 0 and not cell.fault and value is not None else ""
        yield replace(cell, fault=cell.fault or whole, hint="")


def _row_cells(kind: Row, value: Any, place: str, asked: Asked) -> Iterator[Cell]:
    given = value if isinstance(value, list | tuple) else ()
    for index, (name, number) in enumerate(zip(kind.names, kind.numbers, strict=True)):
        about = Field(key=name, kind=number, what=words_of(name))
        part = given[index] if len(given) == len(kind.names) else None
        yield _cell(number, part, _at(place, name), about, asked)


def _cell(kind: Kind, value: Any, place: str, about: Field, asked: Asked) -> Cell:
    cell = Cell(
        place=place,
        label=spoken(about.what),
        shape="text",
        needed=not about.optional,
        value=_written(value),
        fault=asked.faults.get(place, ""),
    )
    if isinstance(kind, Choice):
        options = tuple(str(option) for option in kind.options)
        return replace(cell, shape="choice", options=options)
    if isinstance(kind, Number):
        hint = _bounds(kind) + _default(about)
        return replace(cell, shape="number", unit=kind.unit, hint=hint)
    return replace(cell, hint=f"up to {kind.longest} characters"
                   if isinstance(kind, Text) else "")  # fmt: skip


def _numbers(kind: Number, value: Any, place: str, about: Field, asked: Asked) -> Cell:
    given = value if isinstance(value, list | tuple) else ()
    text = asked.unread.get(place) or "; ".join(_written(part) for part in given)
    inside = (t for n, t in asked.faults.items() if n.startswith(f"{place}."))
    own = asked.faults.get(place, "")
    return Cell(
        place=place,
        label=spoken(about.what),
        shape="numbers",
        needed=not about.optional,
        value=text,
        unit=kind.unit,
        hint=f"numbers with semicolons between, {_bounds(kind)}{_default(about)}",
        fault="; ".join(filter(None, [own, *inside])),
    )


def _bounds(kind: Number) -> str:
    """Give what may stand here, briefly: the unit stands beside it."""
    whole = "whole, " if kind.whole else ""
    if kind.low is not None and kind.high is not None and kind.low > ZERO_K_C:
        return f"{whole}{_short(kind.low)} to {_short(kind.high)}"
    sign = "either sign" if kind.sign == ANY_SIGN else kind.sign
    high = kind.high if kind.low is None else None
    return f"{whole}{sign}" + (f", up to {_short(high)}" if high else "")


def _default(about: Field) -> str:
    default = about.default
    if not about.optional or default is None or default == ():
        return ""
    shown = default if isinstance(default, tuple) else (default,)
    return f"; {'; '.join(_short(one) for one in shown)} if blank"


def _count(kind: ListOf, about: Field) -> str:
    fewest = "" if kind.fewest < 2 else f"{kind.fewest} rows or more"
    return fewest + (f"; from {about.proof}" if about.proof and fewest else
                     f"from {about.proof}" if about.proof else "")  # fmt: skip


def _as_lines(item: Kind, given: Sequence[Any]) -> str:
    return "\n".join("\t".join(_cells_of(item, row)) for row in given)


def _cells_of(item: Kind, row: Any) -> list[str]:
    if isinstance(item, Record) and isinstance(row, Mapping):
        return [_written(row.get(each.key)) for each in item.fields]
    return [_written(part) for part in row] if isinstance(row, list) else [str(row)]


def _written(value: Any) -> str:
    """Write a value as it may be read again."""
    if value is None or value is MISSING or isinstance(value, Mapping | list | tuple):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value).removesuffix(".0") if isinstance(value, float) else str(value)


def _short(value: float) -> str:
    # A whole bound digit by digit: rounded, its own greatest would be refused.
    exact = float(value).is_integer() and abs(value) <= EXACT
    return (f"{value:.0f}" if exact else f"{value:g}").replace("-", "\N{MINUS SIGN}")


def _at(place: str, name: str | int) -> str:
    return f"{place}.{name}" if place else str(name)
