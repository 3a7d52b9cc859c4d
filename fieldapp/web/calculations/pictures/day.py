"""The day of a joint: chances of each start, and the temperatures they rest on."""

from collections.abc import Iterator, Sequence
from typing import Any

from fieldapp.calc.calculation import Values
from fieldapp.web.calculations.pictures.canvas import (
    WIDTH,
    Drawing,
    Shape,
    disc,
    line,
    within,
    word,
)
from fieldapp.web.calculations.pictures.chart import (
    RIGHT,
    Axis,
    Chart,
    axis,
    curve,
    frame,
)
from fieldapp.web.calculations.units import clock, read

PENS = ("curve", "second", "third")
DOTS = ("dot", "dot-second", "dot-third")
HOUR_STEPS = (1, 2, 3, 4, 6, 12, 24)
MOST_HOURS = 8
MARGIN = 130.0
ROOM = 48.0
"""Beside the chart, for the formulations' windows."""


def joint_window(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the day's chances of each formulation, and the air they rest on."""
    hours = [hour for hour, _ in values["forecast"]]
    yield _chances(values, answer, hours)
    yield _day(values, hours, _drawn(values, answer))


def _drawn(values: Values, answer: Values) -> list[str]:
    """Give the formulations that find room: three, the best one among them."""
    names = [one["name"] for one in values["formulations"]]
    best = answer["best_formulation"]
    if best is None or best in names[: len(PENS)]:
        return names[: len(PENS)]
    return [*names[: len(PENS) - 1], best]


def _chances(values: Values, answer: Values, hours: list[float]) -> Drawing:
    chart = Chart(x=_hours(hours), y=axis([0, 105], room=0), height=220)
    names = _drawn(values, answer)
    shapes = frame(chart, "start, hour of the day", "joints that succeed [%]")
    for index, name in enumerate(names):
        rows = [row for row in answer["hours"] if row["formulation"] == name]
        points = [(row["start_hour"], 100 * row["success_ratio"]) for row in rows]
        shapes.append(curve(chart, points, PENS[index]))
        shapes += [
            disc(chart.at(point), 4, "ring" if row["past_forecast"] else DOTS[index])
            for row, point in zip(rows, points, strict=True)
        ]
    best = answer["best_start_hour"]
    return Drawing(
        title="Joints that succeed, by the hour of the start",
        told=_chances_told(answer, names),
        height=344,
        shapes=(*shapes, *_best(chart, answer), *_key(chart, names)),
        notes=(
            "Open rings: the work would run past the forecast; never the best start.",
            *(
                ("The sheet has the other formulations.",)
                if len(names) < len(values["formulations"])
                else ()
            ),
            *(("No start succeeds in any run.",) if best is None else ()),
        ),
    )


def _hours(hours: list[float]) -> Axis:
    """Lay an axis with ticks at whole hours of the clock."""
    span = max(hours) - min(hours) or 1.0
    step = next((s for s in HOUR_STEPS if span / s <= MOST_HOURS), 24)
    room = span * 0.02
    return Axis(low=min(hours) - room, high=max(hours) + room, step=step)


def _chances_told(answer: Values, names: list[str]) -> str:
    told = []
    for name in names:
        rows = [
            f"{clock(row['start_hour'])} {round(100 * row['success_ratio'])} %"
            for row in answer["hours"]
            if row["formulation"] == name
        ]
        told.append(f"{name}: {', '.join(rows[:48])}.")
    best = answer["best_start_hour"]
    if best is not None:
        told.append(f"Best start {clock(best)} with {answer['best_formulation']}.")
    return " ".join(told)


def _best(chart: Chart, answer: Values) -> Iterator[Shape]:
    best = answer["best_start_hour"]
    if best is None:
        return
    row = next(
        row
        for row in answer["hours"]
        if row["start_hour"] == best
        and row["formulation"] == answer["best_formulation"]
    )
    point = (best, 100 * row["success_ratio"])
    at = chart.at(point)
    yield line((at[0], chart.foot), at, "ahead")
    yield disc(at, 7, "good")
    text = f"best {clock(best)}, {answer['best_formulation']}"
    if at[0] > (chart.left + chart.right) / 2:
        yield word((at[0] - 6, chart.top - 2), text[:40], "strong", "end")
    else:
        yield word((at[0] + 6, chart.top - 2), text[:40], "strong")


def _key(chart: Chart, names: Sequence[str]) -> Iterator[Shape]:
    """Say which line is which formulation, below the chart."""
    for index, name in enumerate(names):
        x, y = chart.left + index * 130, chart.foot + 66
        yield line((x, y - 4), (x + 30, y - 4), PENS[index])
        yield word((x + 36, y), name[:12], "words")


def _day(values: Values, hours: list[float], names: list[str]) -> Drawing:
    formulations = [one for one in values["formulations"] if one["name"] in names]
    limits = [one[key] for one in formulations for key in ("temp_min_c", "temp_max_c")]
    temps = [t for _, t in values["forecast"]]
    chart = Chart(
        x=_hours(hours),
        y=axis([*temps, *limits]),
        height=130,
        right=WIDTH - RIGHT - MARGIN,
    )
    face = [(hour + values["lag_h"], temp) for hour, temp in values["forecast"]]
    kept = [point for point in face if point[0] <= hours[-1]]
    lag = values["lag_h"] > 0 and len(kept) > 1
    return Drawing(
        title="Air of the day, and where each formulation may be used",
        told=f"Air from {read(min(temps))} to {read(max(temps))} °C. "
        + " ".join(
            f"{one['name']}: {read(one['temp_min_c'])} to {read(one['temp_max_c'])} °C."
            for one in formulations
        ),
        height=220,
        shapes=(
            *frame(chart, "hour of the day", "temperature [°C]"),
            *(shape for i, one in enumerate(formulations)
              for shape in _window(chart, one, i)),
            curve(chart, values["forecast"]),
            *((curve(chart, kept, "ahead"),) if lag else ()),
        ),
        notes=(
            "Upright bars: the formulation's window. Full line: air."
            + (" Dashed: the face, behind the air." if lag else ""),
        ),
    )  # fmt: skip


def _window(chart: Chart, one: Any, index: int) -> Iterator[Shape]:
    """Draw a formulation's window as an upright bar with its name."""
    x = chart.right + 14 + index * ROOM
    low, high = chart.down(one["temp_min_c"]), chart.down(one["temp_max_c"])
    yield line((x, low), (x, high), PENS[index])
    for y in (low, high):
        yield line((x - 5, y), (x + 5, y), "axis")
    yield word((x + 7, (low + high) / 2 + 4), within(one["name"], ROOM - 4), "words")
