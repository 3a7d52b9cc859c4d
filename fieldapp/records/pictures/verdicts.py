"""The site's elevation with every joint as it stands: for the cover of a dossier.

A fill never says a thing alone: the table of contents says the same in words, and the
legend names each fill.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.records.pictures.drawing import Drawing, Shape, box, word
from fieldapp.records.pictures.elevation import (
    WIDTH_MM,
    frame_of,
    pier_shapes,
    segment_names,
    segment_shapes,
)

PENS = {
    "complete": ("subject", "complete"),
    "concession": ("used", "complete under concession"),
    "incomplete": ("band", "begun, incomplete"),
    "rejected": ("over", "rejected"),
    "": ("body", "no record in this file"),
}
"""How a joint of each verdict is filled, and the word of the legend."""
LEGEND_MM, BOX_MM, STEP_MM = 7.0, 3.0, 36.0


def verdict_elevation(
    site: Mapping[str, Any], verdicts: Mapping[str, str], title: str
) -> Drawing | None:
    """Draw the site, None without piers; verdicts: of the joints in the dossier."""
    piers = site.get("piers", ())
    if not piers:
        return None
    frame, height = frame_of(piers)
    shapes: list[Shape] = []
    for pier in piers:
        shapes += pier_shapes(frame, pier, mine=False)
        names = segment_names(frame, pier)
        for arm in pier["arms"]:
            for segment in arm["segments"]:
                pen = PENS[verdicts.get(segment.get("joint", ""), "")][0]
                name = names[segment["id"]]
                shapes += segment_shapes(frame, segment, arm["side"], pen, name)
    shapes += _legend(height + BOX_MM)
    return Drawing(
        title=title,
        caption="",
        width_mm=WIDTH_MM,
        height_mm=height + LEGEND_MM,
        shapes=tuple(shapes),
    )


def _legend(top: float) -> Iterator[Shape]:
    for number, (pen, told) in enumerate(PENS.values()):
        left = 2 + number * STEP_MM
        yield box((left, top), BOX_MM, BOX_MM, pen)
        yield word((left + BOX_MM + 1, top + BOX_MM - 0.6), told, "words", scale=0.9)
