"""Tables with their own limits: a straight line, or a life that falls with heat.

A table answers between its first and last point and refuses beyond them. It never
clamps and never extrapolates; a running clock's rules for heat and cold outside its
table are in `adhesive`, where they raise an alarm.
"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fieldapp.calc.refusals import CalcRefusal, OutOfTable

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightTable:
    """Points (argument, value) with strictly rising arguments, straight between."""

    quantity: str
    points: Points

    def __post_init__(self) -> None:
        _check_rising(self.points, self.quantity)


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeTable:
    """Certified points (temp_c, life_min): hotter is never longer.

    The life between two points is straight in its logarithm.
    Source: common practice for certified tables, no source; the form follows from a
    life that falls by the same factor for each degree.
    """

    points: Points
    key: str = "life_table"

    def __post_init__(self) -> None:
        _check_rising(self.points, self.key)
        for index, (_, life_min) in enumerate(self.points):
            _check_life(self, index, life_min)

    @property
    def low_c(self) -> float:
        """Coldest certified temperature."""
        return self.points[0][0]

    @property
    def high_c(self) -> float:
        """Hottest certified temperature."""
        return self.points[-1][0]


def straight_line(table: StraightTable, value: float) -> float:
    """The table's value at an argument; OutOfTable beyond the ends.

    Source: linear interpolation (textbook).
    """
    left, right = _bracket(table.points, value, table.quantity)
    if left == right:
        return left[1]
    ratio = (value - left[0]) / (right[0] - left[0])
    return left[1] + ratio * (right[1] - left[1])


def life_min(table: LifeTable, temp_c: float) -> float:
    """The certified life in minutes at a temperature; OutOfTable beyond the ends.

    Source: log-linear between certified points, as in LifeTable.
    """
    left, right = _bracket(table.points, temp_c, "temp_c")
    if left == right or left[1] == right[1]:
        return left[1]
    ratio = (temp_c - left[0]) / (right[0] - left[0])
    return left[1] * float((right[1] / left[1]) ** ratio)


def _bracket(
    points: Points, value: float, quantity: str
) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two points around a value, or the point itself twice."""
    low, high = points[0][0], points[-1][0]
    if not low <= value <= high:
        raise OutOfTable(quantity, value, low, high)
    index = bisect_left(points, value, key=lambda point: point[0])
    right = points[index]
    return (right, right) if right[0] == value else (points[index - 1], right)


def _check_rising(points: Sequence[tuple[float, float]], key: str) -> None:
    if len(points) < 2:
        raise CalcRefusal(key, [list(p) for p in points], "two points or more")
    for index, (left, right) in enumerate(pairwise(points), start=1):
        if right[0] <= left[0]:
            allowed = f"a first value above {left[0]:g}"
            raise CalcRefusal(f"{key}[{index}]", list(right), allowed)


def _check_life(table: LifeTable, index: int, life: float) -> None:
    where = f"{table.key}[{index}]"
    if life <= 0:
        raise CalcRefusal(where, list(table.points[index]), "a life above 0")
    if index and life > table.points[index - 1][1]:
        before = table.points[index - 1][1]
        raise CalcRefusal(
            where,
            list(table.points[index]),
            f"a life of {before:g} or less: hotter is never longer",
        )
