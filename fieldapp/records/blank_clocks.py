"""The clocks of a sheet for paper: times to note, and minutes by certified table.

The minutes are those the sheet's own table states at its certified temperatures; what
lies between two is for a person to take from the shorter side, as the paper says.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.figures import figure, span

RATE_UNIT = 1_000_000_000_000_000
"""A life table holds rates in 10⁻¹⁵ of the life a millisecond (core.lives)."""
DAY_MS, MINUTE_MS, SECOND_MS = 86_400_000, 60_000, 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeTable:
    """A certified table: its clock, and for each deadline the ms by temperature."""

    title: str
    temperatures: tuple[str, ...]
    lengths: tuple[tuple[int, ...], ...]

    def times(self, place: int) -> tuple[str, ...]:
        """Give the times to one deadline, hours and minutes."""
        return tuple(_hours(each) for each in self.lengths[place])


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankClock:
    """A clock to note with its deadlines; a table for each product it may run by.

    always: for each deadline the one time it has in every table, "" where it varies;
    certified: its tables are by temperature; days: a deadline is a day off or more.
    """

    title: str
    per_line: bool
    until: str
    deadlines: tuple[str, ...]
    always: tuple[str, ...]
    certified: bool
    days: bool
    tables: tuple[LifeTable, ...]

    @property
    def varies(self) -> bool:
        """Say whether any time hangs on temperature or product."""
        return not all(self.always)


def alternatives(sheet: Sheet) -> list[list[str]]:
    """Give the steps and points of the flow, those of which one is done together.

    Such steps follow one another, each hangs on a condition, and all ask the same.
    """
    groups: list[list[str]] = []
    for name in sheet.raw["flow"]:
        if groups and _asks_same(sheet.raw["steps"], groups[-1][0], name):
            groups[-1].append(name)
        else:
            groups.append([name])
    return groups


def _asks_same(steps: Mapping[str, Any], first: str, other: str) -> bool:
    if not all("when" in steps.get(each, {}) for each in (first, other)):
        return False
    return _asked(steps, first) == _asked(steps, other)


def _asked(steps: Mapping[str, Any], name: str) -> tuple[Any, ...]:
    """Give what a step asks for and holds it to, but for its own name."""
    step = steps[name]
    fields = [{**field, "items": "", "among": ""} for field in step.get("fields", ())]
    held = [_nameless(step.get(each), name) for each in ("checks", "shows")]
    plain = [step.get(each) for each in ("lines", "photos", "series", *_TEXTS)]
    return fields, held, plain


def _nameless(part: Any, name: str) -> Any:
    if isinstance(part, Mapping):
        return {key: _nameless(inner, name) for key, inner in part.items()}
    if isinstance(part, list | tuple):
        return [_nameless(inner, name) for inner in part]
    return "" if part == name else part


_TEXTS = ("help", "caution", "source")


def blank_clocks(sheet: Sheet, group: Sequence[str]) -> Iterator[BlankClock]:
    """Give the clocks that a step, or one of its alternatives, starts."""
    alike: dict[tuple[Any, ...], list[Mapping[str, Any]]] = {}
    for clock in sheet.raw.get("clocks", ()):
        # What hangs on the other arm is not this sheet's to note.
        if clock["start"] in group and "other" not in clock:
            titles = tuple(str(ratio["title"]) for ratio in clock["ratios"])
            key = (titles, clock["until"], bool(clock.get("per_line")))
            alike.setdefault(key, []).append(clock)
    for (titles, until, per_line), clocks in alike.items():
        tables = tuple(_table(sheet, each) for each in clocks)
        yield BlankClock(
            title=str(clocks[0]["title"]).split(",")[0],
            per_line=per_line,
            until=_title(sheet.raw, until),
            deadlines=titles,
            always=tuple(_always(tables, place) for place in range(len(titles))),
            certified=any(clock.get("temps") for clock in clocks),
            days=any(_longest(each) >= DAY_MS for each in tables),
            tables=tables,
        )


def _longest(table: LifeTable) -> int:
    return max((max(each, default=0) for each in table.lengths), default=0)


def _always(tables: Sequence[LifeTable], place: int) -> str:
    told = {each for table in tables for each in table.lengths[place]}
    return span(told.pop()) if len(told) == 1 else ""


def blank_holds(sheet: Sheet, name: str) -> Iterator[str]:
    """Give the times that must pass before a step or point, to be noted as moments."""
    for hold in sheet.raw.get("holds", ()):
        if name in hold["before"]:
            after = _title(sheet.raw, hold["after"])
            yield f"{hold['title']}: {span(hold['ms'])} from “{after}”"


def _table(sheet: Sheet, clock: Mapping[str, Any]) -> LifeTable:
    table = sheet.tables[clock["table"]]
    nodes = dict(zip(table["temps"], table["rates"], strict=True))
    wanted = table["certified"]
    return LifeTable(
        title=str(clock["title"]),
        temperatures=tuple(_temperature(sheet, clock, each) for each in wanted),
        lengths=tuple(
            tuple(_ms_to(nodes[each], ratio) for each in wanted)
            for ratio in clock["ratios"]
        ),
    )


def _temperature(sheet: Sheet, clock: Mapping[str, Any], value: int) -> str:
    if not clock.get("temps"):
        return "at any temperature"
    source = clock["temps"][0]
    fields = sheet.raw["steps"][source["step"]]["fields"]
    field = next(each for each in fields if each["id"] == source["field"])
    return figure(value, field.get("places", 0), field.get("unit", ""))


def _ms_to(rate: int, ratio: Mapping[str, Any]) -> int:
    """Give the time to a deadline, cut to the minute."""
    length_ms = RATE_UNIT * ratio["num"] // (rate * ratio["den"])
    length_ms = min(length_ms, ratio.get("cap_ms", length_ms))
    # Rates are rounded up, so a life of 90 min reads some milliseconds less.
    return int((length_ms + SECOND_MS) // MINUTE_MS * MINUTE_MS)


def _hours(length_ms: int) -> str:
    hours, minutes = divmod(length_ms // MINUTE_MS, 60)
    return f"{hours}:{minutes:02d}"


def _title(raw: Mapping[str, Any], name: str) -> str:
    parts = {**raw["steps"], **raw["points"]}
    milestones = {each["id"]: each["title"] for each in raw.get("milestones", ())}
    return str(parts[name]["title"] if name in parts else milestones.get(name, name))
