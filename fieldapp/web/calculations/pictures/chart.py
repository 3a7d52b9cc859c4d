"""A chart: axes with round ticks, and where a value lies on it.

Extents are found from the values; a chart of one value still has a width.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldapp.web.calculations.pictures.canvas import (
    LETTER,
    WIDE,
    WIDTH,
    Point,
    Shape,
    box,
    line,
    through,
    word,
)
from fieldapp.web.calculations.units import read

TICKS = 6
LEFT, RIGHT, TOP, FOOT = 62.0, 18.0, 30.0, 46.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """A range of values with its ticks."""

    low: float
    high: float
    step: float

    @property
    def ticks(self) -> list[float]:
        """Round values within the range."""
        first = math.ceil(self.low / self.step - 1e-9)
        last = math.floor(self.high / self.step + 1e-9)
        return [index * self.step for index in range(first, min(last, first + 20) + 1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A frame on the drawing and the axes laid into it."""

    x: Axis
    y: Axis
    height: float
    top: float = TOP
    left: float = LEFT
    right: float = WIDTH - RIGHT

    @property
    def foot(self) -> float:
        """Where the frame ends, downwards."""
        return self.top + self.height

    def at(self, point: Point) -> Point:
        """Give the place of a value."""
        return self.across(point[0]), self.down(point[1])

    def across(self, x: float) -> float:
        """Give the place of a value along the frame."""
        return self.left + _part(self.x, x) * (self.right - self.left)

    def down(self, y: float) -> float:
        """Give the place of a value up the frame."""
        return self.foot - _part(self.y, y) * self.height


def axis(values: Iterable[float], *, zero: bool = False, room: float = 0.06) -> Axis:
    """Lay an axis around values, with some room; `zero` takes nought in."""
    found = [value for value in values if math.isfinite(value)] or [0.0]
    if zero:
        found.append(0.0)
    low, high = min(found), max(found)
    if high - low <= max(abs(low), abs(high)) * 1e-9:
        half = abs(high) * 0.1 or 1.0
        low, high = low - half, high + half
    span = high - low
    low -= 0 if zero and low >= 0 else span * room
    high += 0 if zero and high <= 0 else span * room
    return Axis(low=low, high=high, step=_step(high - low))


def frame(chart: Chart, x_title: str, y_title: str) -> list[Shape]:
    """Draw grid, ticks, and titles: y above its axis, x below."""
    shapes = []
    for value in chart.y.ticks:
        y = chart.down(value)
        shapes.append(line((chart.left, y), (chart.right, y), "grid"))
        shapes.append(word((chart.left - 7, y + 4.5), _tick(value), "soft", "end"))
    for value in chart.x.ticks:
        x = chart.across(value)
        shapes.append(line((x, chart.foot), (x, chart.foot + 5), "axis"))
        shapes.append(word((x, chart.foot + 19), _tick(value), "soft", "middle"))
    shapes.append(line((chart.left, chart.foot), (chart.right, chart.foot), "axis"))
    shapes.append(line((chart.left, chart.top), (chart.left, chart.foot), "axis"))
    shapes.append(word((6, chart.top - 12), y_title, "words"))
    shapes.append(word((chart.right, chart.foot + 38), x_title, "words", "end"))
    return shapes


def curve(chart: Chart, points: Sequence[Point], pen: str = "curve") -> Shape:
    """Draw a line through values."""
    return through([[chart.at(point) for point in points]], pen)


def level(chart: Chart, y: float, text: str, pen: str = "limit") -> list[Shape]:
    """Draw a value across the frame with its words above it at the right."""
    at = chart.down(y)
    return [
        line((chart.left, at), (chart.right, at), pen),
        word((chart.right - 4, at - 6), text, "words", "end"),
    ]


def band(chart: Chart, low: float, high: float, pen: str) -> Shape:
    """Fill a range of values across the frame, cut to the frame."""
    top = max(chart.down(high), chart.top)
    foot = min(chart.down(low), chart.foot)
    return box((chart.left, top), chart.right - chart.left, foot - top, pen)


def beside(
    chart: Chart, point: Point, text: str, pen: str = "strong", *, under: bool = False
) -> Shape:
    """Set words beside a value, on the side where there is room."""
    x, y = chart.at(point)
    wide = len(text) * LETTER * WIDE
    y = max(y - 10, chart.top + 11) if not under else min(y + 20, chart.foot - 5)
    if x + 9 + wide <= chart.right:
        return word((x + 9, y), text, pen)
    if x - 9 - wide >= chart.left:
        return word((x - 9, y), text, pen, "end")
    return word(((chart.left + chart.right) / 2, y), text, pen, "middle")


def _part(axis: Axis, value: float) -> float:
    return (value - axis.low) / (axis.high - axis.low)


def _step(span: float) -> float:
    rough = span / TICKS
    unit = 10.0 ** math.floor(math.log10(rough))
    return next(unit * each for each in (1, 2, 5, 10) if unit * each >= rough * 0.999)


def _tick(value: float) -> str:
    return read(value) if abs(value) < 1e5 else f"{value:.3g}"
