"""joint-window: when a joint may be started today, with which formulation."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from fieldapp.calc.calculation import Calculation, Output, Values
from fieldapp.calc.inputs import (
    ANY_SIGN,
    ZERO_OR_ABOVE,
    Field,
    ListOf,
    Number,
    Record,
    Row,
    Text,
)
from fieldapp.calc.joint_window import (
    Crew,
    Duration,
    Formulation,
    best_start,
    joint_window,
    simulate_runs,
    start_hours,
)
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.specs.joint_window_sheet import sketch, steps
from fieldapp.calc.specs.kinds import LIFE_ROWS, MINUTES, TEMP_C
from fieldapp.calc.tables import LifeTable

WORKS = ("mix", "spread", "close", "stress")
FIRST_HOUR, LAST_HOUR = -24.0, 240.0
MOST_TRIES = 5_000_000
"""So many starts, formulations and runs together are worked out in seconds."""
MOST_HOURS = 168.0
"""From the first hour of a forecast to its last: a week, longer than any is worth."""
MOST_WORK_MIN = 1_440.0


def _rules(given: Mapping[str, Any]) -> None:
    for index, (before, after) in enumerate(pairwise(given["forecast"]), start=1):
        if after[0] <= before[0]:
            allowed = f"an hour above {before[0]:g}"
            raise CalcRefusal(f"forecast[{index}]", after, allowed)
    span = given["forecast"][-1][0] - given["forecast"][0][0]
    if span > MOST_HOURS:
        allowed = f"at most {MOST_HOURS:g} hours from first to last"
        raise CalcRefusal("forecast", f"{span:g} hours long", allowed)
    for work in WORKS:
        duration = given["durations_min"][work]
        if not duration[0] <= duration[1] <= duration[2]:
            allowed = "least, likely and most, none below the one before"
            raise CalcRefusal(f"durations_min.{work}", duration, allowed)
        if duration[2] > MOST_WORK_MIN:
            allowed = f"at most {MOST_WORK_MIN:g} minutes, a day"
            raise CalcRefusal(f"durations_min.{work}", duration, allowed)
    _formulation_rules(given["formulations"])
    starts = len(start_hours(given["forecast"])) * len(given["formulations"])
    if starts * given["runs"] > MOST_TRIES:
        allowed = f"at most {MOST_TRIES // starts} for {starts} starts"
        raise CalcRefusal("runs", given["runs"], allowed)


def _formulation_rules(formulations: list[dict[str, Any]]) -> None:
    seen: list[str] = []
    for index, one in enumerate(formulations):
        key = f"formulations[{index}]"
        if one["name"] in seen:
            raise CalcRefusal(f"{key}.name", one["name"], "a name of its own")
        seen.append(one["name"])
        if one["temp_max_c"] <= one["temp_min_c"]:
            allowed = f"above temp_min_c, {one['temp_min_c']:g}"
            raise CalcRefusal(f"{key}.temp_max_c", one["temp_max_c"], allowed)


def _solve(values: Values) -> Values:
    rows = joint_window(
        values["forecast"],
        _formulations(values),
        simulate_runs(_crew(values), values["runs"], values["seed"]),
        allowed_ratio=values["allowed_ratio"],
        lag_h=values["lag_h"],
    )
    best = best_start(rows)
    return {
        "hours": [
            {
                "start_hour": row.start_hour,
                "formulation": row.formulation,
                "used_ratio_p50": row.used_ratio_p50,
                "used_ratio_p90": row.used_ratio_p90,
                "success_ratio": row.success_ratio,
                "past_forecast": row.past_forecast,
            }
            for row in rows
        ],
        "best_start_hour": best.start_hour if best else None,
        "best_formulation": best.formulation if best else None,
    }


def _formulations(values: Values) -> list[Formulation]:
    return [
        Formulation(
            name=one["name"],
            temp_min_c=one["temp_min_c"],
            temp_max_c=one["temp_max_c"],
            pot_life=LifeTable(
                points=one["pot_life_table"],
                key=f"formulations[{index}].pot_life_table",
            ),
            open_time=LifeTable(
                points=one["open_time_table"],
                key=f"formulations[{index}].open_time_table",
            ),
        )
        for index, one in enumerate(values["formulations"])
    ]


def _crew(values: Values) -> Crew:
    durations = {
        work: Duration(least_min=least, likely_min=likely, most_min=most)
        for work, (least, likely, most) in values["durations_min"].items()
    }
    return Crew(**durations, overlap_ratio=values["overlap_ratio"])


HOUR_H = Number(unit="h", sign=ANY_SIGN, low=FIRST_HOUR, high=LAST_HOUR)
HOUR = Row(names=("hour", "temp_c"), numbers=(HOUR_H, TEMP_C))
FORMULATION = Record(
    fields=(
        Field(key="name", kind=Text(), what="name"),
        Field(key="temp_min_c", kind=TEMP_C, what="coldest face"),
        Field(key="temp_max_c", kind=TEMP_C, what="hottest face"),
        Field(key="pot_life_table", kind=LIFE_ROWS, what="pot life"),
        Field(key="open_time_table", kind=LIFE_ROWS, what="open time"),
    )
)
DURATION = Row(names=("least", "likely", "most"), numbers=(MINUTES, MINUTES, MINUTES))
DURATIONS = Record(
    fields=tuple(Field(key=work, kind=DURATION, what=work) for work in WORKS)
)

CALCULATION = Calculation(
    name="joint-window",
    title="Window for a joint",
    purpose="When may the crew start, with which formulation, and will they make it?",
    inputs=Record(
        fields=(
            Field(
                key="forecast",
                kind=ListOf(item=HOUR, most=400),
                what="air temperature over the day",
                proof="the forecast",
            ),
            Field(
                key="formulations",
                kind=ListOf(item=FORMULATION, most=20),
                what="formulations",
                proof="the maker's certificates",
            ),
            Field(
                key="durations_min",
                kind=DURATIONS,
                what="durations in minutes [least, likely, most]",
                proof="the crew's own finished joints",
            ),
            Field(
                key="overlap_ratio",
                kind=Number(unit="ratio", sign=ZERO_OR_ABOVE, high=1.0),
                what="part of spreading that runs during mixing",
                optional=True,
                default=0.0,
                default_source="default: none",
            ),
            Field(
                key="lag_h",
                kind=Number(unit="h", sign=ZERO_OR_ABOVE, high=240.0),
                what="hours by which the face runs behind the air",
                optional=True,
                default=0.0,
                default_source="default: face as air",
            ),
            Field(
                key="allowed_ratio",
                kind=Number(unit="ratio", high=1.0),
                what="allowed part of the open time",
                proof="the project's specification",
            ),
            Field(
                key="runs",
                kind=Number(unit="", high=100_000.0, whole=True),
                what="simulated joints",
            ),
            Field(
                key="seed",
                kind=Number(unit="", sign=ZERO_OR_ABOVE, high=2.0**53, whole=True),
                what="seed",
            ),
        )
    ),
    outputs=(
        Output(key="hours", what="starts"),
        Output(key="best_start_hour", what="best start", unit="h"),
        Output(key="best_formulation", what="with"),
    ),
    rules=_rules,
    solve=_solve,
    steps=steps,
    sketch=sketch,
    validity=(
        "It plans; it never grants leave to mix.",
        (
            "Straight between the forecast's hours; before the first its temperature "
            "is held; work that runs past the last is marked and never the best start."
        ),
        "Face temperature drives the open time, air temperature the pot life.",
        "Durations triangular and independent; the same draws for every start.",
    ),
    sources=(
        (
            "Simulation with SplitMix64 (Steele, Lea and Flood 2014): same seed, same "
            "answer."
        ),
        "Life along temperatures as in adhesive-life, every five minutes.",
    ),
    example={
        "forecast": [[6, 9], [8, 13], [10, 18], [12, 23], [14, 26], [16, 25], [18, 20]],
        "formulations": [
            {
                "name": "cool",
                "temp_min_c": 5,
                "temp_max_c": 20,
                "pot_life_table": [[5, 60], [20, 25]],
                "open_time_table": [[5, 120], [20, 60]],
            },
            {
                "name": "warm",
                "temp_min_c": 15,
                "temp_max_c": 30,
                "pot_life_table": [[15, 60], [30, 25]],
                "open_time_table": [[15, 120], [30, 60]],
            },
        ],
        "durations_min": {
            "mix": [4, 5, 8],
            "spread": [10, 14, 22],
            "close": [3, 5, 9],
            "stress": [8, 12, 20],
        },
        "overlap_ratio": 0.2,
        "lag_h": 1,
        "allowed_ratio": 0.7,
        "runs": 500,
        "seed": 7,
    },
)
