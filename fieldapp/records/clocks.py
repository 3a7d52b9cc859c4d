"""Clocks and holds as they ran: start, end, share of the life used, deadlines.

The curve of a life goes through what the fold worked out (start, end, deadlines) and
straight between; no life is computed here.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.core.clocks import OVER_MS
from fieldapp.records.acts import line_label, local
from fieldapp.records.figures import day, share_used, span, time_of_day
from fieldapp.records.marks import Mark, mark
from fieldapp.records.opened import Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class Deadline:
    """A deadline of a clock: share of the life in ppm; `kept` says how it went."""

    id: str
    title: str
    at_ms: int
    when: str
    share_ppm: int
    capped: bool
    kept: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockPart:
    """One running of a clock; times in ms UTC and in words, share in ppm.

    steady: it runs by time alone, whatever the temperature; share_of: what `used` is
    of; until: what ended it, or would have; starts: the step that began it.
    """

    id: str
    line_id: str
    starts: str
    title: str
    line: str
    mark: Mark
    start_ms: int
    end_ms: int
    ended: bool
    used_ppm: int
    start: str
    run: str
    used: str
    share_of: str
    until: str
    alarm: str
    per_line: bool
    steady: bool
    deadlines: tuple[Deadline, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldPart:
    """A time that had to pass before a gate."""

    title: str
    until: str
    """Empty where nobody knows when it began."""
    mark: Mark
    source: str


def clock_parts(opened: Opened, state: dict[str, Any]) -> Iterator[ClockPart]:
    """Tell every clock that has started, in the order of the sheet."""
    for clock in opened.raw.get("clocks", ()):
        ran = [n for n in state["clocks"] if n.partition("/")[0] == clock["id"]]
        for name in ran:
            line = name.partition("/")[2]
            plain = _clock_part(opened, clock, line, state["clocks"][name])
            yield _cut_short(opened, clock, plain, state)


def _cut_short(
    opened: Opened, clock: dict[str, Any], part: ClockPart, state: dict[str, Any]
) -> ClockPart:
    """Say of a clock that ended before what it runs to by what it ended."""
    if not part.ended:
        return part
    if reached(clock, part.line_id, state):
        # What raises nothing (part clean by) was passed before that and missed nothing.
        deadlines = _told_anew(clock, part, state, raising=False, before=part.until)
        return replace(part, deadlines=deadlines)
    steps = state["steps"]
    began = steps[clock["start"]]["lines"].get(part.line_id, {})
    until = "it was discarded" if began.get("status") == "discarded" else ""
    for name, step in opened.raw["steps"].items() if not until else ():
        if clock["start"] in step.get("takes_off", ()) and steps[name]["lines"]:
            until = opened.words.fact("step", name).lower()
    if not until:
        return part
    over = part.mark.tone == "red"
    plain = part.mark if over else Mark(tone="grey", icon="–", word="ended")
    deadlines = _told_anew(clock, part, state, raising=True, came=False)
    return replace(part, until=until, mark=plain, deadlines=deadlines)


def reached(clock: Mapping[str, Any], line: str, state: Mapping[str, Any]) -> bool:
    """Say whether what a clock runs to has come, as against what cut it short."""
    read = state.get("steps", {}).get(clock["until"], {}).get("lines", {})
    read = {i: each for i, each in read.items() if each["status"] != "discarded"}
    there = line in read if clock.get("per_line") else bool(read)
    return clock["until"] in state.get("milestones", ()) or there


def _told_anew(
    clock: dict[str, Any],
    part: ClockPart,
    state: dict[str, Any],
    *,
    raising: bool,
    **how: Any,
) -> tuple[Deadline, ...]:
    """Tell anew of the deadlines that raise something, or of those that do not.

    how: as `kept` takes it.
    """
    left = state["clocks"][f"{part.id}/{part.line_id}".removesuffix("/")]["left"]
    told = {r["id"] for r in clock["ratios"] if bool(r.get("raises")) is raising}
    return tuple(
        replace(each, kept=kept(left[each.id], ended=True, **how))
        if each.id in told
        else each
        for each in part.deadlines
    )


def holds_back(hold: dict[str, Any], state: dict[str, Any]) -> bool:
    """Say whether a hold keeps anything waiting here: a route may not be called for."""
    steps = state["steps"]
    return any(steps.get(each, {}).get("status") != "off" for each in hold["before"])


def hold_parts(opened: Opened) -> Iterator[HoldPart]:
    """Tell every hold that has begun."""
    for hold in opened.raw.get("holds", ()):
        now = opened.state["holds"].get(hold["id"])
        if now is not None and holds_back(hold, opened.state):
            until = now.get("until")
            yield HoldPart(
                title=str(hold["title"]),
                until="" if until is None else local(opened, until, opened.zone),
                mark=mark(now["status"], "hold"),
                source=str(hold.get("source", "")),
            )


def _clock_part(
    opened: Opened, clock: dict[str, Any], line: str, now: dict[str, Any]
) -> ClockPart:
    start = now["start"]
    label = line_label(opened, clock["start"], line)
    return ClockPart(
        id=str(clock["id"]),
        line_id=line,
        starts=str(clock["start"]),
        title=str(clock["title"]),
        line=label,
        mark=mark(now["status"], "clock"),
        start_ms=start,
        end_ms=start + now["run_ms"],
        ended=bool(now["ended"]),
        used_ppm=now["used_ppm"],
        start=local(opened, start, opened.zone),
        run=span(now["run_ms"]),
        used=share_used(_used_ppm(clock, now)),
        share_of="limit" if _by_time(clock, now) else "life",
        until=opened.words.fact("name", clock["until"]).lower(),
        alarm=str(now.get("alarm", "")),
        per_line=bool(clock.get("per_line")),
        steady=not clock.get("temps"),
        deadlines=tuple(
            _deadline(opened, ratio, start + now["run_ms"], now)
            for ratio in clock["ratios"]
            if ratio["id"] in now["deadlines"]
        ),
    )


def _used_ppm(clock: dict[str, Any], now: dict[str, Any]) -> int:
    """Give the share used: of the life, or by time alone of what its deadline allows.

    A plan may say a deadline as a part of a longer life; nobody sees that life.
    """
    used, run_ms = int(now["used_ppm"]), int(now["run_ms"])
    if not _by_time(clock, now):
        return used
    (by,) = now["deadlines"].values()
    return -(-run_ms * 1_000_000 // max(int(by) - int(now["start"]), 1))


def _by_time(clock: dict[str, Any], now: dict[str, Any]) -> bool:
    return not clock.get("temps") and len(now["deadlines"]) == 1


def _deadline(
    opened: Opened, ratio: dict[str, Any], end_ms: int, now: dict[str, Any]
) -> Deadline:
    at = now["deadlines"][ratio["id"]]
    left = now["left"][ratio["id"]]
    return Deadline(
        id=str(ratio["id"]),
        title=str(ratio["title"]),
        at_ms=at,
        when=_from(opened, now["start"], at),
        share_ppm=1_000_000 * ratio["num"] // ratio["den"],
        capped="cap_ms" in ratio and at == now["start"] + ratio["cap_ms"],
        kept=kept(left, ended=bool(now["ended"])),
    )


def _from(opened: Opened, start: int, at: int) -> str:
    """Give a moment as the time alone where the clock's start names the day."""
    if day(start, opened.zone) == day(at, opened.zone):
        return time_of_day(at, opened.zone)
    return local(opened, at, opened.zone)


def kept(left_ms: int, *, ended: bool, before: str = "", came: bool = True) -> str:
    """Say how a deadline of a clock went, or what is left until it.

    before: what came instead, of a deadline that raises nothing: nothing was missed.
    came: whether what the clock runs to came; else it was not late, it was not met.
    """
    if left_ms < -OVER_MS // 2:
        return "over, as its time is not known"
    if left_ms < 0 and ended and before:
        return f"passed {span(left_ms)} before {before}"
    if left_ms < 0 and ended and not came:
        return f"not met, over for {span(left_ms)}"
    if left_ms < 0:
        return f"missed by {span(left_ms)}" if ended else f"over for {span(left_ms)}"
    return f"{span(left_ms)} in hand" if ended else f"{span(left_ms)} left"
