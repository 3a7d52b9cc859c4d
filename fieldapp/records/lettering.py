"""Words in pictures, set whole.

The PDF library sets every letter of a picture's text as a line of its own, and every
centred text as a form of its own: an eighth of the time of a record. Here a text is
one line at one place, which is all that our drawings ask for. Used by `pdf.py` alone.
"""

from math import inf
from typing import Any

SHIFTS = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of a text's width lies before its place, by its anchor."""
WEIGHTS = {"normal": 400, "bold": 700}


def set_words_whole() -> None:
    """Have the library set the texts of pictures by `_word`."""
    from weasyprint import svg

    svg.TAGS["text"] = _word


def _word(picture: Any, node: Any, font_size: float) -> None:
    """Set one text of a picture; its size in units of the picture."""
    from weasyprint.draw.text import draw_first_line
    from weasyprint.matrix import Matrix
    from weasyprint.svg.text import TextBox
    from weasyprint.text.line_break import split_first_line

    if not node.text:
        return
    style = _style(picture.font_config, font_size, node.get("font-weight", "normal"))
    layout, _, _, width, _, _ = split_first_line(
        node.text, style, picture.context, inf, 0
    )
    left = float(node.get("x")) - width * SHIFTS[node.get("text-anchor", "start")]
    stream = picture.stream
    stream.push_state()
    fill, stroke = picture.set_graphical_state(node, font_size)
    stream.begin_text()
    layout.reactivate(style)
    picture.fill_stroke(fill, stroke, text=True)
    place = Matrix(d=-1, e=left, f=float(node.get("y")))
    draw_first_line(stream, TextBox(layout, style), "none", "none", place)
    stream.end_text()
    stream.pop_state()


def _style(font_config: Any, font_size: float, weight: str) -> Any:
    from weasyprint.css.properties import INITIAL_VALUES
    from weasyprint.svg.text import Style

    style = Style(INITIAL_VALUES)
    style.font_config = font_config
    style["font_family"] = ["DejaVu Sans Condensed"]
    style["font_size"] = font_size
    style["font_weight"] = WEIGHTS[weight]
    return style
