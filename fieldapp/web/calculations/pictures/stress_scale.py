"""The colours of a stress: a fill that follows the plane, its scale, its zero line.

The plane is straight, so one gradient shows it exactly. Colour repeats the sign that
the figures have; the line where the stress is nought is drawn as well.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from fieldapp.calc.joint_stress import StressPlane
from fieldapp.web.calculations.pictures.canvas import (
    Point,
    Shape,
    line,
    through,
    word,
)
from fieldapp.web.calculations.units import read

PALEST = 0.06
BAR_HEIGHT = 12.0
FLAT = 1e-9
Ends = tuple[float, float]
"""Least and greatest stress, MPa."""


def across(
    at: Callable[[Point], Point], centre: Point, plane: StressPlane, ends: Ends
) -> tuple[Point, Point]:
    """Give the places, straight up the slope, of the least and greatest stress."""
    slope = (plane.slope_x_mpa_per_m, plane.slope_y_mpa_per_m)
    steep = slope[0] ** 2 + slope[1] ** 2
    if not steep or ends[1] - ends[0] <= FLAT * max(map(abs, ends)):
        return (0.0, 0.0), (1.0, 0.0)
    parts = [(stress - plane.mean_mpa) / steep for stress in ends]
    start, end = (
        at((centre[0] + slope[0] * part, centre[1] + slope[1] * part)) for part in parts
    )
    return start, end


def gradient(name: str, along: tuple[Point, Point], ends: Ends, most: float) -> Shape:
    """Give a fill from the least stress to the greatest, between two places."""
    (x1, y1), (x2, y2) = along
    least, greatest = ends
    stops = [_stop(0.0, least, most)]
    if least < 0 < greatest:
        nought = least / (least - greatest)
        stops += [_stop(nought, -0.0, most, "pull"), _stop(nought, 0.0, most, "press")]
    stops.append(_stop(1.0, greatest, most))
    numbers = (("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2))
    place = (("id", name), ("gradientUnits", "userSpaceOnUse"))
    return Shape(
        tag="linearGradient",
        place=(*place, *((key, f"{value:.1f}") for key, value in numbers)),
        inside=tuple(stops),
    )


def scale_bar(
    name: str, ends: Ends, most: float, at: Point, wide: float
) -> Iterator[Shape]:
    """Draw the scale from the least to the greatest stress, with nought on it."""
    x, y = at
    yield gradient(name, ((x, y), (x + wide, y)), ends, most)
    corners = [(x, y), (x + wide, y), (x + wide, y + BAR_HEIGHT), (x, y + BAR_HEIGHT)]
    yield through([corners], "bare", closed=True, fill=f"url(#{name})")
    for place, stress, anchor in (
        (x, ends[0], "start"),
        (x + wide, ends[1], "end"),
    ):
        pen = "alarm" if stress < 0 else "strong"
        yield word((place, y + BAR_HEIGHT + 16), _signed(stress), pen, anchor)
    if ends[0] < 0 < ends[1]:
        nought = x - wide * ends[0] / (ends[1] - ends[0])
        yield line((nought, y - 4), (nought, y + BAR_HEIGHT + 4), "limit")
        yield word((nought, y - 8), "0", "words", "middle")


def zero_line(places: Sequence[Point], stresses: Sequence[float]) -> Iterator[Shape]:
    """Draw the line without stress through the face, where there is one.

    Places and stresses are those of the outline's corners, in its order.
    """
    found = []
    closed = [*zip(places, stresses, strict=True)]
    for (one, s1), (other, s2) in pairwise([*closed, *closed[:1]]):
        if (s1 < 0) != (s2 < 0) and s1 != s2:
            part = s1 / (s1 - s2)
            found.append(
                (
                    one[0] + (other[0] - one[0]) * part,
                    one[1] + (other[1] - one[1]) * part,
                )
            )
    # Along the line, so that a hollow outline is crossed in pairs.
    wide = max((x for x, _ in found), default=0) - min((x for x, _ in found), default=0)
    tall = max((y for _, y in found), default=0) - min((y for _, y in found), default=0)
    found.sort(key=lambda place: place[0] if wide > tall else place[1])
    for start, end in zip(found[::2], found[1::2], strict=False):
        yield line(start, end, "limit")


def _stop(offset: float, stress: float, most: float, pen: str = "") -> Shape:
    pen = pen or ("pull" if stress < 0 else "press")
    strength = max(abs(stress) / most, PALEST if stress else 0.0)
    place = (("offset", f"{offset:.4f}"), ("stop-opacity", f"{strength:.3f}"))
    return Shape(tag="stop", pen=pen, place=place)


def _signed(stress: float) -> str:
    return f"+{read(stress)}" if stress > 0 else read(stress)
