"""An input worked out for a page: values and answer, or every refusal at its place.

The calculation itself stops at its first refusal; a form is mended faster when all
are told at once. What the desk would take too long for is left to the command.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from fieldapp.calc import catalogue
from fieldapp.calc.calculation import Calculation, Values
from fieldapp.calc.inputs import Kind, ListOf, Record, Row
from fieldapp.calc.refusals import MISSING, CalcRefusal, shown

MOST_FAULTS = 60
LONGEST_LIST = 1_000
MOST_WORK = 500_000
"""Simulated joints over all starts: about a second of the machine."""
INDEXED = re.compile(r"\[(\d+)\]")
AT_DESK = "at the desk; the command takes more"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One refusal: its place in the form, the key, and the words beside the field."""

    place: str
    key: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """Checked values and their answer, or the faults that stood in the way."""

    values: Values | None = None
    answer: Values | None = None
    faults: tuple[Fault, ...] = ()


def solve(calculation: Calculation, data: Any) -> Solved:
    """Work out an input, or say everything that is wrong with it."""
    refusals = _refusals(calculation.inputs, data, "")
    faults = tuple(_fault(refusal) for refusal in islice(refusals, MOST_FAULTS))
    if faults:
        return Solved(faults=faults)
    try:
        _refuse_long_work(calculation.name, data)
        answer = catalogue.run(calculation.name, data)
        return Solved(values=calculation.inputs.read(data, ""), answer=answer)
    except CalcRefusal as refusal:
        return Solved(faults=(_fault(refusal),))


def place_of(key: str) -> str:
    """Give the place in the form of a key: bars[1].force_kn is bars.1.force_kn."""
    return INDEXED.sub(r".\1", key)


def _fault(refusal: CalcRefusal) -> Fault:
    if refusal.value is MISSING:
        text = f"is missing; allowed: {refusal.allowed}"
    else:
        text = f"{shown(refusal.value)} is not allowed; allowed: {refusal.allowed}"
    return Fault(place=place_of(refusal.key), key=refusal.key, text=text)


def _refusals(kind: Kind, value: Any, key: str) -> Iterator[CalcRefusal]:
    """Yield the refusals of the parts, or of the whole where no part is refused."""
    try:
        kind.read(value, key)
    except CalcRefusal as whole:
        parts = _of_parts(kind, value, key)
        first = next(parts, None)
        yield whole if first is None else first
        yield from parts


def _of_parts(kind: Kind, value: Any, key: str) -> Iterator[CalcRefusal]:
    if isinstance(kind, Record) and isinstance(value, Mapping):
        yield from _of_keys(kind, value, key)
    elif isinstance(kind, ListOf) and isinstance(value, list | tuple):
        for index, part in enumerate(value):
            yield from _refusals(kind.item, part, f"{key}[{index}]")
    elif isinstance(kind, Row) and _as_long(value, kind):
        for name, number, part in zip(kind.names, kind.numbers, value, strict=True):
            yield from _refusals(number, part, f"{key}.{name}")


def _as_long(value: Any, kind: Row) -> bool:
    return isinstance(value, list | tuple) and len(value) == len(kind.names)


def _of_keys(kind: Record, value: Mapping[str, Any], key: str) -> Iterator[CalcRefusal]:
    known = {each.key: each for each in kind.fields}
    for name in value:
        if name not in known:
            yield from _refused(kind, {name: value[name]}, key)
    for name, each in known.items():
        if name in value:
            inside = f"{key}.{name}" if key else name
            yield from _refusals(each.kind, value[name], inside)
        elif not each.optional:
            yield from _refused(Record(fields=(each,)), {}, key)


def _refused(kind: Record, value: Mapping[str, Any], key: str) -> Iterator[CalcRefusal]:
    try:
        kind.read(value, key)
    except CalcRefusal as refusal:
        yield refusal


def _refuse_long_work(name: str, data: Mapping[str, Any]) -> None:
    """Refuse what would hold up everybody else's pages. Errors: `CalcRefusal`."""
    for key, value in data.items():
        if isinstance(value, list):
            _at_most(key, len(value), LONGEST_LIST, "in the list")
    if name in ("section", "joint-stress"):
        _at_most("outline", _points(data), 1_000, "points in all")
        _at_most("states", len(data.get("states", ())), 12, "states")
    if name == "joint-window":
        _refuse_long_day(data)


def _points(data: Mapping[str, Any]) -> int:
    return len(data["outline"]) + sum(len(void) for void in data.get("voids", ()))


def _refuse_long_day(data: Mapping[str, Any]) -> None:
    hours = data["forecast"][-1][0] - data["forecast"][0][0]
    _at_most("forecast", hours, 96, "hours")
    for work, duration in data["durations_min"].items():
        _at_most(f"durations_min.{work}", max(duration), 1_440, "minutes")
    starts = len(data["forecast"]) + max(hours, 0)
    most = max(int(MOST_WORK / (starts * len(data["formulations"]))), 1)
    _at_most("runs", data["runs"], most, "runs")


def _at_most(key: str, value: float, most: int, noun: str) -> None:
    if value > most:
        raise CalcRefusal(key, value, f"at most {most} {noun} {AT_DESK}")
