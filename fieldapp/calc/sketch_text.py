"""A sketch drawn with letters: enough to see shape, signs and where things are.

Characters are about twice as high as wide, and the scale says so.
"""

import itertools
from collections.abc import Iterator

from fieldapp.calc.figures import figure
from fieldapp.calc.sketch import Point, Sketch, corners_of

COLUMNS, ROWS = 66, 22
LEAST_SPAN = 1e-9
INK = {"outline": "#", "void": "o", "axis": ".", "curve": "*", "limit": "-"}


def drawn(sketch: Sketch) -> Iterator[str]:
    """The lines of the drawing, its caption first and its extent last."""
    yield f"  {sketch.caption}"
    canvas = Canvas(sketch)
    for stroke in sketch.strokes:
        points = (*stroke.points, *stroke.points[: 1 if stroke.closed else 0])
        for start, end in itertools.pairwise(points):
            canvas.line(start, end, INK[stroke.kind])
    for arrow in sketch.arrows:
        canvas.line(arrow.start, arrow.end, ":")
        canvas.word(arrow.end, ">" if arrow.end[0] > arrow.start[0] else "^", 0)
        canvas.word(arrow.end, arrow.label, 1)
    for dot in sketch.dots:
        canvas.word(dot.at, "@", 0)
        canvas.word(dot.at, dot.label, 1)
    yield from canvas.lines()
    low, high = corners_of(sketch)
    yield (
        f"  drawn: x {figure(low[0])} to {figure(high[0])}, "
        f"y {figure(low[1])} to {figure(high[1])}"
    )


class Canvas:
    """A grid of characters with a scale; words may run past a stroke, not the edge."""

    def __init__(self, sketch: Sketch) -> None:
        (self.left, self.foot), (right, top) = corners_of(sketch)
        width, height = _span(self.left, right), _span(self.foot, top)
        self.per_x, self.per_y = (COLUMNS - 1) / width, (ROWS - 1) / height
        if sketch.one_scale:
            self.per_x = min(self.per_x, 2 * self.per_y)
            self.per_y = self.per_x / 2
        self.rows = round(height * self.per_y) + 1
        self.cells = [[" "] * (COLUMNS + 14) for _ in range(self.rows)]

    def line(self, start: Point, end: Point, ink: str) -> None:
        """A straight line of one letter."""
        (c0, r0), (c1, r1) = self._place(start), self._place(end)
        steps = max(abs(c1 - c0), abs(r1 - r0), 1)
        for step in range(steps + 1):
            column = round(c0 + (c1 - c0) * step / steps)
            row = round(r0 + (r1 - r0) * step / steps)
            self.cells[row][column] = ink

    def word(self, at: Point, text: str, shift: int) -> None:
        """A word that begins at a place or right of it."""
        column, row = self._place(at)
        for index, letter in enumerate(text):
            if column + shift + index < len(self.cells[row]):
                self.cells[row][column + shift + index] = letter

    def lines(self) -> Iterator[str]:
        """The canvas from the top down."""
        for row in self.cells:
            yield ("    " + "".join(row)).rstrip()

    def _place(self, point: Point) -> tuple[int, int]:
        column = round((point[0] - self.left) * self.per_x)
        row = self.rows - 1 - round((point[1] - self.foot) * self.per_y)
        return column, row


def _span(low: float, high: float) -> float:
    """A width to scale by; what no stroke could show counts as one."""
    return high - low if high - low > LEAST_SPAN else 1.0
