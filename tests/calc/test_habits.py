"""Habits of the formulas: units last, a source each, ranges enforced as declared."""

import dataclasses
import importlib
import inspect
import math
from collections.abc import Iterator
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.inputs import ANY_SIGN, ListOf, Number, Record, Row
from fieldapp.calc.refusals import CalcRefusal

FORMULAS = [
    importlib.import_module(f"fieldapp.calc.{name}")
    for name in (
        "adhesive", "air_test", "balance", "bars", "day", "dew_point",
        "extension_check", "grout", "jack", "joint_stress", "joint_window", "section",
        "survey", "tables", "tendon", "tendon_set", "wind",
    )
]  # fmt: skip
UNITS = (
    "_m", "_mm", "_m2", "_mm2", "_cm2", "_m4", "_kn", "_knm", "_kn_m", "_mpa", "_kpa",
    "_gpa", "_bar", "_c", "_percent", "_ratio", "_min", "_h", "_hour", "_rad", "_l",
    "_kg", "_per_m", "_per_l", "_per_min", "_per_bar",
)  # fmt: skip
# Numbers without a unit: counts, pure ratios of their own name, places in general.
BARE = {
    "ends", "faces", "hour", "mu", "ratio", "water_cement", "cement_sg", "friction",
    "friction_before", "value", "used_ratio_p50", "used_ratio_p90", "runs", "seed",
    "kits",
}  # fmt: skip


def public(kind: Any) -> list[Any]:
    return [
        pytest.param(thing, id=f"{module.__name__.split('.')[-1]}.{name}")
        for module in FORMULAS
        for name, thing in vars(module).items()
        if kind(thing)
        and not name.startswith("_")
        and thing.__module__ == module.__name__
    ]


def unitless(names: Iterator[tuple[str, Any]]) -> list[str]:
    return [
        name
        for name, hint in names
        if hint in (float, int, float | None)
        and name not in BARE
        and not name.endswith(UNITS)
    ]


@pytest.mark.parametrize("function", public(inspect.isfunction))
def test_a_public_formula_names_its_source(function: Any) -> None:
    assert "Source:" in function.__doc__


@pytest.mark.parametrize("function", public(inspect.isfunction))
def test_a_number_of_a_formula_ends_with_its_unit(function: Any) -> None:
    parameters = inspect.signature(function).parameters.values()
    assert unitless((p.name, p.annotation) for p in parameters) == []


@pytest.mark.parametrize("shape", public(dataclasses.is_dataclass))
def test_a_number_of_a_shape_ends_with_its_unit(shape: Any) -> None:
    assert unitless((f.name, f.type) for f in dataclasses.fields(shape)) == []


def numbers(kind: Any, place: str) -> Iterator[Any]:
    """Every number that a declaration holds, however deep."""
    if isinstance(kind, Number):
        yield pytest.param(kind, id=place)
    elif isinstance(kind, ListOf):
        yield from numbers(kind.item, f"{place}[]")
    elif isinstance(kind, Row):
        for name, number in zip(kind.names, kind.numbers, strict=True):
            yield from numbers(number, f"{place}.{name}")
    elif isinstance(kind, Record):
        for field in kind.fields:
            yield from numbers(field.kind, f"{place}.{field.key}")


DECLARED = [
    number
    for name in catalogue.names()
    for number in numbers(catalogue.get(name).inputs, name)
]


@pytest.mark.parametrize("number", DECLARED)
def test_both_ends_of_a_declared_range_are_taken_and_beyond_refused(
    number: Number,
) -> None:
    beyond = []
    if number.high is not None:
        assert number.read(number.high, "key") == number.high
        beyond.append(math.nextafter(number.high, math.inf))
    if number.low is not None:
        assert number.read(number.low, "key") == number.low
        beyond.append(math.nextafter(number.low, -math.inf))
    elif number.sign != ANY_SIGN:
        beyond.append(-5e-324)
    for value in beyond:
        with pytest.raises(CalcRefusal) as refusal:
            number.read(value, "key")
        assert refusal.value.allowed == number.allowed()


@pytest.mark.parametrize("name", catalogue.names())
def test_a_declaration_explains_itself(name: str) -> None:
    calculation = catalogue.get(name)
    assert all(field.what for field in calculation.inputs.fields)
    assert all(output.what for output in calculation.outputs)
    assert calculation.validity
    assert calculation.sources
