"""Lines of a step on a blank sheet: a table of them, or items by rounds.

Every line of the sheet is named. Lines of which none is needed, and of which there are
many, are exceptions: they are named once, with a few rows to say which.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.blank_boxes import (
    ROW_UNITS,
    field_box,
    ticks,
    unit_label,
)  # fmt: skip
from fieldapp.records.blank_targets import aims, pressures_of
from fieldapp.records.limits import bound_text, bounds, narrowed

READING_ROWS, LEAST_READINGS, MOST_READINGS = 2, 3, 12
"""Rows for what is read again and again, and how many readings they hold."""
SPARE_EXCEPTIONS = 3
MANY = 6
"""So many lines of which none is needed are named, not set out."""
LONG_HEAD = 48
"""A longer head of a column of figures is told once above the table."""
LONG_OPTION = 32
"""Longer words to tick are numbered in a table and told once above it."""
NARROW = {"number": 3, "item": 4, "text": 6, "choice": 2}
LETTERS_A_UNIT = 5
LEAST_UNITS, MOST_UNITS, TIME_UNITS = 2, 5, 2
LABEL_LINES = 2
Part = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What is printed small in a cell before anybody writes: aim, limits, ticks."""

    said: str = ""
    options: tuple[str, ...] = ()
    sort: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRow:
    """A line, its cells in the order of the table's heads."""

    label: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineTable:
    """Lines under heads (label, units), so many side by side; `told` above it."""

    heads: tuple[tuple[str, int], ...]
    rows: tuple[tuple[LineRow, ...], ...]
    across: int
    told: tuple[str, ...]

    @property
    def widths(self) -> list[int]:
        """Give the units of every column, side by side."""
        return [units for _, units in self.heads if units] * self.across


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundTable:
    """Items by rounds: heads of a round, its rows, and what each round aims at."""

    rounds: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[LineRow, ...]
    targets: tuple[tuple[str, ...], ...]
    target_heads: tuple[str, ...]


def line_table(sheet: Sheet, name: str, deadlines: Sequence[str]) -> LineTable:
    """Set a step's lines as a table; `deadlines` are noted for each of them."""
    step = sheet.raw["steps"][name]
    fields = line_fields(step)
    rows = list(_rows(sheet, name, fields, len(deadlines)))
    heads, told = [("", _label_width(rows, step))], []
    for field in fields:
        box = field_box(sheet, name, field)
        limit = f" ({box.limit})" if box.limit else ""
        long = len(box.label + limit) > LONG_HEAD
        if long and field["kind"] == "number":
            told.append(f"{box.label}{limit}.")
        elif _numbered(field):
            told.append(f"{field['label']}: {', '.join(_legend(field))}.")
        head = f"{box.label}{limit}"
        if long:
            head = box.label if len(box.label) <= LONG_OPTION else _short(field)
        heads.append((head, _width(field)))
    heads += [("Time", TIME_UNITS)] + [(each, TIME_UNITS) for each in deadlines]
    across = max(1, min(ROW_UNITS // sum(units for _, units in heads), len(rows)))
    if step.get("series"):
        rows = rows[: max(LEAST_READINGS, READING_ROWS * across)]
    if _exceptional(step):
        told.append(f"Which: {', '.join(str(e['label']) for e in step['lines'])}.")
    deep = -(-len(rows) // across)
    across = -(-len(rows) // deep)
    rows += [replace(rows[0], label="")] * (deep * across - len(rows))
    return LineTable(
        heads=tuple(heads),
        rows=tuple(tuple(rows[place::deep]) for place in range(deep)),
        across=across,
        told=tuple(told),
    )


def _short(field: Part) -> str:
    return str(field.get("unit") or field["label"])


def line_fields(step: Part) -> list[Part]:
    """Give the fields asked for on each line; what stays the same is asked once."""
    return [each for each in step.get("fields", ()) if not each.get("same")]


def round_table(sheet: Sheet, name: str) -> RoundTable | None:
    """Set lines by item and round, as a stressing sheet is; None where they are not."""
    step = sheet.raw["steps"][name]
    lines = step.get("lines", ())
    if not lines or not all("item" in each and "round" in each for each in lines):
        return None
    rounds = sorted({int(each["round"]) for each in lines})
    items = list(dict.fromkeys(str(each["item"]) for each in lines))
    placed = {(str(each["item"]), int(each["round"])): each for each in lines}
    fields = line_fields(step)
    titles = [_round_title(placed, items, each) for each in rounds]
    known = sheet.raw.get("items", {})
    rows = [
        LineRow(
            label=str(known.get(item, {}).get("label", item)),
            cells=tuple(
                _cell(sheet, name, field, placed.get((item, each), {}))
                for each in rounds
                for field in [*fields, _TIME]
            ),
        )
        for item in items
    ]
    heads, targets = pressures_of(sheet, name, dict(zip(rounds, titles, strict=True)))
    return RoundTable(
        rounds=tuple(titles),
        heads=(*(unit_label(each) for each in fields), "Time"),
        rows=tuple(rows),
        targets=targets,
        target_heads=heads,
    )


_TIME: Part = {"id": "", "kind": "time", "label": "Time"}


def _round_title(
    placed: Mapping[tuple[str, int], Part], items: Sequence[str], number: int
) -> str:
    """Give what the labels of a round have in common: "Round 1"."""
    labels = [str(placed[each, number]["label"]) for each in items
              if (each, number) in placed]  # fmt: skip
    shared = labels[0].split(", ")[0]
    alike = len(labels) > 1 and all(each.split(", ")[0] == shared for each in labels)
    return shared if alike else f"Round {number}"


def _rows(
    sheet: Sheet, name: str, fields: Sequence[Part], deadlines: int
) -> Iterator[LineRow]:
    step = sheet.raw["steps"][name]
    blank: Sequence[Part] = [{"label": "", "id": ""}]
    if step.get("series"):
        lines = [*blank] * MOST_READINGS
    elif _exceptional(step):
        lines = [*blank] * SPARE_EXCEPTIONS
    else:
        lines = list(step["lines"])
    for line in lines:
        cells = [_cell(sheet, name, field, line) for field in fields]
        cells += [Cell(sort="time")] * (1 + deadlines)
        yield LineRow(label=str(line["label"]), cells=tuple(cells))


def _cell(sheet: Sheet, name: str, field: Part, line: Part) -> Cell:
    if not line:
        return Cell()
    said = aims(field, line.get("numbers", {}))
    said += _own_limits(sheet, name, field, line)
    return Cell(
        said="; ".join(said),
        options=tuple(_ticks(field)),
        sort=str(field["kind"]),
    )


def _own_limits(sheet: Sheet, name: str, field: Part, line: Part) -> list[str]:
    """Give the limits that only this line has, or that its own numbers make."""
    numbers, places = line.get("numbers", {}), int(field.get("places", 0))
    found = [
        bound
        for scope in ("line", "step")
        for bound in bounds(sheet.raw, name, scope).get(("field", field["id"]), ())
        # What is the same on every line stands in the head.
        if (bound.line or not bound_text(bound, {}, 0))
        and bound.line in ("", line.get("id"))
    ]
    return [
        text
        for each in narrowed(found, numbers)
        if (text := bound_text(each, numbers, places))
    ]


def _exceptional(step: Part) -> bool:
    lines = step.get("lines", ())
    return len(lines) > MANY and not any(each.get("need") for each in lines)


def _numbered(field: Part) -> bool:
    labels = [str(each["label"]) for each in field.get("options", ())]
    return any(len(each) > LONG_OPTION for each in labels)


def _legend(field: Part) -> Iterator[str]:
    for number, each in enumerate(ticks(field), 1):
        yield f"☐{number} {each}"


def _ticks(field: Part) -> Iterator[str]:
    for number, each in enumerate(ticks(field), 1):
        yield str(number) if _numbered(field) else each


def _width(field: Part) -> int:
    least = NARROW.get(str(field["kind"]), LEAST_UNITS)
    if field["kind"] == "choice" and not _numbered(field):
        longest = max(len(str(each["label"])) for each in field["options"])
        return max(least, -(-(longest + 3) // LETTERS_A_UNIT))
    return least


def _label_width(rows: Sequence[LineRow], step: Part) -> int:
    """Give the width of the lines' names; nothing where no line has one."""
    longest = max(len(each.label) for each in rows)
    if longest == 0:
        return LEAST_UNITS + 1 if _exceptional(step) else 0
    wanted = -(-longest // (LETTERS_A_UNIT * LABEL_LINES)) + 1
    return min(max(wanted, LEAST_UNITS), MOST_UNITS)


def asked_once(step: Part, rounds: RoundTable | None) -> Iterator[str]:
    """Name what is the same thing on every line, and so asked once, or once a round."""
    for field in step.get("fields", ()):
        if not field.get("same"):
            continue
        groups = dict.fromkeys(str(e.get("group", "")) for e in step.get("lines", ()))
        if any(groups):
            yield from (f"{field['label']}, {group}" for group in groups if group)
        elif rounds is None:
            yield str(field["label"])
        else:
            yield from (f"{field['label']}, {one.lower()}" for one in rounds.rounds)
