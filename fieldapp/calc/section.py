"""Area, centroid and second moments of a joint's face, voids taken out.

x to the right and y up, looking along the numbering. The two ways round of an outline
agree, and so do its properties wherever it lies: sums are taken about a point of the
section, never about a far origin.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.calc.polygon import check_section
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.rings import Point, Polygon, edges

LEAST_AREA_RATIO = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionProperties:
    """Properties about the centroid; ixy is the integral of x y over the area."""

    area_m2: float
    centroid_x_m: float
    centroid_y_m: float
    ixx_m4: float
    iyy_m4: float
    ixy_m4: float


def section_properties(
    outline: Polygon, voids: Sequence[Polygon] = ()
) -> SectionProperties:
    """Properties of an outline less its voids, coordinates in metres.

    Source: Green's theorem over the sides of a polygon (textbook); product of inertia
    with its sign. Refuses crossing outlines, and voids outside or overlapping.
    """
    check_section(outline, voids)
    origin = outline[0]
    area, x, y = _first_moments(outline, voids, origin)
    centroid = (origin[0] + x / area, origin[1] + y / area)
    ixx, iyy, ixy = _second_moments(outline, voids, centroid)
    return SectionProperties(
        area_m2=area,
        centroid_x_m=centroid[0],
        centroid_y_m=centroid[1],
        ixx_m4=ixx,
        iyy_m4=iyy,
        ixy_m4=ixy,
    )


def _first_moments(
    outline: Polygon, voids: Sequence[Polygon], origin: Point
) -> tuple[float, float, float]:
    """Area, integral of x and integral of y about an origin."""
    gross = [_ring_first(outline, origin)]
    gross += [tuple(-value for value in _ring_first(v, origin)) for v in voids]
    area, x, y = (math.fsum(values) for values in zip(*gross, strict=True))
    if area <= LEAST_AREA_RATIO * gross[0][0]:
        raise CalcRefusal(
            "voids", f"{len(voids)} leaving no area", "voids that leave some"
        )
    return area, x, y


def _second_moments(
    outline: Polygon, voids: Sequence[Polygon], centroid: Point
) -> tuple[float, float, float]:
    """Integrals of y², x² and x y about the centroid."""
    rings = [_ring_second(outline, centroid)]
    rings += [tuple(-value for value in _ring_second(v, centroid)) for v in voids]
    ixx, iyy, ixy = (math.fsum(values) for values in zip(*rings, strict=True))
    return ixx, iyy, ixy


def _ring_first(ring: Polygon, origin: Point) -> tuple[float, ...]:
    sides = _sides_about(ring, origin)
    area = math.fsum(w for *_, w in sides) / 2
    x = math.fsum((x0 + x1) * w for x0, _, x1, _, w in sides) / 6
    y = math.fsum((y0 + y1) * w for _, y0, _, y1, w in sides) / 6
    return (area, x, y) if area > 0 else (-area, -x, -y)


def _ring_second(ring: Polygon, origin: Point) -> tuple[float, ...]:
    sides = _sides_about(ring, origin)
    ixx = math.fsum((y0 * y0 + y0 * y1 + y1 * y1) * w for _, y0, _, y1, w in sides) / 12
    iyy = math.fsum((x0 * x0 + x0 * x1 + x1 * x1) * w for x0, _, x1, _, w in sides) / 12
    ixy = (
        math.fsum(
            (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * w
            for x0, y0, x1, y1, w in sides
        )
        / 24
    )
    left_handed = math.fsum(w for *_, w in sides) > 0
    return (ixx, iyy, ixy) if left_handed else (-ixx, -iyy, -ixy)


def _sides_about(
    ring: Polygon, origin: Point
) -> list[tuple[float, float, float, float, float]]:
    """Each side as x0, y0, x1, y1 from the origin, and its cross product."""
    sides = []
    for (ax, ay), (bx, by) in edges(ring):
        x0, y0 = ax - origin[0], ay - origin[1]
        x1, y1 = bx - origin[0], by - origin[1]
        sides.append((x0, y0, x1, y1, x0 * y1 - x1 * y0))
    return sides
