"""jack: force from pressure, or pressure from force, by the certificate."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.inputs import (
    ZERO_OR_ABOVE,
    Field,
    ListOf,
    Number,
    Record,
    Row,
    exactly_one,
)
from fieldapp.calc.jack import (
    Calibration,
    fit_calibration,
    force_from_pressure_kn,
    interpolated_force_kn,
    interpolated_pressure_bar,
    pressure_from_force_bar,
    ram_force_kn,
    ram_pressure_bar,
    set_pressure_bar,
)
from fieldapp.calc.specs.jack_sheet import sketch, steps
from fieldapp.calc.specs.kinds import FORCE_KN, LOAD_KN

PRESSURE = Number(unit="bar")
CERTIFIED = Row(
    names=("pressure_bar", "force_kn"),
    numbers=(Number(unit="bar", sign=ZERO_OR_ABOVE), LOAD_KN),
)


def _rules(given: Mapping[str, Any]) -> None:
    exactly_one(given, ("calibration",), ("ram_area_cm2",))
    exactly_one(given, ("pressure_bar",), ("force_kn",))


def _solve(values: Values) -> Values:
    if values["calibration"] is None:
        return _by_ram(values) | {"not_certified": True}
    fitted = fit_calibration(values["calibration"])
    answer = _by_certificate(fitted, values)
    answer |= {
        "slope": fitted.slope_kn_per_bar,
        "intercept": fitted.intercept_kn,
        "fit_residual_percent": fitted.fit_residual_percent,
    }
    if values["graduation_bar"] is not None:
        pressure: float = values["pressure_bar"] or answer["pressure_bar"]
        mark = set_pressure_bar(fitted, pressure, values["graduation_bar"])
        force = fitted.slope_kn_per_bar * mark + fitted.intercept_kn
        answer |= {"set_pressure_bar": mark, "set_force_kn": force}
    return answer


def _by_ram(values: Values) -> Values:
    area = values["ram_area_cm2"]
    if values["pressure_bar"] is not None:
        return {"force_kn": ram_force_kn(area, values["pressure_bar"])}
    return {"pressure_bar": ram_pressure_bar(area, values["force_kn"])}


def _by_certificate(fitted: Calibration, values: Values) -> Values:
    if (pressure := values["pressure_bar"]) is not None:
        return {
            "force_kn": force_from_pressure_kn(fitted, pressure),
            "interpolated": interpolated_force_kn(fitted, pressure),
        }
    return {
        "pressure_bar": pressure_from_force_bar(fitted, values["force_kn"]),
        "interpolated": interpolated_pressure_bar(fitted, values["force_kn"]),
    }


CALCULATION = Calculation(
    name="jack",
    title="Force and pressure of a jack",
    purpose="Force at a gauge reading, or the reading for a force, by certificate.",
    inputs=Record(
        fields=(
            Field(
                key="calibration",
                kind=ListOf(item=CERTIFIED, fewest=2, most=200),
                what="certified points",
                proof="the certificate of this jack with this gauge",
                optional=True,
            ),
            Field(
                key="ram_area_cm2",
                kind=Number(unit="cm²"),
                what="area of the ram",
                proof="the jack's data sheet",
                optional=True,
            ),
            Field(
                key="pressure_bar",
                kind=PRESSURE,
                what="gauge pressure p",
                optional=True,
            ),
            Field(key="force_kn", kind=FORCE_KN, what="force F", optional=True),
            Field(
                key="graduation_bar",
                kind=PRESSURE,
                what="one mark of the gauge, used with a certificate only",
                proof="the gauge",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="force_kn", what="force", unit="kN"),
        Output(key="pressure_bar", what="pressure", unit="bar"),
        Output(key="interpolated", what="the same, straight between two points"),
        Output(key="slope", what="slope of the line m", unit="kN/bar"),
        Output(key="intercept", what="intercept of the line c", unit="kN"),
        Output(key="fit_residual_percent", what="largest departure", unit="%"),
        Output(key="set_pressure_bar", what="mark to set", unit="bar"),
        Output(key="set_force_kn", what="force at that mark", unit="kN"),
        Output(key="not_certified", what="not certified"),
    ),
    rules=_rules,
    solve=_solve,
    steps=steps,
    sketch=sketch,
    validity=(
        "Inside the certified pressures and forces, refused outside.",
        "Jack and gauge are one certified pair, in date, serial numbers agreeing.",
    ),
    sources=(
        "Least squares (textbook); pair certified as a unit: WSDOT 2026 6-02.3(25)B.",
    ),
    example={
        "calibration": [[100, 198], [200, 399], [300, 601], [400, 800]],
        "force_kn": 450,
        "graduation_bar": 5,
    },
)
