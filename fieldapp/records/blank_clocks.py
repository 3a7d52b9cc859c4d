"""The clocks of a sheet for paper: times to note, and minutes by certified table.

The minutes are those the sheet's own table states at its certified temperatures; what
lies between two is for a person to take from the shorter side, as the paper says.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.figures import figure, span

RATE_UNIT = 1_000_000_000_000_000
"""A life table holds rates in 10⁻¹⁵ of the life a millisecond (core.lives)."""
MINUTE_MS, SECOND_MS = 60_000, 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankClock:
    """A clock to note: its deadlines, and for each temperature the minutes to them."""

    title: str
    per_line: bool
    until: str
    deadlines: tuple[str, ...]
    temperatures: tuple[str, ...]
    minutes: tuple[tuple[str, ...], ...]


def blank_clocks(sheet: Sheet, step: str) -> Iterator[BlankClock]:
    """Give the clocks that a step starts, in the order of the sheet."""
    for clock in sheet.raw.get("clocks", ()):
        if clock["start"] == step:
            yield _clock(sheet, clock)


def blank_holds(sheet: Sheet, name: str) -> Iterator[str]:
    """Give the times that must pass before a step or point, to be noted as moments."""
    for hold in sheet.raw.get("holds", ()):
        if name in hold["before"]:
            after = _title(sheet.raw, hold["after"])
            yield f"{hold['title']}: {span(hold['ms'])} from “{after}”"


def _clock(sheet: Sheet, clock: Mapping[str, Any]) -> BlankClock:
    table = sheet.tables[clock["table"]]
    nodes = dict(zip(table["temps"], table["rates"], strict=True))
    wanted = table["certified"]
    return BlankClock(
        title=str(clock["title"]),
        per_line=bool(clock.get("per_line")),
        until=_title(sheet.raw, clock["until"]),
        deadlines=tuple(str(ratio["title"]) for ratio in clock["ratios"]),
        temperatures=tuple(_temperature(sheet, clock, each) for each in wanted),
        minutes=tuple(
            tuple(_time_to(nodes[each], ratio) for each in wanted)
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


def _time_to(rate: int, ratio: Mapping[str, Any]) -> str:
    length_ms = RATE_UNIT * ratio["num"] // (rate * ratio["den"])
    length_ms = min(length_ms, ratio.get("cap_ms", length_ms))
    # Rates are rounded up, so a life of 90 min reads some milliseconds less.
    whole_ms = (length_ms + SECOND_MS) // MINUTE_MS * MINUTE_MS
    return span(whole_ms)


def _title(raw: Mapping[str, Any], name: str) -> str:
    parts = {**raw["steps"], **raw["points"]}
    milestones = {each["id"]: each["title"] for each in raw.get("milestones", ())}
    return str(parts[name]["title"] if name in parts else milestones.get(name, name))
