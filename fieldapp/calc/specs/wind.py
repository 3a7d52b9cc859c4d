"""wind: wind at a height from the forecast at ten metres."""

from itertools import pairwise

from fieldapp.calc.calculation import Calculation, Output, Values, no_rules
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import ZERO_OR_ABOVE, Field, Number, Record
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.specs.kinds import LENGTH_M
from fieldapp.calc.wind import HEIGHT_FACTORS, height_factor
from fieldapp.calc.working import Part, Step


def _solve(values: Values) -> Values:
    factor = height_factor(values["height_m"])
    return {"speed_m_per_s": factor * values["speed_10m_m_per_s"], "factor": factor}


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    points, height = HEIGHT_FACTORS.points, values["height_m"]
    low, high = next(
        pair for pair in pairwise(points) if pair[0][0] <= height <= pair[1][0]
    )
    h1, f1, h2, f2 = (figure(value) for value in (*low, *high))
    factor, speed = figure(answer["factor"]), figure(values["speed_10m_m_per_s"])
    return (
        Step(
            what=f"factor, straight between {h1} and {h2} m",
            formula="f = f1 + (f2 − f1)(h − h1)/(h2 − h1)",
            numbers=f"{f1} + ({f2} − {f1})({figure(height)} − {h1})/({h2} − {h1})",
            result=factor,
        ),
        Step(
            what="wind at the height",
            formula="v = f v10",
            numbers=f"{factor} × {speed}",
            result=f"{figure(answer['speed_m_per_s'])} m/s",
        ),
    )


def _sketch(values: Values, answer: Values) -> Sketch:
    curve = tuple((factor, height) for height, factor in HEIGHT_FACTORS.points)
    return Sketch(
        caption="Factor over height [m]",
        strokes=(Stroke(points=curve, kind="curve"),),
        dots=(Dot(at=(answer["factor"], values["height_m"]), label="asked"),),
        one_scale=False,
    )


CALCULATION = Calculation(
    name="wind",
    title="Wind at a height",
    purpose="The forecast at ten metres, taken to the height of the work.",
    inputs=Record(
        fields=(
            Field(
                key="speed_10m_m_per_s",
                kind=Number(unit="m/s", sign=ZERO_OR_ABOVE),
                what="forecast at 10 m v10",
                proof="the forecast, mean or gust as it says",
            ),
            Field(key="height_m", kind=LENGTH_M, what="height above ground h"),
        )
    ),
    outputs=(
        Output(key="speed_m_per_s", what="wind at the height", unit="m/s"),
        Output(key="factor", what="factor"),
    ),
    rules=no_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "10 to 150 m above open country, refused beyond; mean and gust apart.",
        "The machine's own limit and the operator's stop come first.",
    ),
    sources=("CPA TIN 101 (2009), height multipliers on a 10 m forecast.",),
    example={"speed_10m_m_per_s": 8, "height_m": 45},
)
