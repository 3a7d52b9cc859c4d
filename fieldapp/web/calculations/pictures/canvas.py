"""Shapes of a picture as plain data, drawn alike on a page and on paper.

A shape names a pen: the page's style sheet and `PENS` say how a pen looks, in both
themes and in print. A pen never carries a meaning alone; a word beside it does too.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Point = tuple[float, float]
WIDTH = 480.0
LETTER = 13.0
WIDE = 0.56
"""Mean width of a letter against its height."""
FARTHEST = 1e5
INK, SOFT, LINE, RED, BLUE, GREEN, OCHRE = (
    "#1d262c", "#56626a", "#c9c2b4", "#a3190f", "#0b4f9c", "#14602f", "#7a5600",
)  # fmt: skip

PENS = {
    "face": {"fill": "#e8e4da", "stroke": INK, "stroke-width": "1.6"},
    "bare": {"fill": "none", "stroke": INK, "stroke-width": "1.6"},
    "hole": {"fill": "#ffffff", "stroke": INK, "stroke-width": "1.2"},
    "part": {"fill": "#dfebfa", "stroke": BLUE, "stroke-width": "1.2"},
    "spare": {"fill": "#fff0c2", "stroke": OCHRE, "stroke-width": "1.2"},
    "good-band": {"fill": "#dff1e2", "stroke": "none"},
    "bad-band": {"fill": "#fbe3df", "stroke": "none"},
    "cool-band": {"fill": "#dfebfa", "stroke": "none"},
    "grid": {"fill": "none", "stroke": LINE, "stroke-width": "0.8"},
    "axis": {"fill": "none", "stroke": SOFT, "stroke-width": "1.2"},
    "curve": {"fill": "none", "stroke": BLUE, "stroke-width": "2.6"},
    "second": {"fill": "none", "stroke": OCHRE, "stroke-width": "2.4",
               "stroke-dasharray": "9 4"},
    "third": {"fill": "none", "stroke": GREEN, "stroke-width": "2.4",
              "stroke-dasharray": "2 4"},
    "ahead": {"fill": "none", "stroke": SOFT, "stroke-width": "1.4",
              "stroke-dasharray": "5 4"},
    "limit": {"fill": "none", "stroke": RED, "stroke-width": "1.8",
              "stroke-dasharray": "10 4 2 4"},
    "arrow": {"fill": "none", "stroke": INK, "stroke-width": "1.8"},
    "head": {"fill": INK, "stroke": "none"},
    "dot": {"fill": BLUE, "stroke": "#ffffff", "stroke-width": "1"},
    "dot-second": {"fill": OCHRE, "stroke": "#ffffff", "stroke-width": "1"},
    "dot-third": {"fill": GREEN, "stroke": "#ffffff", "stroke-width": "1"},
    "asked": {"fill": RED, "stroke": "#ffffff", "stroke-width": "1.2"},
    "ring": {"fill": "#ffffff", "stroke": INK, "stroke-width": "1.6"},
    "good": {"fill": GREEN, "stroke": "#ffffff", "stroke-width": "1"},
    "bad": {"fill": RED, "stroke": "#ffffff", "stroke-width": "1"},
    "words": {"fill": INK},
    "strong": {"fill": INK, "font-weight": "bold"},
    "soft": {"fill": SOFT},
    "alarm": {"fill": RED, "font-weight": "bold"},
    "press": {"stop-color": "#7fb0e6"},
    "pull": {"stop-color": "#e08a80"},
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One element: its tag, its pen, where it is, its text or what is inside it."""

    tag: str
    pen: str = ""
    place: tuple[tuple[str, str], ...] = ()
    text: str = ""
    inside: tuple["Shape", ...] = ()

    @property
    def own_fill(self) -> bool:
        """Say whether a fill of its own stands instead of the pen's."""
        return any(name == "fill" for name, _ in self.place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture; `title` and `told` are for those who cannot see it."""

    title: str
    told: str
    height: float
    shapes: tuple[Shape, ...]
    width: float = WIDTH
    notes: tuple[str, ...] = ()


def line(start: Point, end: Point, pen: str) -> Shape:
    """Draw a straight line."""
    places = zip(("x1", "y1", "x2", "y2"), (*start, *end), strict=True)
    return Shape(tag="line", pen=pen, place=_numbers(places))


def box(corner: Point, width: float, height: float, pen: str) -> Shape:
    """Draw a rectangle from its upper left corner."""
    names = ("x", "y", "width", "height")
    sizes = (*corner, max(width, 0.0), max(height, 0.0))
    return Shape(tag="rect", pen=pen, place=_numbers(zip(names, sizes, strict=True)))


def disc(middle: Point, radius: float, pen: str) -> Shape:
    """Draw a disc."""
    places = zip(("cx", "cy", "r"), (*middle, radius), strict=True)
    return Shape(tag="circle", pen=pen, place=_numbers(places))


def through(
    rings: Iterable[Sequence[Point]], pen: str, *, closed: bool = False, fill: str = ""
) -> Shape:
    """Draw lines through points; closed, a ring within a ring is a hole."""
    end = "Z" if closed else ""
    data = " ".join(
        "M" + "L".join(f"{_number(x)} {_number(y)}" for x, y in ring) + end
        for ring in rings
    )
    place = (("d", data), ("fill-rule", "evenodd"))
    return Shape(tag="path", pen=pen, place=(*place, *((("fill", fill),) * bool(fill))))


def word(at: Point, text: str, pen: str = "words", anchor: str = "start") -> Shape:
    """Set a text with its baseline at a place."""
    place = (*_numbers((("x", at[0]), ("y", at[1]))), ("text-anchor", anchor))
    return Shape(tag="text", pen=pen, place=place, text=text)


def arrow(start: Point, end: Point) -> tuple[Shape, Shape]:
    """Draw a line with a head at its end."""
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    size = min(9.0, length)
    base = (end[0] - ux * size, end[1] - uy * size)
    half = size * 0.45
    sides = ((base[0] - uy * half, base[1] + ux * half),
             (base[0] + uy * half, base[1] - ux * half))  # fmt: skip
    return (
        line(start, base, "arrow"),
        through([(end, *sides)], "head", closed=True),
    )


def within(text: str, width: float) -> str:
    """Shorten a text that a width cannot take."""
    most = max(int(width / (LETTER * WIDE)), 2)
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _numbers(pairs: Iterable[tuple[str, float]]) -> tuple[tuple[str, str], ...]:
    return tuple((name, _number(value)) for name, value in pairs)


def _number(value: float) -> str:
    # A place far outside is as good as any other; a picture must never break a page.
    kept = 0.0 if math.isnan(value) else min(max(value, -FARTHEST), FARTHEST)
    text = f"{kept:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text
