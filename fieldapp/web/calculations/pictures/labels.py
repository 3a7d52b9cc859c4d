"""Words on a picture that do not lie on one another: the first placed stays.

What finds no room is left out of the picture; the sheet's tables have it.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from fieldapp.web.calculations.pictures.canvas import LETTER, WIDE, Point, Shape, word

Area = tuple[float, float, float, float]


@dataclass(slots=True)
class Labels:
    """The words placed so far, and the areas they and other things take."""

    width: float
    taken: list[Area] = field(default_factory=list)
    shapes: list[Shape] = field(default_factory=list)

    def keep_clear(self, middle: Point, half: float) -> None:
        """Keep words off a mark."""
        x, y = middle
        self.taken.append((x - half, y - half, x + half, y + half))

    def put(self, text: str, ways: Iterable[tuple[Point, str]], pen: str) -> bool:
        """Set words at the first place (baseline, anchor) with room for them."""
        for at, anchor in ways:
            area = _area(at, text, anchor)
            inside = area[0] >= 0 and area[2] <= self.width
            if inside and not any(_overlap(area, other) for other in self.taken):
                self.taken.append(area)
                self.shapes.append(word(at, text, pen, anchor))
                return True
        return False


def around(point: Point, away: Point, gap: float = 9.0) -> list[tuple[Point, str]]:
    """Give places around a mark, those away from a second place first."""
    x, y = point
    right = [((x + gap, y + 4.5), "start")]
    left = [((x - gap, y + 4.5), "end")]
    above, below = (x, y - gap), (x, y + gap + LETTER * 0.8)
    upright = [(above, "middle"), (below, "middle")]
    if y > away[1]:
        upright.reverse()
    corners = [((x + gap, upright[0][0][1]), "start"),
               ((x - gap, upright[0][0][1]), "end")]  # fmt: skip
    if x < away[0]:
        corners.reverse()
        return [*left, *upright, *corners, *right]
    return [*right, *upright, *corners, *left]


def _area(at: Point, text: str, anchor: str) -> Area:
    wide = len(text) * LETTER * WIDE
    left = at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    return left, at[1] - LETTER * 0.85, left + wide, at[1] + LETTER * 0.25


def _overlap(one: Area, other: Area) -> bool:
    return (
        one[0] < other[2]
        and other[0] < one[2]
        and one[1] < other[3]
        and other[1] < one[3]
    )
