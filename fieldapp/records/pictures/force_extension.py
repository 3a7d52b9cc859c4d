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

ROWS = 24
ROW_MM, HEAD_MM, FOOT_MM = 3.3, 4.4, 3.6
LABEL_MM = 38.0
FORCE_MM = (40.0, 100.0)
EXTENSION_MM = (118.0, 162.0)
WIDTH_MM = 180.0
FORCE_APART_MM, EXTENSION_APART_MM = (2.0, 46.0), (2.0, 42.0)
FORCE_PLACES, DEPARTURE_PLACES = 1, 2
MOST_MARKS, MARK_MM = 8, 5.5
FORCE_NOTE = (
    "Shaded: the band of the round. Full dot: last round; rings: rounds before."
    " Dashed: the bar's cap."
)
NOTE = f"{FORCE_NOTE} Extension beside what the force asks for."


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
    axes = _force_axis(rows, FORCE_MM), _extension_axis(rows, EXTENSION_MM)
    for start in range(0, len(rows), ROWS):
        yield _drawing(rows[start : start + ROWS], axes)


def force_extension_apart(
    opened: Opened, picture: Mapping[str, Any]
) -> Iterator[Drawing]:
    """Draw forces and extensions as two pictures with the same rows, for a screen."""
    rows = list(_rows(opened, picture))
    axes = (
        _force_axis(rows, FORCE_APART_MM),
        _extension_axis(rows, EXTENSION_APART_MM),
    )
    for start in range(0, len(rows), ROWS):
        yield from _apart(rows[start : start + ROWS], *axes)


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


def _force_axis(rows: list[BarRow], ends: tuple[float, float]) -> Axis:
    values = [force for row in rows for _, force in row.forces]
    values += [row.numbers[n] for row in rows for n in ("low", "high", "cap")
               if n in row.numbers]  # fmt: skip
    high = max(values, default=1)
    return Axis(low=0, high=high * 21 // 20, left=ends[0], right=ends[1])


def _extension_axis(rows: list[BarRow], ends: tuple[float, float]) -> Axis:
    values = [
        value + row.numbers.get(side, 0)
        for row in rows
        for value in (row.extension, row.expected)
        for side in ("least_departure", "most_departure")
        if value is not None
    ]
    low, high = min(values, default=0), max(values, default=100)
    edge = max((high - low) // 10, 50)
    return Axis(low=min(low - edge, 0), high=high + edge, left=ends[0], right=ends[1])


def _drawing(rows: list[BarRow], axes: tuple[Axis, Axis]) -> Drawing:
    foot = HEAD_MM + ROW_MM * len(rows)
    force, extension = axes
    shapes = [
        word((force.left, 3.2), "Force [kN]", "strong"),
        word((extension.left, 3.2), "Extension [mm]", "strong"),
        word((extension.right + 1.5, 3.2), "read / asked", "quiet", scale=0.9),
        *_marks(force, FORCE_PLACES, foot, HEAD_MM),
        *_marks(extension, DEPARTURE_PLACES, foot, HEAD_MM),
    ]
    for number, row in enumerate(rows):
        top = HEAD_MM + ROW_MM * number
        label = fitted(row.label, LABEL_MM)
        shapes.append(word((0, top + ROW_MM / 2 + 0.8), label, "words"))
        shapes += [*_force(row, top, force), *_extended(row, top, extension)]
    return Drawing(
        title=f"Force and extension of each bar. {'; '.join(map(_told, rows))}",
        caption="Force and extension, last round of each bar",
        width_mm=WIDTH_MM,
        height_mm=foot + FOOT_MM,
        shapes=tuple(shapes),
        notes=(NOTE,),
    )


def _apart(rows: list[BarRow], force: Axis, extension: Axis) -> Iterator[Drawing]:
    foot = SLIM_ROW_MM * len(rows)
    forces: list[Shape] = [*_marks(force, FORCE_PLACES, foot, 0)]
    extensions: list[Shape] = [*_marks(extension, DEPARTURE_PLACES, foot, 0)]
    for number, row in enumerate(rows):
        top = SLIM_ROW_MM * number
        label = word((0, top + 2.8), fitted(row.label, SLIM_MM), "words")
        forces += [label, *_force(row, top + SLIM_ROW_MM - ROW_MM, force)]
        extensions += [label, *_extended(row, top + SLIM_ROW_MM - ROW_MM, extension)]
    told = "; ".join(f"{row.label}, round {row.round}: {_forced(row)}" for row in rows)
    caption = "Force in the last round of each bar [kN]"
    yield _slim(f"Force of each bar. {told}", caption, forces, foot, FORCE_NOTE)
    told = "; ".join(f"{row.label}: {_lengthened(row)}" for row in rows)
    caption = "Extension in the last round of each bar [mm]"
    note = "Shaded: what the force allows. Beside it: read / asked."
    yield _slim(f"Extension of each bar. {told}", caption, extensions, foot, note)


def _slim(
    title: str, caption: str, shapes: list[Shape], foot: float, note: str
) -> Drawing:
    return Drawing(
        title=title,
        caption=caption,
        width_mm=SLIM_MM,
        height_mm=foot + FOOT_MM,
        shapes=tuple(shapes),
        notes=(note,),
    )


def _told(row: BarRow) -> str:
    return f"{row.label}, round {row.round}: {_forced(row)}, {_lengthened(row)}"


def _forced(row: BarRow) -> str:
    return figure(row.forces[-1][1], FORCE_PLACES, "kN") if row.forces else "no force"


def _lengthened(row: BarRow) -> str:
    if row.extension is None:
        return "no extension"
    return figure(row.extension, DEPARTURE_PLACES, "mm")


def _marks(axis: Axis, places: int, foot: float, head: float) -> Iterator[Shape]:
    steps = (10**places * each for each in (1, 2, 5, 10, 20, 50, 100, 200, 500))
    most = min(MOST_MARKS, (axis.right - axis.left) / MARK_MM)
    step = next((s for s in steps if (axis.high - axis.low) / s <= most), 10**5)
    for value in range(-(-axis.low // step) * step, axis.high + 1, step):
        x = axis.at(value)
        yield stroke((x, head), (x, foot), "grid")
        text = figure(value // 10**places)
        yield word((x, foot + 3), text, "quiet", "middle", 0.85)


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
