"""shim: angle that a shim makes in a joint, and what it moves at the tip."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import Field, Number, Record
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.sketch import Arrow, Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import LENGTH_M
from fieldapp.calc.survey import MM_PER_M, shim_angle_rad
from fieldapp.calc.working import Part, Step

STEEPEST_RAD = 0.1
"""Beyond it the small angle is none: sine and tangent part by half a per cent."""


def _rules(given: Mapping[str, Any]) -> None:
    limit = STEEPEST_RAD * given["depth_m"] * MM_PER_M
    if given["thickness_mm"] > limit:
        allowed = f"at most {limit:g}, a tenth of the depth"
        raise CalcRefusal("thickness_mm", given["thickness_mm"], allowed)


def _solve(values: Values) -> Values:
    angle = shim_angle_rad(values["thickness_mm"], values["depth_m"])
    return {"angle_rad": angle, "tip_mm": angle * values["tip_distance_m"] * MM_PER_M}


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    v = {key: figure(value) for key, value in {**values, **answer}.items()}
    return (
        Step(
            what="angle",
            formula="θ = t / (1000 d)",
            numbers=f"{v['thickness_mm']} / (1000 × {v['depth_m']})",
            result=f"{v['angle_rad']} rad",
        ),
        Step(
            what="movement of the tip, away from the shim's side",
            formula="δ = θ L × 1000",
            numbers=f"{v['angle_rad']} × {v['tip_distance_m']} × 1000",
            result=f"{v['tip_mm']} mm",
        ),
    )


def _sketch(values: Values, answer: Values) -> Sketch:
    depth, reach = values["depth_m"], values["tip_distance_m"]
    return Sketch(
        caption="Joint at the left with the shim at its foot, tip at the right",
        strokes=(
            Stroke(points=((0.0, 0.0), (0.0, depth))),
            Stroke(points=((0.0, depth), (reach, depth)), kind="axis"),
            Stroke(points=((0.0, depth), (reach, depth * 1.3)), kind="curve"),
        ),
        dots=(Dot(at=(0.0, 0.0), label=f"shim {figure(values['thickness_mm'])} mm"),),
        arrows=(
            Arrow(
                start=(reach, depth),
                end=(reach, depth * 1.3),
                label=f"+{figure(answer['tip_mm'])} mm",
            ),
        ),
        one_scale=False,
    )


CALCULATION = Calculation(
    name="shim",
    title="Shim in a joint",
    purpose="Angle a shim makes and how far it moves the tip.",
    inputs=Record(
        fields=(
            Field(key="thickness_mm", kind=Number(unit="mm"), what="thickness t"),
            Field(
                key="depth_m",
                kind=LENGTH_M,
                what="depth of the joint d",
                proof="the segment's drawing",
            ),
            Field(
                key="tip_distance_m",
                kind=LENGTH_M,
                what="joint to tip L",
                proof="the segment's place",
            ),
        )
    ),
    outputs=(
        Output(key="angle_rad", what="angle", unit="rad"),
        Output(key="tip_mm", what="movement of the tip", unit="mm"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Small angle, at most 0.1 rad, the joint turning about its other edge.",
        "A correction by shims is the engineer's to order.",
    ),
    sources=("Geometry.",),
    example={"thickness_mm": 1.6, "depth_m": 2.5, "tip_distance_m": 36},
)
