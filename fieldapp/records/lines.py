"""The lines of one step as rows: readings, limits, who, when, and what stood before.

What is the same on every line is said once above the rows, so that the eye meets only
what differs; nothing is dropped.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.records.acts import act, line_label, local, readings, with_reading
from fieldapp.records.disputes import contradicted
from fieldapp.records.figures import computed, day, short, time_of_day, zone
from fieldapp.records.found import failed_as_read
from fieldapp.records.limits import bound_text, narrowed, of_line
from fieldapp.records.marks import Mark, mark
from fieldapp.records.opened import Opened
from fieldapp.records.wording import named, worded

SHARED_FROM = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a step: a field, or a figure computed from the readings."""

    about: tuple[str, str]
    label: str
    places: int
    measured: bool
    computed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A value as printed, with its label and the limits the sheet states for it."""

    label: str
    text: str
    limits: tuple[str, ...]
    computed: bool
    sort: str = "number"

    @property
    def named(self) -> str:
        """Give what is said before the value."""
        return named(self.label, self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line as it stands; `remarks` are (tone, text); `earlier` what stood before.

    clock: when, as short as a narrow cell wants it, by the site's clock; away: the
    zone its phone stood at, where that was another.
    """

    label: str
    cells: tuple[Cell, ...]
    when: str
    clock: str
    away: str
    who: str
    entry: str
    mark: Mark
    remarks: tuple[tuple[str, str], ...]
    earlier: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """All lines of a step: what they share, then the rows with what differs.

    heads: of the cells of each row; by: who, if it was one person throughout; marked:
    whether any line is in another state than recorded.
    """

    shared: tuple[Cell, ...]
    heads: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    by: str
    marked: bool


def lines_of(opened: Opened, name: str, now: dict[str, Any], *, dated: bool) -> Lines:
    """Tell the lines of a step; `dated` puts the day before every time."""
    columns = tuple(_columns(opened.raw["steps"][name], now))
    rows = [
        _row(opened, name, line, columns, dated=dated) for line in now["lines"].items()
    ]
    many = len(rows) >= SHARED_FROM
    shared = _shared(columns, rows) if many else ()
    kept = [place for place in range(len(columns)) if place not in shared]
    heads, cells = _set_out(rows, kept, many=many)
    people = {row.who for row in rows}
    return Lines(
        shared=tuple(rows[0].cells[place] for place in shared),
        heads=heads,
        rows=tuple(replace(r, cells=c) for r, c in zip(rows, cells, strict=True)),
        by=rows[0].who if many and len(people) == 1 else "",
        marked=any(row.mark != mark("ok", "line") for row in rows),
    )


def _columns(step: Mapping[str, Any], now: dict[str, Any]) -> Iterator[Column]:
    lines = now["lines"].values()
    used = {field for line in lines for field in line["values"]}
    shown = {show for line in lines for show in line["shows"]}
    for field in step.get("fields", ()):
        if field["id"] in used:
            measured = field["kind"] == "number"
            unit = str(field.get("unit", "")) if measured else ""
            yield Column(
                about=("field", field["id"]),
                label=_label(str(field["label"]), unit),
                places=field.get("places", 0),
                measured=measured,
                computed=False,
            )
    for show in step.get("shows", ()):
        if show["scope"] == "line" and show["id"] in shown:
            yield Column(
                about=("show", show["id"]),
                label=_label(str(show["label"]), str(show["unit"])),
                places=show["places"],
                measured=True,
                computed=True,
            )


def _label(label: str, unit: str) -> str:
    return f"{label} [{unit}]" if unit else label


def _row(
    opened: Opened,
    name: str,
    line: tuple[str, dict[str, Any]],
    columns: tuple[Column, ...],
    *,
    dated: bool,
) -> Row:
    line_id, now = line
    entry = opened.by_id[now["entry"]]
    texts = {c["id"]: str(c["text"]) for c in opened.part(name).get("checks", ())}
    failed = (
        ("red", texts.get(check) or opened.words.failure(name, line_id, check))
        for check in now["failed"]
    )
    cautions = (("yellow", texts.get(check, check)) for check in now["cautions"])
    return Row(
        label=line_label(opened, name, line_id),
        cells=tuple(_cell(opened, name, line, column) for column in columns),
        when=local(opened, now["at"], entry.zone)
        if dated or entry.zone != opened.zone
        else time_of_day(now["at"], entry.zone),
        clock=_clock(opened, now["at"], dated=dated),
        away=zone(entry.zone) if entry.zone != opened.zone else "",
        who=opened.words.fact("person", now["person"]),
        entry=short(entry.id),
        mark=mark(now["status"], "line"),
        remarks=(*failed, *cautions),
        earlier=tuple(_earlier(opened, name, line)),
    )


def _clock(opened: Opened, at: int, *, dated: bool) -> str:
    said = time_of_day(at, opened.zone)
    return f"{day(at, opened.zone).partition('-')[2]} {said}" if dated else said


def _cell(
    opened: Opened, name: str, line: tuple[str, dict[str, Any]], column: Column
) -> Cell:
    line_id, now = line
    step = opened.raw["steps"][name]
    numbers: dict[str, int] = next(
        (each["numbers"] for each in step.get("lines", ()) if each["id"] == line_id), {}
    )
    stated = narrowed(of_line(opened.raw, name, column.about, line_id), numbers)
    limits = [bound_text(bound, numbers, column.places) for bound in stated]
    return Cell(
        label=column.label,
        text=_text(opened, step, now, column),
        limits=tuple(text for text in limits if text),
        computed=column.computed,
        sort="number" if column.measured else "text",
    )


def _text(
    opened: Opened, step: dict[str, Any], now: dict[str, Any], column: Column
) -> str:
    sort, key = column.about
    if sort == "show":
        found = now["shows"].get(key)
        show = next(each for each in step["shows"] if each["id"] == key)
        return "–" if found is None else computed(found, show)
    if key not in now["values"]:
        return "–"
    field = next(each for each in step["fields"] if each["id"] == key)
    bare = {**field, "unit": ""} if column.measured else field
    return worded(bare, now["values"][key], opened.items)


def _earlier(
    opened: Opened, name: str, line: tuple[str, dict[str, Any]]
) -> Iterator[str]:
    line_id, now = line
    entries = [opened.by_id[each] for each in now["entries"]]
    added = [each for each in entries if with_reading(each, opened.by_id)]
    said = [each for each in entries if each not in added]
    for entry in said if len(said) > 1 else ():
        ending = _ending(opened, name, line_id, entry, now)
        yield f"{_stated(opened, entry, now)} ({ending})"
    for entry in added:
        told = act(opened, entry)
        yield f"{told.kind} {told.when}, {told.who.name}, {told.entry}"


def _ending(
    opened: Opened, name: str, line: str, entry: Entry, now: dict[str, Any]
) -> str:
    """Say whether a reading stands, and of one read before what it failed."""
    known = opened.scene.lines(name).get(line)
    other = known is not None and entry.id in contradicted(opened, known)
    said = ", contradicted by another phone" if other else ""
    if entry.id == now["entry"]:
        return f"stands{said}"
    failed = failed_as_read(opened.scene, name, line, entry.id)
    checks = opened.part(name).get("checks", ())
    texts = [str(each["text"]) for each in checks if each["id"] in failed]
    failure = f", failed: {' '.join(texts)}" if texts else ""
    return f"read before{said}{failure}"


def _stated(opened: Opened, entry: Entry, now: dict[str, Any]) -> str:
    """Tell an entry of a line by what it says otherwise than the line as it stands."""
    told, standing = act(opened, entry), now["values"]
    other = {n: v for n, v in entry.values.items() if standing.get(n) != v}
    what = told.text
    if entry.kind != "correction":
        what = readings(opened, replace(entry, values=other))
        alike = len(entry.values) - len(other)
        rest = "the rest as above" if what else "as above"
        what = "; ".join(text for text in (what, rest if alike else "") if text)
    return f"{told.kind} {told.when}, {told.who.name}, {told.entry}: {what}"


def _shared(columns: tuple[Column, ...], rows: Sequence[Row]) -> tuple[int, ...]:
    """Give the places of what was chosen or written the same on every line."""
    return tuple(
        place
        for place, column in enumerate(columns)
        if not column.measured and len({row.cells[place].text for row in rows}) == 1
    )


def _set_out(
    rows: Sequence[Row], kept: Sequence[int], *, many: bool
) -> tuple[tuple[tuple[str, str], ...], list[tuple[Cell, ...]]]:
    """Give heads and cells; limits that differ get a column, others go to the head."""
    heads: list[tuple[str, str]] = []
    cells: list[list[Cell]] = [[] for _ in rows]
    for place in kept:
        column = [row.cells[place] for row in rows]
        first = column[0]
        same = [t for t in first.limits if all(t in cell.limits for cell in column)]
        said = f"{first.label} ({'; '.join(same)})" if same and many else first.label
        heads.append((said, first.sort))
        rest = [[t for t in cell.limits if t not in same] for cell in column]
        for row, cell in zip(cells, column, strict=True):
            row.append(cell if not many else replace(cell, limits=()))
        if many and any(rest):
            heads.append(("its limits", "limits"))
            for row, texts in zip(cells, rest, strict=True):
                row.append(_limits("; ".join(texts)))
    return tuple(heads), [tuple(row) for row in cells]


def _limits(text: str) -> Cell:
    return Cell(label="", text=text, limits=(), computed=False, sort="limits")
