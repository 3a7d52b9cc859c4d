"""The corners of a face where a plane of stress has its extremes."""

from collections.abc import Sequence

from fieldapp.calc.polygon import Point


def hull(points: Sequence[Point]) -> tuple[Point, ...]:
    """Corners of the convex hull, left-handed round, without points on its sides."""
    ordered = sorted(set(points))
    below, above = _chain(ordered), _chain(ordered[::-1])
    return (*below[:-1], *above[:-1])


def _chain(points: Sequence[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
