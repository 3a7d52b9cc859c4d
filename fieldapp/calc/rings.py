"""A polygon with its sides sorted by height, so that a search looks only nearby.

It only says which sides may be near: what they do to each other is judged elsewhere.
A side that is not given is certainly farther away than the ring's reach.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Polygon = tuple[Point, ...]
Side = tuple[Point, Point]

TOUCH_RATIO = 1e-9
MOST_BANDS = 128


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A polygon's sides, and for every band of height the numbers of those in it.

    reach: metres within which two things count as touching.
    """

    points: Polygon
    sides: tuple[Side, ...]
    reach: float
    low: Point
    high: Point
    bands: tuple[tuple[int, ...], ...]


def touch_m(polygon: Polygon) -> float:
    """Distance under which two things count as touching.

    Source: a billionth of the outline, far below what can be measured.
    """
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return TOUCH_RATIO * math.hypot(max(xs) - min(xs), max(ys) - min(ys))


def edges(polygon: Polygon) -> Iterator[Side]:
    """The sides of the ring, the closing one last."""
    yield from pairwise((*polygon, polygon[0]))


def ring_of(polygon: Polygon, reach: float) -> Ring:
    """Sort a polygon's sides into bands of height."""
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    low, high = (min(xs), min(ys)), (max(xs), max(ys))
    count = min(len(polygon), MOST_BANDS)
    bands: list[list[int]] = [[] for _ in range(count)]
    sides = tuple(edges(polygon))
    for index, (a, b) in enumerate(sides):
        first = _band(min(a[1], b[1]) - reach, low, high, count)
        last = _band(max(a[1], b[1]) + reach, low, high, count)
        for band in range(first, last + 1):
            bands[band].append(index)
    return Ring(
        points=polygon,
        sides=sides,
        reach=reach,
        low=low,
        high=high,
        bands=tuple(tuple(band) for band in bands),
    )


def near_point(ring: Ring, point: Point) -> Iterator[Side]:
    """Sides at a point's height, and none if it lies above or below the ring."""
    if ring.low[1] - ring.reach <= point[1] <= ring.high[1] + ring.reach:
        band = _band(point[1], ring.low, ring.high, len(ring.bands))
        for index in ring.bands[band]:
            yield ring.sides[index]


def near_side(ring: Ring, a: Point, b: Point) -> list[int]:
    """Numbers of the ring's sides in the bands that a side passes, in order."""
    first = _band(min(a[1], b[1]) - ring.reach, ring.low, ring.high, len(ring.bands))
    last = _band(max(a[1], b[1]) + ring.reach, ring.low, ring.high, len(ring.bands))
    return sorted({index for band in ring.bands[first : last + 1] for index in band})


def rings_near(one: Ring, other: Ring) -> bool:
    """Whether the boxes around two rings come within reach."""
    return sides_near(one.low, one.high, other.low, other.high, other.reach)


def sides_near(a: Point, b: Point, c: Point, d: Point, reach: float) -> bool:
    """Whether the boxes around two sides come within reach."""
    return (
        max(a[0], b[0]) + reach >= min(c[0], d[0])
        and max(c[0], d[0]) + reach >= min(a[0], b[0])
        and max(a[1], b[1]) + reach >= min(c[1], d[1])
        and max(c[1], d[1]) + reach >= min(a[1], b[1])
    )


def _band(y: float, low: Point, high: Point, count: int) -> int:
    height = high[1] - low[1]
    part = (y - low[1]) / height if height else 0.0
    return min(max(int(part * count), 0), count - 1)
