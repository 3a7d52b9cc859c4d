"""Adhesive against time: its certified life, and the life used along readings."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fieldapp.calc.adhesive import LifeClock, life_clock, used_ratio
from fieldapp.calc.calculation import Values
from fieldapp.calc.tables import LifeTable, life_min
from fieldapp.web.calculations.pictures.canvas import (
    Drawing,
    Point,
    Shape,
    disc,
    line,
    word,
)
from fieldapp.web.calculations.pictures.chart import (
    Chart,
    axis,
    band,
    beside,
    curve,
    frame,
    level,
)
from fieldapp.web.calculations.units import read

FINE = 48
MOST_AHEAD = 1.3


def adhesive_life(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the certified life, or the life used and the temperatures under it."""
    table = LifeTable(points=values["life_table"])
    if values["temp_c"] is not None:
        yield _certified(table, values["temp_c"], answer["life_min"])
        return
    running = life_clock(table, values["temperatures"])
    yield _used(values, answer, running)
    yield _temperatures(values, table)


def _certified(table: LifeTable, temp_c: float, life: float) -> Drawing:
    temps = [t for t, _ in table.points]
    fine = [
        low + (high - low) * part / FINE
        for low, high in pairwise(temps)
        for part in range(FINE)
    ]
    points = [(t, life_min(table, t)) for t in fine] + [table.points[-1]]
    chart = Chart(
        x=axis(temps), y=axis([m for _, m in table.points], zero=True), height=210
    )
    asked = chart.at((temp_c, life))
    return Drawing(
        title="Certified life over temperature",
        told=f"The life falls from {read(points[0][1])} min at {read(temps[0])} °C to "
        f"{read(points[-1][1])} min at {read(temps[-1])} °C; at {read(temp_c)} °C it "
        f"is {read(life)} min.",
        height=300,
        shapes=(
            *frame(chart, "temperature [°C]", "life [min]"),
            curve(chart, points),
            *(disc(chart.at(point), 4.5, "dot") for point in table.points),
            line((asked[0], chart.foot), asked, "ahead"),
            line((chart.left, asked[1]), asked, "ahead"),
            disc(asked, 6, "asked"),
            beside(chart, (temp_c, life), f"{read(life)} min at {read(temp_c)} °C"),
        ),
        notes=("Dots: certified points. Between them the logarithm is straight.",),
    )


def _used(values: Values, answer: Values, running: LifeClock) -> Drawing:
    last = values["temperatures"][-1][0]
    asked = last if values["at_minute"] is None else values["at_minute"]
    deadlines = [(r, m) for r, m in answer["minute_at_ratio"]]
    end = max([last, asked, *(m for _, m in deadlines)]) or 1.0
    starts = [s.start_min for s in running.stretches]
    seen = sorted({0.0, last, *(s for s in starts if s <= last)})
    ratios = [r for r, _ in deadlines]
    top = max([used_ratio(running, end), *ratios, 1.0])
    chart = Chart(x=axis([0, end], zero=True), y=axis([top], zero=True), height=230)
    ahead = [(m, used_ratio(running, m)) for m in (last, max(end, last))]
    used = answer["used_ratio"]
    return Drawing(
        title="Part of the life used over minutes",
        told=f"{read(used)} of the life is used at minute {read(asked)}. "
        + " ".join(f"{read(r)} is reached at minute {read(m)}." for r, m in deadlines),
        height=320,
        shapes=(
            *frame(chart, "minutes since the first kit", "part of the life used"),
            *(shape for r, m in deadlines for shape in _deadline(chart, r, m)),
            curve(chart, _steps(running, seen)),
            curve(chart, ahead, "ahead"),
            disc(chart.at((asked, used)), 6, "asked"),
            beside(chart, (asked, used), f"{read(used)} used", under=True),
        ),
        notes=("Full line: along the readings. Dashed: carried on at the last rate.",),
    )


def _steps(running: LifeClock, minutes: Sequence[float]) -> list[Point]:
    """The used life, upright where heat spends it at once."""
    points: list[Point] = []
    by_start = {s.start_min: s for s in running.stretches}
    for minute in minutes:
        if minute and minute in by_start:
            before = [s for s in running.stretches if s.start_min < minute][-1]
            arrived = before.used_ratio + before.rate_per_min * (
                minute - before.start_min
            )
            points.append((minute, arrived))
        points.append((minute, used_ratio(running, minute)))
    return points


def _deadline(chart: Chart, ratio: float, minute: float) -> Iterator[Shape]:
    at = chart.at((minute, ratio))
    yield from level(chart, ratio, "")
    yield line((at[0], chart.foot), at, "ahead")
    yield disc(at, 4.5, "bad")
    text = f"{read(ratio)} at {read(minute)} min"
    if at[0] > (chart.left + chart.right) / 2:
        yield word((at[0] - 8, at[1] - 7), text, "strong", "end")
    else:
        yield word((at[0] + 8, at[1] - 7), text, "strong")


def _temperatures(values: Values, table: LifeTable) -> Drawing:
    readings = values["temperatures"]
    temps = [t for _, t in readings]
    chart = Chart(
        x=axis([m for m, _ in readings], zero=True),
        y=axis([*temps, table.low_c, table.high_c]),
        height=110,
    )
    return Drawing(
        title="Temperatures that were read",
        told=f"{len(readings)} readings from {read(min(temps))} to {read(max(temps))} "
        f"°C; certified from {read(table.low_c)} to {read(table.high_c)} °C.",
        height=200,
        shapes=(
            band(chart, table.low_c, table.high_c, "good-band"),
            *frame(chart, "minutes since the first kit", "temperature [°C]"),
            curve(chart, readings),
            *(disc(chart.at(each), 4, "dot") for each in readings[:200]),
        ),
        notes=("Tinted: certified temperatures.",),
    )
