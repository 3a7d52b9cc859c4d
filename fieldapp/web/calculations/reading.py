"""From what a form or an address carries to the data a calculation reads.

Fields are named by their place: `friction.mu`, `bars.2.force_kn`; a pasted table is
`paste.bars`. Blank is "not given". Values are handed on as written where they are no
numbers, so that the calculation refuses them by name; nothing is mended here.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldapp.calc.calculation import Calculation
from fieldapp.calc.inputs import Choice, Kind, ListOf, Number, Record, Row, Text
from fieldapp.calc.refusals import MISSING
from fieldapp.calc.working import Heading
from fieldapp.web.calculations.written import Columns, TableFault, number, numbers
from fieldapp.web.calculations.written import table as read_table

HEADINGS = ("job", "subject", "revision", "prepared", "checked")
LONGEST_HEADING = 120
PASTE = "paste."
JSON_FIELD = "input"
INDEX = re.compile(r"\d{1,4}", re.ASCII)
DEEPEST = 8
_ABSENT: Any = object()
Fields = Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a page was given: the data, the sheet's heading, and unread tables.

    `faults` holds what could not be read, by place; `unread` its text, to be kept.
    """

    data: Any
    heading: Heading = field(default_factory=Heading)
    sources: Mapping[str, str] = field(default_factory=dict)
    faults: Mapping[str, str] = field(default_factory=dict)
    unread: Mapping[str, str] = field(default_factory=dict)


def read_fields(calculation: Calculation, fields: Fields) -> Given:
    """Read the fields of a form, or of an address written like one."""
    reader = _Reader(fields)
    data = reader.record(calculation.inputs, "")
    return Given(
        data=data,
        heading=read_heading(fields),
        sources=_sources(calculation, fields),
        faults=reader.faults,
        unread=reader.unread,
    )


def read_json(calculation: Calculation, fields: Fields) -> Given:
    """Read the input as one JSON object, the heading from its own fields."""
    text = fields.get(JSON_FIELD, "")
    heading, sources = read_heading(fields), _sources(calculation, fields)
    try:
        data = json.loads(text, object_pairs_hook=_keys_once)
    except (ValueError, RecursionError) as fault:
        return Given(
            data={},
            heading=heading,
            sources=sources,
            faults={JSON_FIELD: f"not one JSON object: {fault}"},
            unread={JSON_FIELD: text},
        )
    return Given(data=data, heading=heading, sources=sources)


def read_heading(fields: Fields) -> Heading:
    """Read what stands on top of the sheet."""
    return Heading(
        **{name: _short(fields.get(f"heading.{name}", "")) for name in HEADINGS}
    )


def without(fields: Fields, place: str) -> dict[str, str]:
    """Give the fields without one place and all within it."""
    inside = (f"{place}.", f"{PASTE}{place}.")
    own = (place, f"{PASTE}{place}")
    return {
        name: value
        for name, value in fields.items()
        if name not in own and not name.startswith(inside)
    }


def blank_rows(fields: Fields, place: str) -> int:
    """Count the rows of a list that were shown and left blank."""
    inside = f"{place}."
    shown: dict[str, bool] = {}
    for name, value in fields.items():
        if name.startswith(inside):
            index = name.removeprefix(inside).partition(".")[0]
            shown[index] = shown.get(index, False) or bool(value.strip())
    return sum(not written for written in shown.values())


def flat(item: Kind) -> bool:
    """Say whether a list of these is a plain table, one row each."""
    if isinstance(item, Record):
        return all(isinstance(f.kind, Number | Text | Choice) for f in item.fields)
    return isinstance(item, Row)


def columns_of(item: Kind) -> Columns:
    """Give what a plain table's pasted lines hold."""
    if isinstance(item, Row):
        count = len(item.names)
        return Columns(names=item.names, texts=frozenset(), fewest=count)
    assert isinstance(item, Record)
    needed = [i for i, f in enumerate(item.fields, 1) if not f.optional]
    texts = [i for i, f in enumerate(item.fields) if not isinstance(f.kind, Number)]
    return Columns(
        names=tuple(f.key for f in item.fields),
        texts=frozenset(texts),
        fewest=max(needed, default=1),
    )


class _Reader:
    """Reads fields by the declaration, and keeps what it could not read."""

    def __init__(self, fields: Fields) -> None:
        self.fields = fields
        self.faults: dict[str, str] = {}
        self.unread: dict[str, str] = {}
        self.written: set[str] = set()
        self.inside: dict[str, set[str]] = {}
        for name, value in fields.items():
            self._note(name.removeprefix(PASTE), bool(value.strip()))

    def record(self, kind: Record, place: str) -> dict[str, Any]:
        found = {}
        for each in kind.fields:
            value = self.value(each.kind, _at(place, each.key))
            if value is _ABSENT and not each.optional:
                value = _nothing(each.kind)
            if value is not _ABSENT:
                found[each.key] = value
        return found

    def value(self, kind: Kind, place: str) -> Any:
        if isinstance(kind, Record):
            return self.record(kind, place) if place in self.written else _ABSENT
        if isinstance(kind, Row):
            return self._row(kind, place)
        if isinstance(kind, ListOf):
            return self._list(kind, place) or _ABSENT
        text = self.fields.get(place, "").strip()
        return _written(kind, text) if text else _ABSENT

    def _row(self, kind: Row, place: str) -> Any:
        texts = [self.fields.get(_at(place, name), "").strip() for name in kind.names]
        if not any(texts):
            return _ABSENT
        return [number(text) if text else MISSING for text in texts]

    def _list(self, kind: ListOf, place: str) -> list[Any]:
        if isinstance(kind.item, Number):
            return self._numbers(place)
        pasted = self.fields.get(PASTE + place, "")
        if pasted.strip() and flat(kind.item):
            return self._pasted(kind.item, place, pasted)
        items = [self.value(kind.item, _at(place, i)) for i in self._indexes(place)]
        return [item for item in items if item is not _ABSENT]

    def _numbers(self, place: str) -> list[Any]:
        text = self.fields.get(place, "")
        try:
            return list(numbers(text))
        except TableFault as fault:
            self._keep(place, text, fault)
            return []

    def _pasted(self, item: Kind, place: str, text: str) -> list[Any]:
        columns = columns_of(item)
        try:
            rows = read_table(text, columns)
        except TableFault as fault:
            self._keep(place, text, fault)
            return []
        if isinstance(item, Row):
            return [[MISSING if cell == "" else cell for cell in row] for row in rows]
        assert isinstance(item, Record)
        return [
            {
                f.key: _written(f.kind, str(cell)) if isinstance(cell, str) else cell
                for f, cell in zip(item.fields, row, strict=True)
                if cell != ""
            }
            for row in rows
        ]

    def _keep(self, place: str, text: str, fault: TableFault) -> None:
        self.faults[place] = str(fault)
        self.unread[place] = text

    def _note(self, name: str, written: bool) -> None:
        """Remember every place that a field lies in, once for all questions."""
        parts = name.split(".")[:DEEPEST]
        for depth in range(1, len(parts) + 1):
            place = ".".join(parts[:depth])
            self.inside.setdefault(".".join(parts[: depth - 1]), set()).add(
                parts[depth - 1]
            )
            if written:
                self.written.add(place)

    def _indexes(self, place: str) -> list[str]:
        found = self.inside.get(place, set())
        return sorted((name for name in found if INDEX.fullmatch(name)), key=int)


def _written(kind: Kind, text: str) -> Any:
    if isinstance(kind, Choice):
        return next((one for one in kind.options if str(one) == text), text)
    return number(text) if isinstance(kind, Number) else text


def _nothing(kind: Kind) -> Any:
    """What a needed thing is when nothing was written: empty where that may be."""
    if isinstance(kind, Record):
        return {each.key: [] for each in kind.fields if _may_be_empty(each.kind)}
    return [] if _may_be_empty(kind) else _ABSENT


def _may_be_empty(kind: Kind) -> bool:
    return isinstance(kind, ListOf) and kind.fewest == 0


def _sources(calculation: Calculation, fields: Fields) -> dict[str, str]:
    named = {
        each.key: _short(fields.get(f"source.{each.key}", ""))
        for each in calculation.inputs.fields
    }
    return {key: text for key, text in named.items() if text}


def _short(text: str) -> str:
    return " ".join(text.split())[:LONGEST_HEADING]


def _keys_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"{key[:40]} is given twice")
        found[key] = value
    return found


def _at(place: str, name: str | int) -> str:
    return f"{place}.{name}" if place else str(name)
