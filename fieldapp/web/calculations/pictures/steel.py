"""Bars, jacks and tendons: force against extension, pressure, or length."""

from collections.abc import Iterator
from typing import Any

from fieldapp.calc import catalogue
from fieldapp.calc.calculation import Values
from fieldapp.calc.extension_check import measured_extension
from fieldapp.web.calculations.pictures.canvas import (
    Drawing,
    Shape,
    box,
    disc,
    line,
    word,
)
from fieldapp.web.calculations.pictures.chart import (
    Chart,
    axis,
    beside,
    curve,
    frame,
)
from fieldapp.web.calculations.units import read


def bar_extension(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw force against extension: stretched by the jack, then locked."""
    force, datum = values["force_kn"], values["datum_force_kn"]
    extension, seating = answer["extension_mm"], values["seating_mm"]
    locked = answer.get("locked_force_kn")
    back = [extension - seating] if seating is not None else []
    chart = Chart(
        x=axis([extension * 1.5, *back], zero=True),
        y=axis([force, datum, *([] if locked is None else [locked])], zero=True),
        height=230,
    )
    shapes = [
        *frame(chart, "extension at the jack [mm]", "force [kN]"),
        curve(chart, [(0.0, datum), (extension, force)]),
        disc(chart.at((0.0, datum)), 5, "dot"),
        disc(chart.at((extension, force)), 6, "asked"),
        beside(chart, (extension, force), f"{read(force)} kN, {read(extension)} mm"),
    ]
    told = f"From {read(datum)} kN to {read(force)} kN the bar extends "
    told += f"{read(extension)} mm."
    if locked is not None and back:
        end = (back[0], locked)
        shapes += [
            curve(chart, [(extension, force), end], "second"),
            disc(chart.at(end), 5, "ring"),
            beside(chart, end, f"locked {read(locked)} kN", under=True),
        ]
        told += f" Seating leaves {read(locked)} kN."
    yield Drawing(
        title="Force over extension, measured from the datum",
        told=told,
        height=320,
        shapes=tuple(shapes),
    )


def jack(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the certificate's points, the line through them, and what was asked."""
    pressure = values["pressure_bar"] or answer["pressure_bar"]
    force = values["force_kn"] or answer["force_kn"]
    points = values["calibration"] or ()
    ends = [p for p, _ in points] or [0.0, pressure]
    chart = Chart(
        x=axis([*ends, pressure], zero=True),
        y=axis([force, *(f for _, f in points)], zero=True),
        height=250,
    )
    at = chart.at((pressure, force))
    text = f"{read(pressure)} bar, {read(force)} kN"
    yield Drawing(
        title="Force over gauge pressure",
        told=_jack_told(answer, text, len(points)),
        height=340,
        shapes=(
            *_certified(chart, ends, bool(points)),
            *frame(chart, "pressure [bar]", "force [kN]"),
            curve(chart, _jack_line(answer, ends, (pressure, force))),
            *(disc(chart.at(point), 4.5, "ring") for point in points),
            line((at[0], chart.foot), at, "ahead"),
            line((chart.left, at[1]), at, "ahead"),
            disc(at, 6, "asked"),
            *_mark(chart, answer),
            beside(chart, (pressure, force), text),
        ),
        notes=("Rings: certified points; tinted: certified pressures.",)
        if points
        else ("No certificate: the ram's area alone, friction left out.",),
    )


def _jack_told(answer: Values, text: str, count: int) -> str:
    if not count:
        return f"By the ram's area alone: {text}. Not certified."
    mark = answer.get("set_pressure_bar")
    told = f"Straight line through {count} certified points: {text}."
    return told if mark is None else f"{told} Mark to set: {read(mark)} bar."


def _certified(chart: Chart, ends: list[float], certified: bool) -> Iterator[Shape]:
    if certified:
        left, right = chart.across(min(ends)), chart.across(max(ends))
        yield box((left, chart.top), right - left, chart.height, "good-band")


def _jack_line(answer: Values, ends: list[float], asked: Any) -> list[Any]:
    if "slope" not in answer:
        return [(0.0, 0.0), asked]
    slope, shift = answer["slope"], answer["intercept"]
    return [(p, slope * p + shift) for p in (min(ends), max(ends))]


def _mark(chart: Chart, answer: Values) -> Iterator[Shape]:
    if "set_pressure_bar" in answer:
        point = (answer["set_pressure_bar"], answer["set_force_kn"])
        yield disc(chart.at(point), 5, "good")
        yield beside(chart, point, f"set {read(point[0])} bar", under=True)


def tendon(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the force along the tendon at jacking and after the set."""
    sketch = catalogue.get("tendon").sketch
    assert sketch is not None
    jacked, after = (stroke.points for stroke in sketch(values, answer).strokes)
    length = jacked[-1][0]
    chart = Chart(
        x=axis([0.0, length], room=0.0),
        y=axis([force for _, force in (*jacked, *after)], room=0.16),
        height=240,
    )
    least = (answer["least_at_m"], answer["least_force_kn"])
    yield Drawing(
        title="Force along the tendon from the first jack",
        told=_tendon_told(values, answer, length),
        height=350,
        shapes=(
            *frame(chart, "length from the first jack [m]", "force [kN]"),
            *(shape for end in _sets(answer, length)
              for shape in _set(chart, *end)),
            curve(chart, jacked),
            curve(chart, after, "second"),
            disc(chart.at(least), 6, "asked"),
            beside(chart, least, f"least {read(least[1])} kN at jacking", under=True),
            line((chart.left, 342), (chart.left + 30, 342), "curve"),
            word((chart.left + 36, 346), "at jacking", "words"),
            line((chart.left + 150, 342), (chart.left + 180, 342), "second"),
            word((chart.left + 186, 346), "after the set", "words"),
        ),
    )  # fmt: skip


def _tendon_told(values: Values, answer: Values, length: float) -> str:
    told = (
        f"{read(values['jacking_force_kn'])} kN at the jack, least "
        f"{read(answer['least_force_kn'])} kN at {read(answer['least_at_m'])} m of "
        f"{read(length)} m."
    )
    ends = [
        f"Set over {read(abs(end - start))} m, {read(anchor)} kN at the anchor."
        for start, end, anchor in _sets(answer, length)
    ]
    return " ".join([told, *ends])


def _sets(answer: Values, length: float) -> list[tuple[float, float, float]]:
    """Give for each jacked end where its set starts and ends, and the anchor force."""
    lengths, anchors = answer["set_length_m"], answer["anchor_force_kn"]
    if not isinstance(lengths, list):
        return [(0.0, lengths, anchors)]
    return [(0.0, lengths[0], anchors[0]), (length, length - lengths[1], anchors[1])]


def _set(chart: Chart, start: float, end: float, anchor: float) -> Iterator[Shape]:
    left, right = sorted((chart.across(start), chart.across(end)))
    yield box((left, chart.top), right - left, chart.height, "cool-band")
    size = f"set {read(abs(end - start))} m"
    first = start == 0.0
    x = left + 6 if first else right - 6
    side = "start" if first else "end"
    yield word(
        (x, chart.down(anchor) + 18), f"anchor {read(anchor)} kN", "strong", side
    )
    yield word((x, chart.top + 15), size, "words", side)


def extension_check(values: Values, answer: Values) -> Iterator[Drawing]:
    """Draw the readings with their line, and the difference within its band."""
    yield _readings(values, answer)
    yield _difference(values, answer)


def _readings(values: Values, answer: Values) -> Drawing:
    readings = values["readings"]
    fitted = measured_extension(readings)
    slope, shift = fitted.measured_mm / 100, fitted.intercept_mm
    last = max(readings[-1][0], 100.0)
    line_ = [(f, slope * f + shift) for f in (0.0, last)]
    chart = Chart(
        x=axis([0, last], zero=True, room=0.04),
        y=axis([e for _, e in (*readings, *line_)], zero=True),
        height=230,
    )
    return Drawing(
        title="Readings and the line through them",
        told=f"{len(readings)} readings; the line gives {read(answer['measured_mm'])} "
        f"mm at 100 %, two points alone {read(answer['two_point_mm'])} mm; largest "
        f"departure {read(answer['residual_mm'])} mm.",
        height=320,
        shapes=(
            *frame(chart, "force [%]", "extension [mm]"),
            curve(chart, line_),
            *(disc(chart.at(each), 5, "ring") for each in readings[:200]),
            disc(chart.at(line_[0]), 4, "dot"),
            beside(chart, line_[0], f"line {read(shift)} mm at 0 %", "words"),
        ),
    )


def _difference(values: Values, answer: Values) -> Drawing:
    measured, calculated = answer["measured_mm"], answer["adjusted_calculated_mm"]
    band = answer["band_mm"]
    chart = Chart(
        x=axis([measured, calculated - band, calculated + band], room=0.2),
        y=axis([0, 1], room=0),
        height=60,
    )
    left, right = chart.across(calculated - band), chart.across(calculated + band)
    middle = chart.top + 30
    pen = "good" if answer["ok"] else "bad"
    verdict = "within" if answer["ok"] else "outside"
    told = (
        f"{read(measured)} mm measured, {verdict} {read(calculated)} ± {read(band)} mm"
    )
    shapes: list[Shape] = [
        box((left, chart.top), right - left, 60, "good-band"),
        line((chart.left, chart.foot), (chart.right, chart.foot), "axis"),
        line((chart.across(calculated), chart.top), (chart.across(calculated),
             chart.foot), "ahead"),
    ]  # fmt: skip
    shapes += [
        word((chart.across(value), chart.foot + 19), read(value), "soft", "middle")
        for value in chart.x.ticks
    ]
    shapes += [
        disc((chart.across(measured), middle), 7, pen),
        word((chart.left, 16), told, "strong"),
    ]
    return Drawing(
        title="Measured extension in its band, mm",
        told=f"{told}. Band about the calculated extension.",
        height=120,
        shapes=tuple(shapes),
        notes=("Tinted: band about the calculated extension (dashed).",),
    )
