"""Readings against the limits the sheet states for them, one row a figure.

Every row has a scale of its own, so that the band of what is allowed stands in the
same place on all of them and the eye finds the figure that leaves it. Only limits
that the sheet states as numbers, or that fold to one, are drawn.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.records.acts import line_label
from fieldapp.records.figures import figure
from fieldapp.records.limits import Bound, bound_text, bounds
from fieldapp.records.opened import Opened, bound_at
from fieldapp.records.pictures.drawing import (
    SLIM_MM,
    SLIM_ROW_MM,
    Drawing,
    Shape,
    box,
    dot,
    fitted,
    stroke,
    word,
)

WIDTH_MM, ROW_MM, HEAD_MM, FOOT_MM = 180.0, 4.4, 5.0, 1.0
LABEL_MM, VALUE_MM, LIMIT_MM = 86.0, 106.0, 144.0
SLIM_VALUE_MM, SLIM_LIMIT_MM = 15.0, 35.5
MOST_ROWS = 26


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Where a figure is drawn: the stretch, and the band of what is allowed in it."""

    left: float
    low: float
    high: float
    right: float


PAPER = Scale(left=110.0, low=118.0, high=134.0, right=142.0)
SLIM = Scale(left=16.5, low=21.0, high=29.5, right=34.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class WithinRow:
    """A figure with its limits as whole numbers, and all of it in words."""

    label: str
    value: int
    low: int | None
    high: int | None
    text: str
    limit: str

    @property
    def good(self) -> bool:
        """Say whether the figure lies within its limits."""
        low = self.low is None or self.low <= self.value
        return low and (self.high is None or self.value <= self.high)


def within(opened: Opened) -> Iterator[Drawing]:
    """Draw every reading that has a limit in numbers, at most `MOST_ROWS` a picture."""
    rows = list(_rows(opened))
    for start in range(0, len(rows), MOST_ROWS):
        yield _drawing(rows[start : start + MOST_ROWS])


def within_slim(opened: Opened) -> Iterator[Drawing]:
    """Draw the same with each label above its figure, for a narrow screen."""
    rows = list(_rows(opened))
    for start in range(0, len(rows), MOST_ROWS):
        yield _slim(rows[start : start + MOST_ROWS])


def _slim(rows: list[WithinRow]) -> Drawing:
    shapes: list[Shape] = []
    for number, row in enumerate(rows):
        top = SLIM_ROW_MM * number
        middle, pen = top + SLIM_ROW_MM - ROW_MM / 2, _pen(row)
        shapes.append(word((0, top + 2.4), fitted(row.label, SLIM_MM), "words"))
        shapes.append(word((SLIM_VALUE_MM, middle + 0.8), row.text, pen, "end"))
        shapes += _scaled(row, middle, SLIM)
        shapes.append(word((SLIM_LIMIT_MM, middle + 0.8), _limit(row), pen))
    return Drawing(
        title=f"Readings against their limits. {_told(rows)}",
        caption="Readings against their limits",
        width_mm=SLIM_MM,
        height_mm=SLIM_ROW_MM * len(rows) + FOOT_MM,
        shapes=tuple(shapes),
    )


def _drawing(rows: list[WithinRow]) -> Drawing:
    foot = HEAD_MM + ROW_MM * len(rows)
    shapes = [
        word((VALUE_MM, 3.2), "read", "quiet", "end", 0.9),
        word(((PAPER.low + PAPER.high) / 2, 3.2), "allowed", "quiet", "middle", 0.9),
        word((LIMIT_MM, 3.2), "limit", "quiet", scale=0.9),
    ]
    for number, row in enumerate(rows):
        shapes += _row(row, HEAD_MM + ROW_MM * number)
    return Drawing(
        title=f"Readings against their limits. {_told(rows)}",
        caption="Readings against their limits",
        width_mm=WIDTH_MM,
        height_mm=foot + FOOT_MM,
        shapes=tuple(shapes),
    )


def _row(row: WithinRow, top: float) -> Iterator[Shape]:
    middle, pen = top + ROW_MM / 2, _pen(row)
    yield word((0, middle + 0.8), fitted(row.label, LABEL_MM), "words")
    yield word((VALUE_MM, middle + 0.8), row.text, pen, "end")
    yield from _scaled(row, middle, PAPER)
    ending = fitted(_limit(row), WIDTH_MM - LIMIT_MM)
    yield word((LIMIT_MM, middle + 0.8), ending, pen)


def _told(rows: list[WithinRow]) -> str:
    return "; ".join(
        f"{r.label}: {r.text} ({r.limit}){'' if r.good else ', outside'}" for r in rows
    )


def _pen(row: WithinRow) -> str:
    return "words" if row.good else "alarm"


def _limit(row: WithinRow) -> str:
    return row.limit if row.good else f"{row.limit} !"


def _scaled(row: WithinRow, middle: float, scale: Scale) -> Iterator[Shape]:
    """Draw what is allowed, and where the figure lies."""
    top = middle - ROW_MM / 2
    left = scale.left if row.low is None else scale.low
    right = scale.right if row.high is None else scale.high
    yield box((left, top + 0.6), right - left, ROW_MM - 1.2, "band")
    yield stroke((scale.left, middle), (scale.right, middle), "grid")
    for x in [scale.low] * (row.low is not None) + [scale.high] * (
        row.high is not None
    ):
        yield stroke((x, top + 0.4), (x, top + ROW_MM - 0.4), "limit")
    yield dot((_place(row, scale), middle), 0.85, "dot" if row.good else "bad")


def _place(row: WithinRow, scale: Scale) -> float:
    """Give where a figure stands: the band is its unit, and the ends hold the rest."""
    left, right = scale.low, scale.high
    if row.low is not None and row.high is not None:
        width = max(row.high - row.low, 1)
        place = left + (row.value - row.low) / width * (right - left)
        if row.high == row.low == row.value:
            place = (left + right) / 2
    else:
        # One limit only: as far from it as a share of the limit, a half the band.
        edge, side = (row.low, left) if row.low is not None else (row.high, right)
        assert edge is not None, "a row has a limit"
        share = (row.value - edge) / max(abs(edge), 1)
        place = side + max(min(share, 1.0), -1.0) * (right - left) * 1.2
    return min(max(place, scale.left), scale.right)


def _rows(opened: Opened) -> Iterator[WithinRow]:
    for name in opened.raw["flow"]:
        step = opened.raw["steps"].get(name)
        if step is not None:
            yield from _of_step(opened, name, step)


def _of_step(opened: Opened, name: str, step: Mapping[str, Any]) -> Iterator[WithinRow]:
    now = opened.state["steps"][name]
    for scope in ("line", "step"):
        stated = bounds(opened.raw, name, scope)
        for field in step.get("fields", ()):
            found = stated.get(("field", field["id"]), [])
            for line, value in _read(now, field["id"]):
                yield from _merged(opened, (name, line), (field, value), found)
        for show in step.get("shows", ()):
            found = stated.get(("show", show["id"]), [])
            for line, value in _shown(now, show, scope):
                yield from _merged(opened, (name, line), (show, value), found)


def _read(now: Mapping[str, Any], field: str) -> Iterator[tuple[str, int]]:
    for line, each in now["lines"].items():
        value = each["values"].get(field)
        if isinstance(value, int) and each["status"] != "discarded":
            yield line, value


def _shown(
    now: Mapping[str, Any], show: Mapping[str, Any], scope: str
) -> Iterator[tuple[str, int]]:
    name = show["id"]
    if show["scope"] == scope == "step" and name in now["shows"]:
        yield "", now["shows"][name]
    for line, each in now["lines"].items() if show["scope"] == scope == "line" else ():
        if name in each["shows"] and each["status"] != "discarded":
            yield line, each["shows"][name]


def _where(opened: Opened, step: str, line: str, label: str) -> str:
    title = opened.words.fact("step", step)
    said = line_label(opened, step, line) if line else ""
    place = f"{title}, {said}" if said else title
    return f"{place}: {label[:1].lower()}{label[1:]}"


def _merged(
    opened: Opened,
    place: tuple[str, str],
    read: tuple[Mapping[str, Any], int],
    found: list[Bound],
) -> Iterator[WithinRow]:
    """Give one row for all limits of a figure, the tighter ones counting."""
    step, line = place
    part, value = read
    key = f"{step}/{line}" if line else ""
    lows = [bound_at(opened, each.low, key, least=True) for each in found]
    highs = [bound_at(opened, each.high, key, least=False) for each in found]
    low = max((each for each in lows if each is not None), default=None)
    high = min((each for each in highs if each is not None), default=None)
    if low is None and high is None:
        return
    places, unit = part.get("places", 0), str(part.get("unit", ""))
    limit = bound_text(Bound(about=("", ""), low=low, high=high), {}, places)
    yield WithinRow(
        label=_where(opened, step, line, str(part["label"])),
        value=value,
        low=low,
        high=high,
        text=figure(value, places, unit),
        limit=f"{limit} {unit}".rstrip(),
    )
