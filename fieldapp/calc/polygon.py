"""Checking the outlines of a section before anything is integrated over them.

A polygon is a ring of points, either way round, its first point not repeated. It may
touch neither itself nor fold back; a void may touch the outline or another void, but
never lie outside or over it. Touching is judged within a billionth of the outline.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.rings import (
    Point,
    Polygon,
    Ring,
    Side,
    edges,
    near_point,
    near_side,
    ring_of,
    rings_near,
    sides_near,
    touch_m,
)

__all__ = ["MOST_POINTS", "Point", "Polygon", "check_section", "place"]

MOST_POINTS = 2_000
"""Of outline and voids together: real faces have a tenth of it, and it stays quick."""

OUTSIDE, ON_EDGE, INSIDE = -1, 0, 1


def check_section(outline: Polygon, voids: Sequence[Polygon]) -> None:
    """Refuse outlines that cross themselves and voids outside or overlapping."""
    points = len(outline) + sum(len(void) for void in voids)
    if points > MOST_POINTS:
        allowed = f"at most {MOST_POINTS} with the voids"
        raise CalcRefusal("outline", f"{points} points", allowed)
    whole = _checked(outline, "outline", touch_m(outline))
    earlier: list[Ring] = []
    for index, void in enumerate(voids):
        key = f"voids[{index}]"
        ring = _checked(void, key, whole.reach)
        if any(place(p, whole) == OUTSIDE for p in _pieces(ring, whole)):
            raise CalcRefusal(key, _listed(void), "a void inside the outline")
        for number, other in enumerate(earlier):
            if _overlap(ring, other):
                allowed = f"a void clear of voids[{number}]"
                raise CalcRefusal(key, _listed(void), allowed)
        earlier.append(ring)


def place(point: Point, ring: Ring) -> int:
    """Where a point lies: INSIDE, ON_EDGE or OUTSIDE."""
    inside = False
    for a, b in near_point(ring, point):
        if _distance(point, a, b) <= ring.reach:
            return ON_EDGE
        if (a[1] > point[1]) != (b[1] > point[1]):
            across = a[0] + (point[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            inside ^= across > point[0]
    return INSIDE if inside else OUTSIDE


def _checked(points: Polygon, key: str, reach: float) -> Ring:
    if len(points) < 3:
        raise CalcRefusal(key, _listed(points), "three points or more")
    touch = touch_m(points)
    if math.dist(points[0], points[-1]) <= touch:
        allowed = "the first point not repeated at the end"
        raise CalcRefusal(key, _listed(points), allowed)
    for index, (a, b) in enumerate(edges(points)):
        if math.dist(a, b) <= touch:
            raise CalcRefusal(f"{key}[{index + 1}]", list(b), "points that differ")
    ring = ring_of(points, max(reach, touch))
    for one, (a, b) in enumerate(ring.sides):
        for other in near_side(ring, a, b):
            if other > one and _meet(ring.sides, one, other, touch):
                places = f"side {one} meeting side {other}"
                raise CalcRefusal(key, places, "an outline that never crosses itself")
    return ring


def _meet(sides: Sequence[Side], one: int, other: int, touch: float) -> bool:
    """Whether two sides of a ring meet anywhere but in their common corner."""
    (a, b), (c, d) = sides[one], sides[other]
    if not sides_near(a, b, c, d, touch):
        return False
    if other == one + 1:
        return _folded(a, b, d, touch)
    if one == 0 and other == len(sides) - 1:
        return _folded(c, d, b, touch)
    if _cross(a, b, c, d):
        return True
    gaps = (
        _distance(a, c, d),
        _distance(b, c, d),
        _distance(c, a, b),
        _distance(d, a, b),
    )
    return min(gaps) <= touch


def _folded(a: Point, corner: Point, b: Point, touch: float) -> bool:
    """Whether the ring runs back along itself at a corner."""
    return min(_distance(b, a, corner), _distance(a, corner, b)) <= touch


def _overlap(one: Ring, other: Ring) -> bool:
    """Whether two rings share any area; a common edge alone is none."""
    return rings_near(one, other) and (
        any(place(p, other) == INSIDE for p in _pieces(one, other))
        or any(place(p, one) == INSIDE for p in _pieces(other, one))
        or place(_inner_point(one.points), other) == INSIDE
    )


def _pieces(ring: Ring, other: Ring) -> Iterator[Point]:
    """Middles of the parts into which another ring cuts the sides of a ring."""
    for a, b in ring.sides:
        shortest = 8 * other.reach / math.dist(a, b)
        for start, end in pairwise(sorted({0.0, 1.0, *_cuts(a, b, other)})):
            if end - start > shortest:
                middle = (start + end) / 2
                yield (a[0] + middle * (b[0] - a[0]), a[1] + middle * (b[1] - a[1]))


def _cuts(a: Point, b: Point, ring: Ring) -> Iterator[float]:
    """Where along a side, from 0 to 1, a ring crosses or touches it."""
    for index in near_side(ring, a, b):
        c, d = ring.sides[index]
        if not sides_near(a, b, c, d, ring.reach):
            continue
        turn = _turn(a, b, d) - _turn(a, b, c)
        if turn:
            along = _turn(c, d, a) / (_turn(c, d, a) - _turn(c, d, b) or math.inf)
            if 0 < along < 1:
                yield along
        if _distance(c, a, b) <= ring.reach:
            yield min(max(_along(c, a, b), 0.0), 1.0)


def _inner_point(ring: Polygon) -> Point:
    """A point inside a ring: half way between two sides on a level of its own."""
    levels = sorted({y for _, y in ring})
    level = max(pairwise(levels), key=lambda pair: pair[1] - pair[0])
    y = (level[0] + level[1]) / 2
    across = sorted(
        a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        for a, b in edges(ring)
        if (a[1] > y) != (b[1] > y)
    )
    return ((across[0] + across[1]) / 2, y)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two sides pass through each other, corners left out."""
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    """Twice the area of a triangle, positive where it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _along(point: Point, a: Point, b: Point) -> float:
    """Foot of a point on the line of a side, 0 at its start and 1 at its end."""
    run, rise = b[0] - a[0], b[1] - a[1]
    return ((point[0] - a[0]) * run + (point[1] - a[1]) * rise) / (run**2 + rise**2)


def _distance(point: Point, a: Point, b: Point) -> float:
    """From a point to the nearest point of a side."""
    along = min(max(_along(point, a, b), 0.0), 1.0)
    foot = (a[0] + along * (b[0] - a[0]), a[1] + along * (b[1] - a[1]))
    return math.dist(point, foot)


def _listed(ring: Polygon) -> list[list[float]]:
    return [list(point) for point in ring]
