"""tip-error: where errors of the joints put the tip of a cantilever."""

from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import ANY_SIGN, Field, ListOf, Number, Record
from fieldapp.calc.sketch import Arrow, Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import COORDINATE_M
from fieldapp.calc.survey import JointError, tip_band_mm, tip_contributions_mm
from fieldapp.calc.working import Grid, Part, Step

ANGLE_RAD = Number(unit="rad", sign=ANY_SIGN, low=-1.0, high=1.0)
OFFSET_MM = Number(unit="mm", sign=ANY_SIGN)


def _solve(values: Values) -> Values:
    joints, tip = _joints(values), values["tip_m"]
    parts = tip_contributions_mm(joints, tip, values["offsets_mm"] or ())
    answer: Values = {"tip_mm": sum(parts), "contributions_mm": parts}
    if (sigma := values["one_sigma_rad"]) is not None:
        answer["band_mm"] = tip_band_mm(joints, tip, sigma)
    return answer


def _joints(values: Values) -> list[JointError]:
    return [JointError(**joint) for joint in values["joints"]]


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    offsets = values["offsets_mm"] or (0.0,) * len(values["joints"])
    rows = tuple(
        (
            figure(joint.at_m),
            figure(values["tip_m"] - joint.at_m),
            figure(joint.error_rad),
            figure(offset),
            figure(part),
        )
        for joint, offset, part in zip(
            _joints(values), offsets, answer["contributions_mm"], strict=True
        )
    )
    parts: list[Part] = [
        Grid(
            title="Joints: θ (L − x) × 1000 + offset",
            columns=("x [m]", "L − x [m]", "θ [rad]", "offset [mm]", "at tip [mm]"),
            rows=rows,
        ),
        Step(
            what="tip, positive up",
            formula="δ = Σ (θ (L − x) × 1000 + offset)",
            numbers="sum of the last column",
            result=f"{figure(answer['tip_mm'])} mm",
        ),
    ]
    if "band_mm" in answer:
        parts.append(
            Step(
                what="one sigma of the tip, joints independent",
                formula="± σ √Σ(L − x)² × 1000",
                numbers=f"{figure(values['one_sigma_rad'])} × √("
                + " + ".join(f"{row[1]}²" for row in rows)
                + ") × 1000",
                result=f"± {figure(answer['band_mm'])} mm",
            )
        )
    return tuple(parts)


def _sketch(values: Values, answer: Values) -> Sketch:
    joints = sorted(_joints(values), key=lambda joint: joint.at_m)
    places = [joint.at_m for joint in joints] + [values["tip_m"]]
    line = tuple(
        (at, sum(j.error_rad * (at - j.at_m) * 1000 for j in joints if j.at_m < at))
        for at in places
    )
    end = (values["tip_m"], answer["tip_mm"])
    return Sketch(
        caption="Error [mm, up positive] along the cantilever [m], offsets at the tip",
        strokes=(
            Stroke(points=((places[0], 0.0), (places[-1], 0.0)), kind="axis"),
            Stroke(points=line, kind="curve"),
        ),
        dots=tuple(Dot(at=point, label="") for point in line[:-1]),
        arrows=(Arrow(start=(end[0], 0.0), end=end, label="tip"),),
        one_scale=False,
    )


CALCULATION = Calculation(
    name="tip-error",
    title="Error at the tip of a cantilever",
    purpose="Where the angles and offsets of the joints put the tip.",
    inputs=Record(
        fields=(
            Field(
                key="joints",
                kind=ListOf(
                    item=Record(
                        fields=(
                            Field(key="at_m", kind=COORDINATE_M, what="place"),
                            Field(key="error_rad", kind=ANGLE_RAD, what="angle"),
                        )
                    )
                ),
                what="joints",
                proof="the survey record",
            ),
            Field(key="tip_m", kind=COORDINATE_M, what="place of the tip L"),
            Field(
                key="offsets_mm",
                kind=ListOf(item=OFFSET_MM),
                what="offsets, one a joint",
                proof="the survey record",
                optional=True,
            ),
            Field(
                key="one_sigma_rad",
                kind=Number(unit="rad", high=1.0),
                what="one sigma of an angle",
                optional=True,
            ),
        )
    ),
    outputs=(
        Output(key="tip_mm", what="error at the tip", unit="mm"),
        Output(key="contributions_mm", what="of each joint", unit="mm"),
        Output(key="band_mm", what="plus and minus one sigma", unit="mm"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Small angles, up to 1 rad taken as its own tangent; joints before the tip.",
        "Offsets are added as they stand, at their joint.",
    ),
    sources=(
        "Small rotations along a line (geometry); root sum of squares (textbook).",
    ),
    example={
        "joints": [
            {"at_m": 4, "error_rad": 0.0004},
            {"at_m": 7, "error_rad": -0.0002},
            {"at_m": 10, "error_rad": 0.0001},
        ],
        "tip_m": 40,
        "one_sigma_rad": 0.0002,
    },
)
