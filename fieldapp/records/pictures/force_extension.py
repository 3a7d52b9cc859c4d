"""Force and extension of every bar in its last round, against the round's bands.

Force accepts a bar, extension confirms it; both stand in one row so that an eye finds
the bar that does not fit. Figures are the kernel's and the sheet's own.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.records.figures import figure
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

ROWS = 24
ROW_MM, HEAD_MM, FOOT_MM = 3.3, 4.4, 3.6
LABEL_MM = 38.0
FORCE_MM = (40.0, 100.0)
EXTENSION_MM = (118.0, 162.0)
WIDTH_MM = 180.0
FORCE_PLACES, DEPARTURE_PLACES = 1, 2
NOTE = (
    "Shaded: the band of the round. Full dot: last round; rings: rounds before."
    " Dashed: the bar's cap. Extension beside what the force asks for."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """A range of whole numbers laid along a stretch of paper."""

    low: int
    high: int
    left: float
    right: float

    def at(self, value: float) -> float:
        """Give the place of a value on paper."""
        part = (value - self.low) / max(self.high - self.low, 1)
        return self.left + part * (self.right - self.left)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarRow:
    """A bar's last line: forces in 0.1 kN by round, extension in 0.01 mm."""

    label: str
    round: int
    forces: tuple[tuple[int, int], ...]
    numbers: Mapping[str, int]
    extension: int | None
    expected: int | None


def force_extension(opened: Opened, picture: Mapping[str, Any]) -> Iterator[Drawing]:
    """Draw the bars, at most `ROWS` a picture."""
    rows = list(_rows(opened, picture))
    if not rows:
        return
    axes = _force_axis(rows), _extension_axis(rows)
    for start in range(0, len(rows), ROWS):
        yield _drawing(opened, picture, rows[start : start + ROWS], axes)


def _rows(opened: Opened, picture: Mapping[str, Any]) -> Iterator[BarRow]:
    step = opened.raw["steps"][picture["step"]]
    read = opened.state["steps"][picture["step"]]["lines"]
    by_item: dict[str, list[dict[str, Any]]] = {}
    for line in step.get("lines", ()):
        if line["id"] in read and read[line["id"]]["status"] != "discarded":
            by_item.setdefault(line["item"], []).append(line)
    for item, lines in by_item.items():
        ordered = sorted(lines, key=lambda line: int(line["round"]))
        forces = [
            (line["round"], value_at(opened, picture["force"], _key(picture, line)))
            for line in ordered
        ]
        extension, expected = _extension(opened, picture, step, ordered[-1], read)
        yield BarRow(
            label=str(opened.items.get(item, {}).get("label", item)),
            round=ordered[-1]["round"],
            forces=tuple((r, force) for r, force in forces if force is not None),
            numbers=ordered[-1]["numbers"],
            extension=extension,
            expected=expected,
        )


def _key(picture: Mapping[str, Any], line: Mapping[str, Any]) -> str:
    return f"{picture['step']}/{line['id']}"


def _extension(
    opened: Opened,
    picture: Mapping[str, Any],
    step: Mapping[str, Any],
    line: Mapping[str, Any],
    read: Mapping[str, Any],
) -> tuple[int | None, int | None]:
    """Give the extension read and the one the force asks for, both in 0.01 mm."""
    field = next(f for f in step["fields"] if f["id"] == picture["extension"])
    value = read[line["id"]]["values"].get(field["id"])
    departure = value_at(opened, picture["departure"], _key(picture, line))
    if not isinstance(value, int) or departure is None:
        return None, None
    extension = value * int(10 ** (DEPARTURE_PLACES - field["places"]))
    return extension, extension - departure


def _force_axis(rows: list[BarRow]) -> Axis:
    values = [force for row in rows for _, force in row.forces]
    values += [row.numbers[n] for row in rows for n in ("low", "high", "cap")
               if n in row.numbers]  # fmt: skip
    high = max(values, default=1)
    return Axis(low=0, high=high * 21 // 20, left=FORCE_MM[0], right=FORCE_MM[1])


def _extension_axis(rows: list[BarRow]) -> Axis:
    values = [
        value + row.numbers.get(side, 0)
        for row in rows
        for value in (row.extension, row.expected)
        for side in ("least_departure", "most_departure")
        if value is not None
    ]
    low, high = min(values, default=0), max(values, default=100)
    edge = max((high - low) // 10, 50)
    left, right = EXTENSION_MM
    return Axis(low=min(low - edge, 0), high=high + edge, left=left, right=right)


def _drawing(
    opened: Opened,
    picture: Mapping[str, Any],
    rows: list[BarRow],
    axes: tuple[Axis, Axis],
) -> Drawing:
    height = HEAD_MM + ROW_MM * len(rows) + FOOT_MM
    shapes = [*_head(axes, HEAD_MM + ROW_MM * len(rows))]
    for number, row in enumerate(rows):
        shapes += _row(row, HEAD_MM + ROW_MM * number, axes)
    told = "; ".join(_told(row) for row in rows)
    return Drawing(
        title=f"Force and extension of each bar. {told}",
        caption="Force and extension, last round of each bar",
        width_mm=WIDTH_MM,
        height_mm=height,
        shapes=tuple(shapes),
        notes=(NOTE,),
    )


def _told(row: BarRow) -> str:
    force = figure(row.forces[-1][1], FORCE_PLACES, "kN") if row.forces else "no force"
    extension = "no extension"
    if row.extension is not None:
        extension = figure(row.extension, DEPARTURE_PLACES, "mm")
    return f"{row.label}, round {row.round}: {force}, {extension}"


def _head(axes: tuple[Axis, Axis], foot: float) -> Iterator[Shape]:
    force, extension = axes
    yield word((force.left, 3.2), "Force [kN]", "strong")
    yield word((extension.left, 3.2), "Extension [mm]", "strong")
    yield word((extension.right + 1.5, 3.2), "read / asked", "quiet", scale=0.9)
    for axis, places in ((force, FORCE_PLACES), (extension, DEPARTURE_PLACES)):
        steps = (10**places * each for each in (1, 2, 5, 10, 20, 50, 100, 200, 500))
        step = next((s for s in steps if (axis.high - axis.low) / s <= 8), 10**5)
        for value in range(-(-axis.low // step) * step, axis.high + 1, step):
            x = axis.at(value)
            yield stroke((x, HEAD_MM), (x, foot), "grid")
            text = figure(value // 10**places)
            yield word((x, foot + 3), text, "quiet", "middle", 0.85)


def _row(row: BarRow, top: float, axes: tuple[Axis, Axis]) -> Iterator[Shape]:
    middle = top + ROW_MM / 2
    yield word((0, middle + 0.8), fitted(row.label, LABEL_MM), "words")
    yield from _force(row, top, axes[0])
    yield from _extended(row, top, axes[1])


def _force(row: BarRow, top: float, axis: Axis) -> Iterator[Shape]:
    middle, numbers = top + ROW_MM / 2, row.numbers
    if "low" in numbers and "high" in numbers:
        left, right = axis.at(numbers["low"]), axis.at(numbers["high"])
        yield box((left, top + 0.5), right - left, ROW_MM - 1, "band")
    if "cap" in numbers:
        x = axis.at(numbers["cap"])
        yield stroke((x, top + 0.3), (x, top + ROW_MM - 0.3), "limit")
    yield stroke((axis.left, middle), (axis.right, middle), "grid")
    for _, force in row.forces[:-1]:
        yield dot((axis.at(force), middle), 0.65, "ring")
    if row.forces:
        force = row.forces[-1][1]
        good = numbers.get("low", force) <= force <= numbers.get("high", force)
        yield dot((axis.at(force), middle), 0.85, "dot" if good else "bad")
        pen = "words" if good else "alarm"
        text = figure(force, FORCE_PLACES) + ("" if good else " !")
        yield word((axis.right + 1.5, middle + 0.8), text, pen)


def _extended(row: BarRow, top: float, axis: Axis) -> Iterator[Shape]:
    middle = top + ROW_MM / 2
    yield stroke((axis.left, middle), (axis.right, middle), "grid")
    if row.extension is None or row.expected is None:
        yield word((axis.right + 1.5, middle + 0.8), "none", "quiet")
        return
    low = row.expected + row.numbers.get("least_departure", 0)
    high = row.expected + row.numbers.get("most_departure", 0)
    left, right = axis.at(low), axis.at(high)
    yield box((left, top + 0.5), right - left, ROW_MM - 1, "band")
    x = axis.at(row.expected)
    yield stroke((x, top + 0.6), (x, top + ROW_MM - 0.6), "thin")
    good = low <= row.extension <= high
    yield dot((axis.at(row.extension), middle), 0.85, "dot" if good else "bad")
    text = f"{figure(row.extension, 2)} / {figure(row.expected, 2)}"
    pen = "words" if good else "alarm"
    yield word((axis.right + 1.5, middle + 0.8), text, pen, scale=0.9)
