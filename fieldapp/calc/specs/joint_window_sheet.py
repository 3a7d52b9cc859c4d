"""The calculation sheet of joint-window: how a run is judged, and the day."""

from typing import Any

from fieldapp.calc.calculation import Values
from fieldapp.calc.day import readings_from
from fieldapp.calc.figures import figure
from fieldapp.calc.sketch import Dot, Sketch, Stroke
from fieldapp.calc.specs.adhesive_life import clock_parts
from fieldapp.calc.tables import LifeTable
from fieldapp.calc.working import Grid, Note, Part, Step

MOST_SHOWN = 60
"""Readings of a start set out by hand: five hours of work."""


def steps(values: Values, answer: Values) -> tuple[Part, ...]:
    """How a run goes, the means of its durations, one start worked out, the best."""
    means = {work: sum(row) / 3 for work, row in values["durations_min"].items()}
    rows = tuple(
        (work, *(figure(part) for part in row), figure(means[work]))
        for work, row in values["durations_min"].items()
    )
    overlap = min(values["overlap_ratio"] * means["spread"], means["mix"])
    return (
        Grid(
            title="Durations [min], triangular; mean = (least + likely + most)/3",
            columns=("work", "least", "likely", "most", "mean"),
            rows=rows,
        ),
        Step(
            what="time from the first kit to stressed, every duration at its mean",
            formula="t = mix + spread − overlap + close + stress, overlap = min(part × "
            "spread, mix)",
            numbers=f"{figure(sum(means.values()))} − {figure(overlap)}",
            result=f"{figure(sum(means.values()) - overlap)} min",
        ),
        Note(
            text=f"{values['runs']} runs from seed {values['seed']}. A run succeeds "
            f"where the open time used is at most {figure(values['allowed_ratio'])}, "
            "mix and spread end within the pot life, and the face stays inside the "
            "formulation throughout."
        ),
        *_one_start(values, answer, sum(means.values()) - overlap),
        *_pot_life(values, answer, means["mix"] + means["spread"] - overlap),
        Note(text=_best(answer)),
    )


def _one_start(values: Values, answer: Values, length_min: float) -> tuple[Part, ...]:
    """The open time of one start worked out at the mean durations, to be checked."""
    row = _shown_row(answer)
    formulation = _formulation(values, row)
    title = f"Start at hour {figure(row['start_hour'])} with {row['formulation']}"
    start = row["start_hour"] - values["lag_h"]
    table = LifeTable(points=formulation["open_time_table"])
    return (
        Note(text=f"{title}: open time by the face, every duration at its mean."),
        *_along(values, table, start, length_min),
    )


def _pot_life(values: Values, answer: Values, length_min: float) -> tuple[Part, ...]:
    row = _shown_row(answer)
    table = LifeTable(points=_formulation(values, row)["pot_life_table"])
    return (
        Note(text="The same start: pot life by the air, until all is spread."),
        *_along(values, table, row["start_hour"], length_min),
    )


def _along(
    values: Values, table: LifeTable, start_hour: float, length_min: float
) -> tuple[Part, ...]:
    readings = readings_from(
        values["forecast"], start_hour, length_min, (table.high_c,)
    )
    if len(readings) > MOST_SHOWN:
        return (Note(text=f"More than {MOST_SHOWN} readings: not set out here."),)
    return clock_parts(table, readings, length_min)


def _shown_row(answer: Values) -> dict[str, Any]:
    """The best start, or the one that uses least where none is best."""
    rows: list[dict[str, Any]] = answer["hours"]
    best = (answer["best_start_hour"], answer["best_formulation"])
    least = min(rows, key=lambda row: row["used_ratio_p90"])
    named = (row for row in rows if (row["start_hour"], row["formulation"]) == best)
    return next(named, least)


def _formulation(values: Values, row: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = next(
        one for one in values["formulations"] if one["name"] == row["formulation"]
    )
    return found


def _best(answer: Values) -> str:
    if answer["best_start_hour"] is None:
        return "No start today succeeds in any run."
    return (
        f"Best start: hour {figure(answer['best_start_hour'])} with "
        f"{answer['best_formulation']} (most successes, then least life used at nine "
        "in ten, then the earliest)."
    )


def sketch(values: Values, answer: Values) -> Sketch:
    """The day: share of successes over the start hour, a curve a formulation."""
    curves = {
        one["name"]: tuple(
            (row["start_hour"], row["success_ratio"])
            for row in answer["hours"]
            if row["formulation"] == one["name"]
        )
        for one in values["formulations"]
    }
    return Sketch(
        caption="Share of runs that succeed, over the start hour",
        strokes=tuple(
            Stroke(points=points, kind="curve") for points in curves.values()
        ),
        dots=tuple(
            Dot(at=max(points, key=lambda point: point[1]), label=name)
            for name, points in curves.items()
        ),
        one_scale=False,
    )
