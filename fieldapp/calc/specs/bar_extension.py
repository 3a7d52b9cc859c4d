"""bar-extension: extension of a bar at the jack and the force once it is locked."""

from fieldapp.calc.bars import axial_kn_per_mm_m, bar_extension_mm, locked_force_kn
from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Field, Number, Record
from fieldapp.calc.sketch import Arrow, Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import (
    AREA_MM2,
    FORCE_KN,
    LENGTH_M,
    LEVER_M,
    LOAD_KN,
    MODULUS_GPA,
)
from fieldapp.calc.working import Part, Step


def _solve(values: Values) -> Values:
    bar = {
        key: values[key] for key in ("length_m", "force_kn", "area_mm2", "modulus_gpa")
    }
    answer: Values = {
        "extension_mm": bar_extension_mm(
            **bar,
            datum_force_kn=values["datum_force_kn"],
            grip_length_m=values["grip_length_m"],
        )
    }
    if values["seating_mm"] is not None:
        answer["locked_force_kn"] = locked_force_kn(
            **bar, seating_mm=values["seating_mm"]
        )
    return answer


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    v = {key: figure(value) for key, value in values.items()}
    stretch = figure(axial_kn_per_mm_m(values["area_mm2"], values["modulus_gpa"]))
    parts = [
        Step(
            what="force for one millimetre on one metre",
            formula="k = A E / 1000",
            numbers=f"{v['area_mm2']} × {v['modulus_gpa']} / 1000",
            result=f"{stretch} kN per mm/m",
        ),
        Step(
            what="extension from datum to force, before seating",
            formula="e = (F − F0) (L + grip) / k",
            numbers=(
                f"({v['force_kn']} − {v['datum_force_kn']}) × "
                f"({v['length_m']} + {v['grip_length_m']}) / {stretch}"
            ),
            result=f"{figure(answer['extension_mm'])} mm",
        ),
    ]
    if values["seating_mm"] is not None:
        parts.append(
            Step(
                what="force locked nut to nut",
                formula="F' = F − s k / L",
                numbers=(
                    f"{v['force_kn']} − {v['seating_mm']} × {stretch} / {v['length_m']}"
                ),
                result=f"{figure(answer['locked_force_kn'])} kN",
            )
        )
    return tuple(parts)


def _sketch(values: Values, answer: Values) -> Sketch:
    length, grip = values["length_m"], values["grip_length_m"]
    tick = length / 20
    return Sketch(
        caption="Bar from the dead-end nut (left) to the jack (right), to scale",
        strokes=(
            Stroke(points=((0.0, 0.0), (length + grip, 0.0)), kind="curve"),
            Stroke(points=((0.0, -tick), (0.0, tick))),
            Stroke(points=((length, -tick), (length, tick))),
        ),
        dots=(Dot(at=(length / 2, 0.0), label=f"L {figure(length)} m nut to nut"),),
        arrows=(
            Arrow(
                start=(length + grip, 0.0),
                end=(length + grip + 2 * tick, 0.0),
                label=f"+e {figure(answer['extension_mm'])} mm",
            ),
        ),
    )


CALCULATION = Calculation(
    name="bar-extension",
    title="Extension of a bar and its locked force",
    purpose="Extension expected at the jack; force left after the nut has seated.",
    inputs=Record(
        fields=(
            Field(
                key="length_m",
                kind=LENGTH_M,
                what="length nut to nut L",
                proof="the joint's record",
            ),
            Field(
                key="force_kn",
                kind=FORCE_KN,
                what="jack force F",
                proof="the approved stressing calculation",
            ),
            Field(
                key="area_mm2",
                kind=AREA_MM2,
                what="area A",
                proof="the bar's certificate",
            ),
            Field(
                key="modulus_gpa",
                kind=MODULUS_GPA,
                what="modulus E",
                proof="the bar's certificate",
            ),
            Field(
                key="datum_force_kn",
                kind=LOAD_KN,
                what="datum force F0",
                optional=True,
                default=0.0,
                default_source="default: from no force",
            ),
            Field(
                key="grip_length_m",
                kind=LEVER_M,
                what="bar inside the jack",
                optional=True,
                default=0.0,
                default_source="default: none",
            ),
            Field(
                key="seating_mm",
                kind=Number(unit="mm", sign=ZERO_OR_ABOVE),
                what="take-up of the nut s",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="extension_mm", what="extension", unit="mm"),
        Output(key="locked_force_kn", what="locked force", unit="kN"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Elastic bar without friction; datum below the force.",
        "Area and modulus from the bar's own certificate: 165 to 207 GPa is seen.",
    ),
    sources=("F L / (A E) (textbook); modulus of bars, ETA-05/0123 p 75: 205 GPa.",),
    example={
        "length_m": 3.5,
        "force_kn": 450,
        "area_mm2": 804,
        "modulus_gpa": 205,
        "datum_force_kn": 45,
        "grip_length_m": 0.4,
        "seating_mm": 0.5,
    },
)
