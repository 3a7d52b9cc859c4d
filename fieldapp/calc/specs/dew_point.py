"""dew-point: when the air wets a surface, and how far the coldest one is above it."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.dew_point import (
    AIR_HIGH_C,
    AIR_LOW_C,
    MAGNUS_A,
    MAGNUS_B_C,
    dew_point_c,
    magnus_gamma,
    surface_margin,
)
from fieldapp.calc.figures import figure, listed
from fieldapp.calc.inputs import ANY_SIGN, Field, ListOf, Number, Record, at_most_one
from fieldapp.calc.specs.kinds import TEMP_C
from fieldapp.calc.working import Part, Step


def _rules(given: Mapping[str, Any]) -> None:
    at_most_one(given, ("surface_temps_c",), ("surface_temp_c",))


def _solve(values: Values) -> Values:
    dew = dew_point_c(values["air_temp_c"], values["humidity_percent"])
    answer: Values = {"dew_point_c": dew}
    if surfaces := _surfaces(values):
        margin = surface_margin(dew, surfaces)
        answer |= {"margin_c": margin.margin_c, "frost": margin.frost}
    return answer


def _surfaces(values: Values) -> tuple[float, ...]:
    if values["surface_temp_c"] is not None:
        return (values["surface_temp_c"],)
    return tuple(values["surface_temps_c"] or ())


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    air, humidity = values["air_temp_c"], values["humidity_percent"]
    gamma, dew = magnus_gamma(air, humidity), answer["dew_point_c"]
    a, b, t = figure(MAGNUS_A), figure(MAGNUS_B_C), figure(air)
    parts: list[Part] = [
        Step(
            what="exponent of the vapour pressure",
            formula="γ = ln(RH/100) + a T / (b + T)",
            numbers=f"ln({figure(humidity)}/100) + {a} × ({t}) / ({b} + ({t}))",
            result=figure(gamma),
        ),
        Step(
            what="dew point",
            formula="Td = b γ / (a − γ)",
            numbers=f"{b} × ({figure(gamma)}) / ({a} − ({figure(gamma)}))",
            result=f"{figure(dew)} °C",
        ),
    ]
    if surfaces := _surfaces(values):
        coldest = figure(min(surfaces))
        parts.append(
            Step(
                what="margin of the coldest surface",
                formula="margin = min(Ts) − Td",
                numbers=f"min({listed(surfaces)}) − ({figure(dew)})",
                result=f"{figure(answer['margin_c'])} °C at {coldest} °C",
            )
        )
    return tuple(parts)


CALCULATION = Calculation(
    name="dew-point",
    title="Dew point and margin of a surface",
    purpose="Temperature at which this air wets a face, and the coldest face above it.",
    inputs=Record(
        fields=(
            Field(
                key="air_temp_c",
                kind=Number(unit="°C", sign=ANY_SIGN, low=AIR_LOW_C, high=AIR_HIGH_C),
                what="air temperature T",
                proof="the site's thermometer",
            ),
            Field(
                key="humidity_percent",
                kind=Number(unit="%", high=100.0),
                what="relative humidity RH",
                proof="the site's hygrometer",
            ),
            Field(
                key="surface_temps_c",
                kind=ListOf(item=TEMP_C),
                what="surface temperatures Ts",
                proof="readings on both faces",
                optional=True,
            ),
            Field(
                key="surface_temp_c",
                kind=TEMP_C,
                what="coldest surface Ts",
                proof="readings on both faces",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="dew_point_c", what="dew point", unit="°C"),
        Output(key="margin_c", what="margin at the coldest surface", unit="°C"),
        Output(key="frost", what="coldest surface at 0 °C or below"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    validity=(
        "Air from −45 to 60 °C; relative humidity above 0 and up to 100 %.",
        "Over water; frost is flagged, the ice branch is not used.",
    ),
    sources=(
        "Magnus form, a = 17.62, b = 243.12 °C, Sonntag's (WMO guide: from memory).",
    ),
    example={
        "air_temp_c": 25,
        "humidity_percent": 80,
        "surface_temps_c": [24.4, 23.1, 22.9],
    },
)
