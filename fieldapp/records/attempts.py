"""Attempts that did not stand, each as the disposition that ended it found it.

They are told in full beside the attempt that stands: nothing is struck from a record.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.records.acts import Act, act
from fieldapp.records.clocks import ClockPart, clock_parts
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


def attempts(opened: Opened) -> Iterator[Attempt]:
    """Tell the attempts before the last, each as the first to end it saw it."""
    for number, entry in enumerate(_endings(opened), 1):
        state = state_before(opened, _first_to_end(opened, entry))
        clocks = tuple(clock_parts(opened, state))
        yield Attempt(
            number=number,
            ended=act(opened, entry),
            clocks=clocks,
            drawings=in_columns(clock_drawings(opened, clocks)),
            blocks=step_blocks(
                part
                for part in step_parts(opened, state)
                if _differs(opened, state, part)
            ),
        )


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
    return next(
        entry
        for entry in opened.entries
        if entry.kind == "disposition"
        and entry.about["verdict"] == "rework"
        and entry.attempt == ending.attempt
    )
