"""What a named calculation is made of, and how its sheet is put together.

The catalogue, the command, the desk's form and the sheet all read this declaration.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.calc.figures import figure, listed
from fieldapp.calc.headings import headed, with_unit
from fieldapp.calc.inputs import Field, Kind, ListOf, Number, Record, Row
from fieldapp.calc.sketch import Sketch
from fieldapp.calc.working import Grid, Heading, Part, Quantity, Working

Values = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Output:
    """One key of the answer: what it means and its unit."""

    key: str
    what: str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """A named calculation: declaration, solution and sheet.

    `rules` sees the keys as given and refuses wrong companies; `solve` gets checked
    values; `steps` and `sketch` get values and answer.
    """

    name: str
    title: str
    purpose: str
    inputs: Record
    outputs: tuple[Output, ...]
    rules: Callable[[Mapping[str, Any]], None]
    solve: Callable[[Values], Values]
    steps: Callable[[Values, Values], tuple[Part, ...]]
    sketch: Callable[[Values, Values], Sketch] | None = None
    validity: tuple[str, ...]
    sources: tuple[str, ...]
    example: Mapping[str, Any]


def no_rules(given: Mapping[str, Any]) -> None:
    """For calculations whose keys are free of one another."""
    del given


def set_out(
    calculation: Calculation,
    values: Values,
    answer: Values,
    *,
    heading: Heading,
    sources: Mapping[str, str],
    version: str,
) -> Working:
    """The calculation sheet; `sources` says where the caller took a key from."""
    return Working(
        name=calculation.name,
        title=calculation.title,
        purpose=calculation.purpose,
        heading=heading,
        inputs=tuple(
            part
            for field in calculation.inputs.fields
            if values[field.key] is not None
            for part in _input(field, values, sources)
        ),
        sketch=calculation.sketch(values, answer) if calculation.sketch else None,
        parts=calculation.steps(values, answer),
        results=tuple(
            part
            for output in calculation.outputs
            if output.key in answer
            for part in _result(output, answer[output.key])
        ),
        validity=calculation.validity,
        sources=calculation.sources,
        version=version,
    )


def _input(
    field: Field, values: Values, sources: Mapping[str, str]
) -> Sequence[Quantity | Grid]:
    source = sources.get(field.key) or _customary(field, values)
    return _shown(field.what, field.key, field.kind, values[field.key], source)


def _customary(field: Field, values: Values) -> str:
    if values[field.key] == field.default and field.default_source:
        return field.default_source
    return f"given; agree with {field.proof}" if field.proof else "given"


def _shown(
    what: str, key: str, kind: Kind, value: Any, source: str
) -> Sequence[Quantity | Grid]:
    """One value as a line, a list as a table, an object as its keys."""
    if isinstance(kind, Record):
        return [
            part
            for field in kind.fields
            if value[field.key] is not None
            for part in _shown(
                f"{what}: {field.what}",
                f"{key}.{field.key}",
                field.kind,
                value[field.key],
                source,
            )
        ]
    if isinstance(kind, ListOf) and not isinstance(kind.item, Number):
        return _list_shown(f"{what} ({key}) — {source}", key, kind.item, value)
    unit = _unit(kind.item if isinstance(kind, ListOf) else kind)
    line = Quantity(
        what=what, key=key, value=listed(value) or "none", unit=unit, source=source
    )
    return [line]


def _list_shown(
    title: str, key: str, item: Kind, values: Sequence[Any]
) -> Sequence[Quantity | Grid]:
    if isinstance(item, Row):
        columns = tuple(
            headed(name, number.unit)
            for name, number in zip(item.names, item.numbers, strict=True)
        )
        rows = tuple(tuple(figure(part) for part in value) for value in values)
        return [Grid(title=title, columns=columns, rows=rows)]
    if isinstance(item, ListOf):
        return [
            part
            for index, value in enumerate(values)
            for part in _list_shown(f"{title} [{index}]", key, item.item, value)
        ]
    if isinstance(item, Record):
        return _records_shown(title, key, item, values)
    return [Grid(title=title, columns=(key,), rows=tuple((listed(v),) for v in values))]


def _records_shown(
    title: str, key: str, item: Record, values: Sequence[Any]
) -> Sequence[Quantity | Grid]:
    """A table of the plain keys, and below it a table for each list within."""
    plain = [f for f in item.fields if not isinstance(f.kind, ListOf | Record)]
    columns = tuple(with_unit(f.what, _unit(f.kind)) for f in plain)
    rows = tuple(tuple(figure(value[f.key]) for f in plain) for value in values)
    parts: list[Quantity | Grid] = [Grid(title=title, columns=columns, rows=rows)]
    for field in item.fields:
        if isinstance(field.kind, ListOf):
            for index, value in enumerate(values):
                whose = f" of {value['name']}" if value.get("name") else ""
                place = f"{field.what}{whose} ({key}[{index}].{field.key})"
                parts += _list_shown(place, key, field.kind.item, value[field.key])
    return parts


def _result(output: Output, value: Any) -> Sequence[Quantity | Grid]:
    title = f"{output.what} ({output.key})"
    if isinstance(value, list) and value and isinstance(value[0], dict):
        keys = tuple(key for key, part in value[0].items() if _plain(part))
        rows = tuple(tuple(figure(one[key]) for key in keys) for one in value)
        return [Grid(title=title, columns=tuple(map(headed, keys)), rows=rows)]
    if isinstance(value, dict):
        return _named_results(title, value)
    if isinstance(value, list) and value and isinstance(value[0], list):
        rows = tuple(tuple(figure(part) for part in one) for one in value)
        columns = tuple(headed(name, "") for name in output.unit.split(" | "))
        return [Grid(title=title, columns=columns, rows=rows)]
    shown = listed(value) if value != [] else "none"
    return [Quantity(what=output.what, key=output.key, value=shown, unit=output.unit)]


def _named_results(title: str, value: dict[str, Any]) -> Sequence[Quantity | Grid]:
    """A table with a row for each name, of plain texts or of plain keys."""
    if not value:
        return []
    first = next(iter(value.values()))
    if not isinstance(first, dict):
        rows = tuple((name, listed(part)) for name, part in value.items())
        return [Grid(title=title, columns=("name", "value"), rows=rows)]
    keys = tuple(key for key, part in first.items() if _plain(part))
    table = tuple(
        (name, *(figure(one[key]) for key in keys)) for name, one in value.items()
    )
    return [Grid(title=title, columns=("name", *map(headed, keys)), rows=table)]


def _unit(kind: Kind) -> str:
    return kind.unit if isinstance(kind, Number) else ""


def _plain(value: Any) -> bool:
    return value is None or isinstance(value, float | int | str)
