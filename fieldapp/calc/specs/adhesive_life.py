"""adhesive-life: a certified life at a temperature, or a clock along readings."""

from collections.abc import Mapping
from typing import Any

from fieldapp.calc.adhesive import (
    LifeClock,
    Readings,
    Stretch,
    life_clock,
    minute_at_ratio,
    rate_per_min,
    used_ratio,
)
from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.figures import figure
from fieldapp.calc.inputs import Field, ListOf, Number, Record, Row, exactly_one
from fieldapp.calc.inputs import only_with as only_beside
from fieldapp.calc.sketch import Sketch, Stroke
from fieldapp.calc.specs.kinds import LIFE_ROWS, MINUTES_OR_0, TEMP_C
from fieldapp.calc.tables import LifeTable, life_min
from fieldapp.calc.working import Grid, Note, Part, Step


def _rules(given: Mapping[str, Any]) -> None:
    exactly_one(given, ("temp_c",), ("temperatures",))
    only_beside(given, "at_minute", "temperatures")
    only_beside(given, "ratios", "temperatures")


def _solve(values: Values) -> Values:
    table = LifeTable(points=values["life_table"])
    if values["temp_c"] is not None:
        return {"life_min": life_min(table, values["temp_c"])}
    clock = life_clock(table, values["temperatures"])
    answer: Values = {
        "used_ratio": used_ratio(clock, _at_minute(values)),
        "minute_at_ratio": [
            [ratio, minute_at_ratio(clock, ratio)] for ratio in values["ratios"]
        ],
    }
    return answer | ({"alarm": clock.alarm} if clock.alarm else {})


def _at_minute(values: Values) -> float:
    last: float = values["temperatures"][-1][0]
    at_minute: float | None = values["at_minute"]
    return last if at_minute is None else at_minute


def _steps(values: Values, answer: Values) -> tuple[Part, ...]:
    table = LifeTable(points=values["life_table"])
    if values["temp_c"] is not None:
        return _planned(table, values["temp_c"], answer["life_min"])
    return _running(table, values, answer)


def _planned(table: LifeTable, temp_c: float, life: float) -> tuple[Part, ...]:
    for (t1, l1), (t2, l2) in zip(table.points, table.points[1:], strict=False):
        if t1 <= temp_c <= t2:
            a, b, c, d = (figure(value) for value in (t1, l1, t2, l2))
            break
    return (
        Step(
            what=f"life between the certified points {a} and {c} °C",
            formula="L = L1 (L2/L1)^((T − T1)/(T2 − T1))",
            numbers=f"{b} × ({d}/{b})^(({figure(temp_c)} − {a})/({c} − {a}))",
            result=f"{figure(life)} min",
        ),
    )


def _running(table: LifeTable, values: Values, answer: Values) -> tuple[Part, ...]:
    clock = life_clock(table, values["temperatures"])
    at = _at_minute(values)
    parts = list(clock_parts(table, values["temperatures"], at))
    for ratio, minute in answer["minute_at_ratio"]:
        row = next(s for s in reversed(clock.stretches) if s.start_min <= minute)
        parts.append(
            Step(
                what=f"minute at which {figure(ratio)} of the life is used",
                formula="t = t0 + (u − u0)/r, or t0 where u0 is there already",
                numbers=_minute_numbers(row, ratio),
                result=f"{figure(minute)} min",
            )
        )
    if clock.alarm:
        parts.append(Note(text=ALARMS[clock.alarm]))
    return tuple(parts)


def _minute_numbers(row: Stretch, ratio: float) -> str:
    start, used = figure(row.start_min), figure(row.used_ratio)
    if ratio <= row.used_ratio:
        return f"{start}, where {used} is used already"
    return f"{start} + ({figure(ratio)} − {used})/{figure(row.rate_per_min)}"


def clock_parts(
    table: LifeTable, readings: Readings, at_min: float
) -> tuple[Part, ...]:
    """The rates of a clock along its readings, and the part used at a minute."""
    clock = life_clock(table, readings)
    row = next(s for s in reversed(clock.stretches) if s.start_min <= at_min)
    return (
        Note(text=LIFE_BETWEEN),
        _stretches(table, readings, clock),
        Step(
            what=f"life used at minute {figure(at_min)}",
            formula="u = u0 + r (t − t0)",
            numbers=(
                f"{figure(row.used_ratio)} + {figure(row.rate_per_min)} × "
                f"({figure(at_min)} − {figure(row.start_min)})"
            ),
            result=figure(used_ratio(clock, at_min)),
        ),
    )


LIFE_BETWEEN = (
    "Life at a reading, between two certified points: L = L1 (L2/L1)^((T − T1)/"
    "(T2 − T1)); beyond an end of the table, the life at that end."
)
ALARMS = {
    "below": "ALARM below: colder than the table; the coldest certified life counts.",
    "above": "ALARM above: hotter than the table; the life is spent from the reading "
    "before.",
}


def _stretches(table: LifeTable, readings: Readings, clock: LifeClock) -> Grid:
    rows = tuple(
        (
            figure(minute),
            figure(temp),
            figure(rate_per_min(table, temp)),
            figure(stretch.rate_per_min),
            figure(stretch.used_ratio),
        )
        for (minute, temp), stretch in zip(readings, clock.stretches, strict=True)
    )
    return Grid(
        title="Rates: mean of two readings, or the hotter across an inner certified "
        "point; after the last reading its own",
        columns=(
            "t0 [min]",
            "T [°C]",
            "1/life [1/min]",
            "counted r [1/min]",
            "used u0",
        ),
        rows=rows,
    )


def _sketch(values: Values, answer: Values) -> Sketch:
    table = LifeTable(points=values["life_table"])
    if values["temp_c"] is not None:
        return Sketch(
            caption="Certified life [min] over temperature [°C]",
            strokes=(Stroke(points=table.points, kind="curve"),),
            one_scale=False,
        )
    clock = life_clock(table, values["temperatures"])
    minutes = [s.start_min for s in clock.stretches]
    minutes += [_at_minute(values), *(m for _, m in answer["minute_at_ratio"])]
    curve = tuple((m, used_ratio(clock, m)) for m in sorted(minutes))
    return Sketch(
        caption="Part of the life used over minutes",
        strokes=(
            Stroke(points=curve, kind="curve"),
            Stroke(points=((0.0, 1.0), (max(minutes), 1.0)), kind="limit"),
        ),
        one_scale=False,
    )


CALCULATION = Calculation(
    name="adhesive-life",
    title="Life of a mixed adhesive",
    purpose="Certified life at one temperature, or the part of it used along readings.",
    inputs=Record(
        fields=(
            Field(
                key="life_table",
                kind=LIFE_ROWS,
                what="certified life over temperature",
                proof="the maker's certificate of the lot",
            ),
            Field(
                key="temp_c", kind=TEMP_C, what="planning temperature", optional=True
            ),
            Field(
                key="temperatures",
                kind=ListOf(
                    item=Row(names=("minute", "temp_c"), numbers=(MINUTES_OR_0, TEMP_C))
                ),
                what="readings since the first kit",
                proof="the joint's record",
                optional=True,
            ),
            Field(
                key="at_minute",
                kind=MINUTES_OR_0,
                what="minute asked for, the last reading's unless given",
                optional=True,
            ),
            Field(
                key="ratios",
                kind=ListOf(item=Number(unit="ratio")),
                what="parts of the life whose minute is asked for",
                optional=True,
                default=(1.0,),
                default_source="default: the whole life",
            ),
        )
    ),
    outputs=(
        Output(key="life_min", what="certified life", unit="min"),
        Output(key="used_ratio", what="part of the life used"),
        Output(
            key="minute_at_ratio", what="minute at each ratio", unit="ratio | minute"
        ),
        Output(key="alarm", what="alarm"),
    ),
    rules=_rules,
    solve=_solve,
    steps=_steps,
    sketch=_sketch,
    validity=(
        "Planning: within the certified temperatures, refused outside.",
        (
            "Running: below the table its coldest life counts, with an alarm; above it "
            "the life is spent, with an alarm."
        ),
        (
            "Kit size and mixed temperature as in the certificate; never from a rule "
            "of thumb."
        ),
    ),
    sources=(
        (
            "Log-linear between certified points, sum of minutes times 1/life: common "
            "practice, no source."
        ),
        "Allowed part of the open time, e.g. 0.70: VDOT 453-5.1 and 453-5.6.",
    ),
    example={
        "life_table": [[10, 120], [20, 60], [30, 30]],
        "temperatures": [[0, 18], [15, 21], [30, 24]],
        "at_minute": 30,
        "ratios": [0.7, 1.0],
    },
)
