"""Every named calculation: run it on plain data, or set it out as a sheet.

The one door for the command, the desk and the compiler's checks. Data in and out are
what JSON can hold; refusals are CalcRefusal, with key, value and what is allowed.
"""

import math
from collections.abc import Mapping
from typing import Any

from fieldapp.calc import METHOD_VERSION
from fieldapp.calc.calculation import Calculation, Values, set_out
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.specs import (
    adhesive_life,
    adhesive_quantity,
    air_test,
    balance,
    bar_extension,
    dew_point,
    extension_check,
    grout_mix,
    grout_volume,
    jack,
    joint_stress,
    joint_window,
    section,
    shim,
    tendon,
    tip_error,
    wind,
)
from fieldapp.calc.working import Heading, Working

CALCULATIONS: dict[str, Calculation] = {
    spec.CALCULATION.name: spec.CALCULATION
    for spec in (
        dew_point,
        adhesive_life,
        adhesive_quantity,
        section,
        joint_stress,
        bar_extension,
        jack,
        tendon,
        extension_check,
        grout_volume,
        grout_mix,
        air_test,
        balance,
        tip_error,
        shim,
        wind,
        joint_window,
    )
}
BLANK = Heading()


def names() -> tuple[str, ...]:
    """The names of all calculations, in the order of the work."""
    return tuple(CALCULATIONS)


def get(name: str) -> Calculation:
    """The declaration of a calculation; CalcRefusal for a name that is none."""
    if name not in CALCULATIONS:
        raise CalcRefusal("NAME", name, "one of " + ", ".join(CALCULATIONS))
    return CALCULATIONS[name]


def run(name: str, data: Any) -> dict[str, Any]:
    """The answer of a calculation as plain data; CalcRefusal for data not allowed."""
    calculation = get(name)
    return _solved(calculation, _checked(calculation, data))


def working(
    name: str,
    data: Any,
    heading: Heading = BLANK,
    sources: Mapping[str, str] | None = None,
    version: str = METHOD_VERSION,
) -> Working:
    """The calculation set out by hand; `sources` names where keys were taken from."""
    calculation = get(name)
    values = _checked(calculation, data)
    return set_out(
        calculation,
        values,
        _solved(calculation, values),
        heading=heading,
        sources=sources or {},
        version=version,
    )


def _checked(calculation: Calculation, data: Any) -> Values:
    values = calculation.inputs.read(data, "")
    calculation.rules(data)
    return values


def _solved(calculation: Calculation, values: Values) -> dict[str, Any]:
    """The answer, or a refusal where sizes are such that no finite answer exists."""
    try:
        answer = calculation.solve(values)
        return {key: _plain(value) for key, value in answer.items()}
    except (OverflowError, ZeroDivisionError) as beyond:
        allowed = "sizes whose answer is a finite number"
        raise CalcRefusal("input", calculation.name, allowed) from beyond


def _plain(value: Any) -> Any:
    """Lists for tuples, and no number that JSON cannot hold."""
    if isinstance(value, float):
        if not math.isfinite(value):
            raise OverflowError
        return value + 0.0
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    return value
