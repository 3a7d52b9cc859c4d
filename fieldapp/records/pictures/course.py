"""The course of a race: every line of the raced steps against local time.

So an eye sees in which order things were done and how long they took: batches mixed,
pumped, vents shut. A step is a row; the sheet alone says which steps are raced.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fieldapp.records.acts import line_label
from fieldapp.records.figures import day, time_of_day
from fieldapp.records.opened import Opened
from fieldapp.records.pictures.drawing import (
    Drawing,
    Shape,
    dot,
    fitted,
    stroke,
    text_width_mm,
    word,
)

WIDTH_MM, ROW_MM, HEAD_MM, FOOT_MM = 180.0, 5.2, 1.0, 5.0
LEFT_MM, RIGHT_MM, LABEL_MM = 44.0, 176.0, 42.0
MINUTE_MS = 60_000
LONGEST_MS = 24 * 60 * MINUTE_MS
STEPS_MIN = (1, 2, 5, 10, 15, 30, 60, 120, 240)
FEWEST_ROWS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseRow:
    """A raced step and its lines: (moment in ms UTC, label, whether it is faulty)."""

    title: str
    marks: tuple[tuple[int, str, bool], ...]


def course(opened: Opened) -> Drawing | None:
    """Draw the raced steps of the attempt that stands; None if there are too few."""
    rows = list(_rows(opened))
    moments = [moment for row in rows for moment, _, _ in row.marks]
    if len(rows) < FEWEST_ROWS or max(moments) - min(moments) > LONGEST_MS:
        return None
    first, last = min(moments), max(moments)
    width = max(last - first, MINUTE_MS)

    def at(moment: float) -> float:
        return LEFT_MM + 2 + (moment - first) / width * (RIGHT_MM - LEFT_MM - 8)

    foot = HEAD_MM + ROW_MM * len(rows)
    shapes = [*_axis(opened.zone, at, (first, last), foot)]
    for number, row in enumerate(rows):
        shapes += _row(row, HEAD_MM + ROW_MM * number, at)
    told = "; ".join(_told(opened, row) for row in rows)
    date = day(first, opened.zone)
    return Drawing(
        title=f"Course of the work on {date}: {told}",
        caption=f"Course of the work, local time on {date}",
        width_mm=WIDTH_MM,
        height_mm=foot + FOOT_MM,
        shapes=tuple(shapes),
    )


def _rows(opened: Opened) -> Iterator[CourseRow]:
    for name in opened.raw["flow"]:
        step = opened.raw["steps"].get(name, {})
        lines = opened.state["steps"].get(name, {}).get("lines", {})
        if step.get("class") == "raced" and lines:
            marks = [
                (now["at"], _label(opened, name, line), now["status"] != "ok")
                for line, now in lines.items()
                if now["status"] != "discarded"
            ]
            if marks:
                yield CourseRow(title=str(step["title"]), marks=tuple(sorted(marks)))


def _label(opened: Opened, step: str, line: str) -> str:
    return line_label(opened, step, line) if line else ""


def _axis(
    zone: int, at: Callable[[float], float], ends: tuple[int, int], foot: float
) -> Iterator[Shape]:
    first, last = ends
    wanted = (last - first) / MINUTE_MS / 10
    step = MINUTE_MS * next((s for s in STEPS_MIN if s >= wanted), STEPS_MIN[-1])
    start = -(-(first + zone * MINUTE_MS) // step) * step
    for local in range(start, last + zone * MINUTE_MS + 1, step):
        moment = local - zone * MINUTE_MS
        yield stroke((at(moment), HEAD_MM), (at(moment), foot), "grid")
        text = time_of_day(moment, zone)
        yield word((at(moment), foot + 3.4), text, "quiet", "middle", 0.85)


def _row(row: CourseRow, top: float, at: Callable[[float], float]) -> Iterator[Shape]:
    middle = top + ROW_MM / 2
    yield word((0, middle + 0.8), fitted(row.title, LABEL_MM), "words")
    yield stroke((LEFT_MM, middle), (RIGHT_MM, middle), "grid")
    free = 0.0
    for moment, label, bad in row.marks:
        x = at(moment)
        yield dot((x, middle), 0.8, "bad" if bad else "dot")
        text = f"{label} !".strip() if bad else label
        end = x + 1.4 + text_width_mm(text, 0.8)
        # A label that would run into its neighbour or the edge is left to the tables.
        if text and x >= free and end <= WIDTH_MM and not _crowded(row, at, x, end):
            # Above the row's line, which would strike it through.
            yield word((x + 1.2, middle - 0.6), text, "alarm" if bad else "words",
                       scale=0.8)  # fmt: skip
            free = end


def _crowded(
    row: CourseRow, at: Callable[[float], float], x: float, end: float
) -> bool:
    return any(x + 0.1 < at(moment) - 0.8 < end for moment, _, _ in row.marks)


def _told(opened: Opened, row: CourseRow) -> str:
    times = [
        f"{label or 'read'} {time_of_day(moment, opened.zone)}{' (!)' if bad else ''}"
        for moment, label, bad in row.marks
    ]
    return f"{row.title}: {', '.join(times)}"
