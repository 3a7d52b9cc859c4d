"""A drawing as plain data: strokes, dots, arrows and words in the sheet's own units.

Text, page and paper draw the same primitives. Kinds say what a stroke means, never
how it looks: "outline", "void", "axis", "curve", "limit".
"""

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line through points; closed where the last joins the first."""

    points: tuple[Point, ...]
    kind: str = "outline"
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """A marked place with a word beside it."""

    at: Point
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow:
    """A direction counted positive, or a force."""

    start: Point
    end: Point
    label: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A drawing; x to the right and y up, both at one scale where it is geometry."""

    caption: str
    strokes: tuple[Stroke, ...] = ()
    dots: tuple[Dot, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    notes: tuple[str, ...] = ()
    one_scale: bool = True


def corners_of(sketch: Sketch) -> tuple[Point, Point]:
    """Least and greatest x and y of everything drawn."""
    points = [point for stroke in sketch.strokes for point in stroke.points]
    points += [dot.at for dot in sketch.dots]
    points += [end for arrow in sketch.arrows for end in (arrow.start, arrow.end)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def axes(origin: Point, size: float) -> tuple[Arrow, Arrow]:
    """The positive directions of x and y at a place."""
    x, y = origin
    return (
        Arrow(start=origin, end=(x + size, y), label="+x"),
        Arrow(start=origin, end=(x, y + size), label="+y"),
    )
