"""Shapes on paper as plain data: what a template sets as SVG without computing.

Coordinates are millimetres of paper, y downwards. A pen says how a shape looks; tones
never carry a meaning alone, a word or a place always tells the same.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

Point = tuple[float, float]
Places = Iterable[Point]

LETTER_MM = 2.25
"""Height of the letters in pictures: 6.4 points."""
HALF_MM = 90.0
"""The widest picture that fits beside another."""
SLIM_MM, SLIM_ROW_MM = 62.0, 7.0
"""A picture that a narrow screen takes whole; its rows have their labels above them."""
WIDE = 0.62
"""Mean width of a letter against its height, on the wide side."""
INK, GREY, PALE = "#1b2733", "#68737d", "#d5dbe0"
RED, YELLOW, GREEN, BLUE = "#b3261e", "#8a6100", "#1f6f3d", "#1d5a94"

PENS: Mapping[str, Mapping[str, str]] = {
    "outline": {"fill": "none", "stroke": INK, "stroke-width": "0.3"},
    "hole": {"fill": "#ffffff", "stroke": INK, "stroke-width": "0.3"},
    "thin": {"fill": "none", "stroke": GREY, "stroke-width": "0.15"},
    "grid": {"fill": "none", "stroke": PALE, "stroke-width": "0.2"},
    "body": {"fill": "#eef1f3", "stroke": GREY, "stroke-width": "0.2"},
    "subject": {"fill": BLUE, "stroke": INK, "stroke-width": "0.3"},
    "mark": {"fill": "none", "stroke": RED, "stroke-width": "0.9"},
    "pointer": {"fill": RED, "stroke": "none"},
    "band": {"fill": "#dce9f4", "stroke": "none"},
    "used": {"fill": "#7ba3c8", "stroke": "none"},
    "over": {"fill": "#e3a49f", "stroke": "none"},
    "curve": {"fill": "none", "stroke": BLUE, "stroke-width": "0.6"},
    "ahead": {
        "fill": "none",
        "stroke": GREY,
        "stroke-width": "0.3",
        "stroke-dasharray": "1 0.8",
    },
    "limit": {
        "fill": "none",
        "stroke": RED,
        "stroke-width": "0.3",
        "stroke-dasharray": "1.6 0.8",
    },
    "dot": {"fill": INK, "stroke": "none"},
    "ring": {"fill": "#ffffff", "stroke": GREY, "stroke-width": "0.25"},
    "bad": {"fill": RED, "stroke": INK, "stroke-width": "0.2"},
    "tick": {"fill": "none", "stroke": INK, "stroke-width": "0.45"},
    "words": {"fill": INK},
    "strong": {"fill": INK, "font-weight": "bold"},
    "quiet": {"fill": GREY},
    "alarm": {"fill": RED, "font-weight": "bold"},
    "light": {"fill": "#ffffff", "font-weight": "bold"},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """One shape: an SVG element's name, its attributes, its text."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A picture: `title` is what a reader who cannot see it is told."""

    title: str
    caption: str
    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    notes: tuple[str, ...] = ()

    @property
    def wide(self) -> bool:
        """Say whether it takes the width of the page, not of a column."""
        return self.width_mm > HALF_MM

    @property
    def slim(self) -> bool:
        """Say whether a narrow screen takes it whole."""
        return self.width_mm <= SLIM_MM


def stroke(start: Point, end: Point, pen: str) -> Shape:
    """Draw a straight line."""
    ends = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
    return _shape("line", ends, PENS[pen])


def box(corner: Point, width_mm: float, height_mm: float, pen: str) -> Shape:
    """Draw a rectangle from its upper left corner."""
    place = {"x": corner[0], "y": corner[1], "width": width_mm, "height": height_mm}
    return _shape("rect", place, PENS[pen])


def dot(middle: Point, radius_mm: float, pen: str) -> Shape:
    """Draw a disc."""
    place = {"cx": middle[0], "cy": middle[1], "r": radius_mm}
    return _shape("circle", place, PENS[pen])


def outline(
    rings: Iterable[Places], pen: str, fill: str = "", *, closed: bool = True
) -> Shape:
    """Draw lines through points, as rings (holes left out) or open."""
    end = " Z" if closed else ""
    data = " ".join(
        "M" + " L".join(f"{_number(x)} {_number(y)}" for x, y in ring) + end
        for ring in rings
    )
    look = dict(PENS[pen]) | ({"fill": fill, "stroke": "none"} if fill else {})
    return Shape(
        tag="path",
        attributes=(("d", data), ("fill-rule", "evenodd"), *look.items()),
    )


def word(
    place: Point, text: str, pen: str = "words", anchor: str = "start", scale: float = 1
) -> Shape:
    """Set a text with its baseline at a place."""
    look = dict(PENS[pen]) | {"text-anchor": anchor}
    if scale != 1:
        look["font-size"] = _number(LETTER_MM * scale)
    shape = _shape("text", {"x": place[0], "y": place[1]}, look)
    return Shape(tag="text", attributes=shape.attributes, text=text)


def fitted(text: str, width_mm: float, scale: float = 1) -> str:
    """Shorten a text that a width cannot take; the tables have it whole."""
    most = max(int(width_mm / (LETTER_MM * WIDE * scale)), 2)
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def text_width_mm(text: str, scale: float = 1) -> float:
    """Estimate the width of a text, on the wide side."""
    return len(text) * LETTER_MM * WIDE * scale


def _shape(tag: str, place: Mapping[str, float], look: Mapping[str, str]) -> Shape:
    numbers = tuple((name, _number(value)) for name, value in place.items())
    return Shape(tag=tag, attributes=(*numbers, *look.items()))


def _number(value: float) -> str:
    # Two places are a hundredth of a millimetre, and the same text everywhere.
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
