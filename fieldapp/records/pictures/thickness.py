"""Thickness of the film: spot readings and the mean from the kits emptied."""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.records.acts import line_label
from fieldapp.records.figures import figure
from fieldapp.records.limits import bounds
from fieldapp.records.opened import Opened, value_at
from fieldapp.records.pictures.drawing import (
    Drawing,
    Shape,
    box,
    dot,
    fitted,
    stroke,
    word,
)

WIDTH_MM, ROW_MM, HEAD_MM, FOOT_MM = 88.0, 4.2, 2.0, 4.5
LEFT_MM, RIGHT_MM, LABEL_MM = 26.0, 74.0, 25.0
PLACES = 2


def thickness(opened: Opened, picture: Mapping[str, Any]) -> Iterator[Drawing]:
    """Draw the spots in 0.01 mm, with the mean across them."""
    mean = value_at(opened, picture["mean"])
    kits = len(opened.state["steps"][picture["kits"]]["lines"])
    spots = list(_spots(opened, picture))
    if not spots and not (mean and kits):
        return
    band = _band(opened, picture)
    top = max([each[1] for each in spots] + [mean or 0, band[1]]) * 11 // 10
    height = HEAD_MM + ROW_MM * (len(spots) + 1) + FOOT_MM
    told = [f"{label} {figure(value, PLACES)} mm" for label, value in spots]
    middle = "" if mean is None else f"mean {figure(mean, PLACES)} mm, {kits} kits"
    yield Drawing(
        title="Thickness of the film: " + "; ".join([middle, *told]),
        caption="Thickness of the film [mm]",
        width_mm=WIDTH_MM,
        height_mm=height,
        shapes=tuple(_shapes(spots, mean, band, max(top, 1))),
        notes=(f"Line: {middle}. Dots: spots. Shaded: their limits.",),
    )


def _spots(opened: Opened, picture: Mapping[str, Any]) -> Iterator[tuple[str, int]]:
    if "spots" not in picture:
        return
    name, key = picture["spots"], picture["field"]
    field = _field(opened, picture)
    scale = 10 ** (PLACES - field["places"])
    for line, now in opened.state["steps"][name]["lines"].items():
        value = now["values"].get(key)
        if isinstance(value, int) and now["status"] != "discarded":
            yield line_label(opened, name, line) or "reading", int(value * scale)


def _field(opened: Opened, picture: Mapping[str, Any]) -> dict[str, Any]:
    fields = opened.raw["steps"][picture["spots"]]["fields"]
    return next(dict(each) for each in fields if each["id"] == picture["field"])


def _band(opened: Opened, picture: Mapping[str, Any]) -> tuple[int, int]:
    """Give the limits of a spot that the sheet states outright, else none (0, 0)."""
    if "spots" not in picture:
        return 0, 0
    stated = bounds(opened.raw, picture["spots"], "line")
    scale = int(10 ** (PLACES - _field(opened, picture)["places"]))
    for bound in stated.get(("field", picture["field"]), ()):
        if isinstance(bound.low, int) and isinstance(bound.high, int):
            return bound.low * scale, bound.high * scale
    return 0, 0


def _shapes(
    spots: list[tuple[str, int]], mean: int | None, band: tuple[int, int], top: int
) -> Iterator[Shape]:
    def at(value: float) -> float:
        return LEFT_MM + value / top * (RIGHT_MM - LEFT_MM)

    foot = HEAD_MM + ROW_MM * (len(spots) + 1)
    if band[1]:
        yield box((at(band[0]), HEAD_MM), at(band[1]) - at(band[0]), foot - HEAD_MM,
                  "band")  # fmt: skip
    step = next(s for s in (50, 100, 200, 500, 10**6) if top / s <= 8)
    for value in range(0, top + 1, step):
        yield stroke((at(value), HEAD_MM), (at(value), foot), "grid")
        text = figure(value // 10, 1)
        yield word((at(value), foot + 3), text, "quiet", "middle", 0.85)
    for number, (label, value) in enumerate(spots):
        middle = HEAD_MM + ROW_MM * (number + 0.5)
        good = not band[1] or band[0] <= value <= band[1]
        yield word((0, middle + 0.8), fitted(label, LABEL_MM), "words")
        yield dot((at(value), middle), 0.85, "dot" if good else "bad")
        pen = "words" if good else "alarm"
        yield word((RIGHT_MM + 2, middle + 0.8), figure(value, PLACES), pen)
    if mean is not None:
        yield stroke((at(mean), HEAD_MM - 1), (at(mean), foot), "tick")
        yield word((0, foot - ROW_MM / 2 + 0.8), "mean of the kits", "strong")
        yield word((RIGHT_MM + 2, foot - ROW_MM / 2 + 0.8), figure(mean, PLACES),
                   "strong")  # fmt: skip
