"""Attempts that did not stand, each as the disposition that ended it found it.

They are told in full beside the attempt that stands: nothing is struck from a record.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.kinds import READINGS
from fieldapp.core.view import redoes
from fieldapp.records.acts import Act, act, local
from fieldapp.records.clocks import ClockPart, Deadline, clock_parts
from fieldapp.records.figures import span
from fieldapp.records.marks import Mark
from fieldapp.records.opened import Opened, state_before
from fieldapp.records.pictures.layout import Groups, clock_drawings, in_columns
from fieldapp.records.steps import Block, StepPart, step_blocks, step_parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """An attempt that did not stand, as the disposition that ended it found it."""

    number: int
    ended: Act
    clocks: tuple[ClockPart, ...]
    drawings: Groups
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """What ended an attempt, the state that found, and how its clocks went."""

    number: int
    by: Entry
    state: dict[str, Any]
    clocks: tuple[ClockPart, ...]


def attempts(opened: Opened) -> Iterator[Attempt]:
    """Tell the attempts before the last, each as the first to end it saw it."""
    for each in ended(opened):
        yield Attempt(
            number=each.number,
            ended=act(opened, each.by),
            clocks=each.clocks,
            drawings=in_columns(clock_drawings(opened, each.clocks)),
            blocks=step_blocks(
                part
                for part in step_parts(opened, each.state)
                if _differs(opened, each.state, part)
            ),
        )


def ended(opened: Opened) -> Iterator[Ended]:
    """Give the attempts before the last, with their clocks."""
    for number, entry in enumerate(_endings(opened), 1):
        ending = _first_to_end(opened, entry)
        state = state_before(opened, ending)
        clocks = tuple(_clocks(opened, state, ending, number))
        yield Ended(number=number, by=entry, state=state, clocks=clocks)


def _clocks(
    opened: Opened, state: dict[str, Any], ending: Entry, number: int
) -> Iterator[ClockPart]:
    """Tell an attempt's clocks with what ended each; one that goes on is told later.

    Rework ends what is judged. A deadline that raises nothing (part clean by) holds
    until what was put on is off again, and is told as that found it: contact pressure
    that came before says nothing of how the joint was parted.
    """
    taken_off = _taken_off(opened, number)
    then = opened.state if taken_off is None else state_before(opened, taken_off)
    outlasting = () if _was_off(opened, state) else then.get("outlasting", ())
    left = {(o["clock"], o["line"]): o for o in outlasting
            if o.get("attempt") == ending.attempt}  # fmt: skip
    for part in clock_parts(opened, state):
        name = f"{part.id}/{part.line_id}".removesuffix("/")
        later = opened.state["clocks"].get(name, {})
        if part.ended or later.get("start") != part.start_ms:
            outlasts = left.get((part.id, part.line_id))
            yield _ended(opened, part, ending, taken_off, outlasts)


def _ended(
    opened: Opened,
    part: ClockPart,
    ending: Entry,
    taken_off: Entry | None,
    outlasts: dict[str, Any] | None,
) -> ClockPart:
    told = outlasts["left"] if outlasts else {}
    then = "" if part.ended else _THEN
    deadlines = tuple(
        _outlasting(opened, each, told[each.id], taken_off)
        if each.id in told
        else replace(each, kept=each.kept.replace(" left", " in hand") + then)
        for each in part.deadlines
    )
    if part.ended:
        return replace(part, deadlines=deadlines)
    over = part.mark.tone == "red"
    return replace(
        part,
        ended=True,
        mark=part.mark if over else Mark(tone="grey", icon="–", word="ended"),
        until=f"rework was ordered, {local(opened, ending.at, opened.zone)}",
        deadlines=deadlines,
    )


_THEN = " when rework was ordered"


def _outlasting(
    opened: Opened, deadline: Deadline, left_ms: int, taken_off: Entry | None
) -> Deadline:
    """Tell how a deadline went that no decision ends, or that it runs on still."""
    late = left_ms < 0
    if taken_off is None:
        kept = f"over for {span(left_ms)}" if late else f"{span(left_ms)} left"
        return replace(deadline, kept=f"{kept}, nothing taken off yet")
    what = opened.words.fact("step", taken_off.step).lower()
    when = local(opened, taken_off.at, opened.zone)
    kept = f"{span(left_ms)} {'late' if late else 'in hand'}"
    return replace(deadline, kept=f"{what} {when}, {kept}")


def _was_off(opened: Opened, state: dict[str, Any]) -> bool:
    """Say whether an attempt had taken off itself what was put on."""
    steps = opened.raw["steps"].items()
    return any(s.get("again") and state["steps"][name]["lines"] for name, s in steps)


def _taken_off(opened: Opened, number: int) -> Entry | None:
    """Give the first reading, after an attempt, of what every further one begins with.

    None where nothing was taken off yet, or there is nothing to take off.
    """
    steps = {name for name, s in opened.raw["steps"].items() if s.get("again")}
    later = {entry.id for entry in _endings(opened)[number - 1 :]}
    found = (e for e in opened.entries if e.step in steps and e.kind in READINGS)
    return next((each for each in found if each.attempt in later), None)


def _differs(opened: Opened, state: dict[str, Any], part: StepPart) -> bool:
    """Say whether a step was read otherwise than in the attempt that stands."""
    then, now = state["steps"][part.id], opened.state["steps"][part.id]
    return _read(then) != _read(now)


def _read(step: dict[str, Any]) -> list[list[str]]:
    return [line["entries"] for line in step["lines"].values()]


def _endings(opened: Opened) -> list[Entry]:
    """Give the dispositions that opened the attempts after the first, in order."""
    endings: list[Entry] = []
    attempt = opened.state.get("attempt")
    while attempt is not None and attempt in opened.by_id:
        entry = opened.by_id[attempt]
        endings.append(entry)
        attempt = entry.attempt
    return endings[::-1]


def _first_to_end(opened: Opened, ending: Entry) -> Entry:
    """Give the first order of rework in an attempt: more than one may end it."""
    return next(orders_of_rework(opened, ending.attempt))


def orders_of_rework(opened: Opened, attempt: str | None) -> Iterator[Entry]:
    """Give the dispositions by which an attempt ended, those given by right alone."""
    view, index = opened.scene.view, opened.scene.view.history.graph.index
    for entry in opened.entries:
        ends = entry.kind == "disposition" and entry.attempt == attempt
        if ends and redoes(view, index[entry.id]):
            yield entry
