"""air-test: loss of pressure in a duct, corrected for temperature."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.air_test import STANDARD_ATMOSPHERE_KPA, corrected_end_kpa
from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Field, Number, Record, all_or_none
from fieldapp.calc.specs.kinds import TEMP_C
from fieldapp.calc.working import Part, Step


def _rules(given: Mapping[str, Any]) -> None:
    all_or_none(given, ("start_temp_c", "end_temp_c"))


def _solve(values: Values) -> Values:
    loss = values["start_kpa"] - _end_kpa(values)
    return {"loss_kpa": loss, "loss_ratio": loss / values["start_kpa"]}


def _end_kpa(values: Values) -> float:
    if values["start_temp_c"] is None:
        end: float = values["end_kpa"]
        return end
    return corrected_end_kpa(
        **{
            key: values[key]
            for key in ("end_kpa", "start_temp_c", "end_temp_c", "atmospheric_kpa")
        }
    )


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    v = {key: figure(value) for key, value in {**values, **answer}.items()}
    end = figure(_end_kpa(values))
    parts = []
    if values["start_temp_c"] is not None:
        parts.append(
            Step(
                what="end pressure at the start's temperature, on absolute pressure",
                formula="p1' = (p1 + pa)(T0 + 273.15)/(T1 + 273.15) − pa",
                numbers=(
                    f"({v['end_kpa']} + {v['atmospheric_kpa']}) × "
                    f"({v['start_temp_c']} + 273.15)/({v['end_temp_c']} + 273.15) − "
                    f"{v['atmospheric_kpa']}"
                ),
                result=f"{end} kPa",
            )
        )
    parts += [
        Step(
            what="loss",
            formula="Δp = p0 − p1'",
            numbers=f"{v['start_kpa']} − {end}",
            result=f"{v['loss_kpa']} kPa",
        ),
        Step(
            what="part of the start gauge pressure",
            formula="Δp / p0",
            numbers=f"{v['loss_kpa']} / {v['start_kpa']}",
            result=v["loss_ratio"],
        ),
    ]
    return tuple(parts)


CALCULATION = Calculation(
    name="air-test",
    title="Air test of a duct",
    purpose="Loss of gauge pressure, corrected to the start's temperature.",
    inputs=Record(
        fields=(
            Field(
                key="start_kpa",
                kind=Number(unit="kPa"),
                what="start pressure, gauge p0",
                proof="the test's record",
            ),
            Field(
                key="end_kpa",
                kind=Number(unit="kPa", sign=ZERO_OR_ABOVE),
                what="end pressure, gauge p1",
                proof="the test's record",
            ),
            Field(
                key="start_temp_c",
                kind=TEMP_C,
                what="air in the duct at the start T0",
                optional=True,
            ),
            Field(
                key="end_temp_c",
                kind=TEMP_C,
                what="air in the duct at the end T1",
                optional=True,
            ),
            Field(
                key="atmospheric_kpa",
                kind=Number(unit="kPa"),
                what="atmospheric pressure pa",
                optional=True,
                default=STANDARD_ATMOSPHERE_KPA,
                default_source="default: standard atmosphere, ISO 2533",
            ),
        )
    ),
    outputs=(
        Output(key="loss_kpa", what="loss", unit="kPa"),
        Output(key="loss_ratio", what="loss over the start gauge pressure"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    validity=(
        "Constant volume, dry air; both temperatures or neither.",
        "A negative loss is a gain of pressure: look for its cause.",
    ),
    sources=("Gas law on absolute pressure (textbook).",),
    example={
        "start_kpa": 10,
        "end_kpa": 9.2,
        "start_temp_c": 20,
        "end_temp_c": 18,
    },
)
