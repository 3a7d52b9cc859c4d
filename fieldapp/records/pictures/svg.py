"""Drawings as SVG files, handed to the setting of pages apart from the text.

The text names a drawing by `name_of`; so a page of many shapes stays a short text.
"""

from collections.abc import Iterable, Iterator, Mapping
from html import escape
from itertools import groupby

from fieldapp.core.canonical import sha256_hex
from fieldapp.records.figures import short
from fieldapp.records.pictures.drawing import LETTER_MM, Drawing, Shape

LINE, WORD = "line", "text"
_ENDS = ("x1", "y1", "x2", "y2")


def images_of(drawings: Iterable[Drawing]) -> Mapping[str, bytes]:
    """Give the drawings as SVG by the names the text uses for them."""
    return {name_of(each): svg(each) for each in drawings}


def name_of(drawing: Drawing) -> str:
    """Give what the text calls a drawing: by what it shows."""
    return f"drawing:{short(sha256_hex(svg(drawing)))}"


def svg(drawing: Drawing) -> bytes:
    """Give a drawing as an SVG file, in millimetres of paper."""
    width, height = drawing.width_mm, drawing.height_mm
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" font-family="DejaVu Sans Condensed"'
        f' font-size="{LETTER_MM}">'
    )
    return "".join((head, *_elements(drawing.shapes), "</svg>")).encode()


def _elements(shapes: Iterable[Shape]) -> Iterator[str]:
    given = tuple(shapes)
    # Words lie on top anyway; without them between, most lines follow one another.
    words = [shape for shape in given if shape.tag == WORD]
    for shape in (*_joined(each for each in given if each.tag != WORD), *words):
        told = "".join(f' {n}="{escape(v)}"' for n, v in shape.attributes)
        yield f"<{shape.tag}{told}>{escape(shape.text)}</{shape.tag}>"


def _joined(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """Make one shape of lines of one pen that follow one another: each costs time."""
    for look, same in groupby(shapes, _pen_of_line):
        if look:
            places = [dict(each.attributes) for each in same]
            data = " ".join("M{x1} {y1} L{x2} {y2}".format(**at) for at in places)
            yield Shape(tag="path", attributes=(("d", data), *look))
        else:
            yield from same


def _pen_of_line(shape: Shape) -> tuple[tuple[str, str], ...]:
    if shape.tag != LINE:
        return ()
    return tuple(each for each in shape.attributes if each[0] not in _ENDS)
