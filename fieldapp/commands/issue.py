"""`fieldapp issue SUBJECT...`: gives subjects that are begun the plan's newest sheet.

A revision of the plan leaves them on the sheet they began with; this is the order to
change it. What was recorded counts on where a step reads the same; a step that differs
is to be recorded again. `--look` says which, and changes nothing. While a race runs
nothing is issued: the readings of bars under pressure would count no longer.
"""

import argparse
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import default_data, reader_of
from fieldapp.intake.door import Door
from fieldapp.intake.plans import issue_ordered
from fieldapp.lookups import folded
from fieldapp.lookups.plans import Instead, instead_of
from fieldapp.store.database import connected
from fieldapp.store.plans import sheets_in_force


def add_parser(commands: Any) -> None:
    """Say what `issue` takes."""
    parser = commands.add_parser("issue", help="give begun subjects their newest sheet")
    parser.add_argument("subjects", nargs="+", metavar="SUBJECT")
    parser.add_argument(
        "--look", action="store_true", help="only say what would differ"
    )
    parser.add_argument("--data", type=Path, default=default_data())
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Issue the sheets, or say what they would change; gives 0. All or none."""
    door = open_data(chosen.data)
    with connected(door.store):
        for line in ordered(door, chosen.subjects, utc_now_ms(), look=chosen.look):
            say(line)
    return 0


def ordered(
    door: Door, subjects: list[str], now: int, *, look: bool = False
) -> list[str]:
    """Issue the sheets in force to these subjects; gives lines that say what changed.

    Errors: `CommandFault` for a subject without a sheet in force, or, unless only
    looked at, one whose race runs; nothing is changed.
    """
    known = sheets_in_force(door.store)
    wrong = [each for each in subjects if each not in known]
    if wrong:
        raise CommandFault(
            f"{', '.join(wrong)}: no such subject in the plan in force; nothing was"
            " issued (a site loaded by an earlier version: load it again first)"
        )
    coming = {each: instead_of(reader_of(door), each) for each in subjects}
    racing = [each for each in subjects if coming[each] and _is_racing(door, each, now)]
    if racing and not look:
        raise CommandFault(
            f"{', '.join(racing)}: a race runs there by the sheet in hand; nothing was"
            " issued (wait for its end, or for what is decided after it)"
        )
    if not look:
        issue_ordered(door, subjects, now)
    return [_told(each, found, look=look) for each, found in coming.items()]


def _is_racing(door: Door, subject: str, now: int) -> bool:
    """Say whether raced work of a subject is begun, its clock runs, and more is due."""
    found = folded(reader_of(door), subject, now)
    if found is None:
        return False
    clocks, steps = found.sheet.clocks, found.state["steps"]
    runs = any(
        not state["ended"] and "other" not in clocks[name.partition("/")[0]]
        for name, state in found.state["clocks"].items()
    )
    raced = [steps[name] for name, step in found.sheet.steps.items() if step.raced]
    begun = any(each["lines"] for each in raced)
    return runs and begun and any(each["missing"] for each in raced)


def _told(subject: str, found: Instead | None, *, look: bool) -> str:
    if found is None:
        return f"{subject}: has the newest sheet already"
    done = "would get" if look else "issued"
    again = "; ".join(found.differs) or "nothing"
    return f"{subject}: {done} revision {found.revision}; reads otherwise: {again}"
