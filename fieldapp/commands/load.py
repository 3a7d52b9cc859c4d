"""`fieldapp load DIR`: checks a site's files and puts them in force.

Everything is checked before anything is changed, and every fault is told at once.
Loading changed files issues revised sheets for the subjects they touch, nothing else;
where the site names who signs its plan, they wait until it is signed. A subject begun
keeps its sheet until `fieldapp issue` names it.
"""

import argparse
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import default_data, reader_of
from fieldapp.core.canonical import canonical
from fieldapp.intake.door import Door
from fieldapp.intake.office import issue
from fieldapp.lookups.plans import (
    PlanSigned,
    Stays,
    plan_that_is_signed,
    plan_that_waits,
    staying,
)
from fieldapp.plan import SiteFaults, compile_site, read_site
from fieldapp.plan.compile import Compiled
from fieldapp.store.database import connected, read_meta


def add_parser(commands: Any) -> None:
    """Say what `load` takes."""
    parser = commands.add_parser("load", help="check a site's files, put them in force")
    parser.add_argument("folder", type=Path, metavar="DIR")
    parser.add_argument("--data", type=Path, default=default_data())
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Load the folder; gives 0."""
    site = compiled_site(chosen.folder)
    door = open_data(chosen.data)
    with connected(door.store):
        for line in put_in_force(door, site, utc_now_ms()):
            say(line)
    return 0


def compiled_site(folder: Path) -> Compiled:
    """Read, check and compile a folder. Errors: `CommandFault` with every fault."""
    if not folder.is_dir():
        raise CommandFault(f"{folder}: not a folder")
    try:
        return compile_site(read_site(folder))
    except SiteFaults as faults:
        count = len(faults.faults)
        said = f"{folder}: faults found: {count}; nothing was changed"
        raise CommandFault(f"{said}\n{faults}") from faults


def put_in_force(door: Door, site: Compiled, now: int) -> list[str]:
    """Issue what is new (connected to the store); gives lines that say what.

    Errors: `CommandFault` if the database belongs to another site.
    """
    known = read_meta(door.store, "site")
    if known not in (None, site.site_id):
        raise CommandFault(
            f"this database is of site {known}; one database is one site: found"
            f" {site.site_id}"
        )
    new = issue(
        door,
        site=site.site_id,
        document=canonical(_document(site)),
        sheets={name: canonical(sheet) for name, sheet in site.sheets.items()},
        tables=[canonical(table) for table in site.tables.values()],
        now=now,
        plan=canonical(site.plan),
    )
    said = f"{site.picture['title']}: {_sheets(len(site.sheets))}, {len(new)} new"
    return [said, *_of_plan(door), *(f"  issued {subject}" for subject in new)]


def told_staying(kept: Iterable[Stays]) -> Iterator[str]:
    """Say which subjects stay on which revision, and how that is ended."""
    last = None
    for last in kept:
        yield f"  {last.subject} stays on revision {last.revision}: begun"
    if last:
        yield (
            "  a subject begun gets its new sheet only by name: fieldapp issue"
            f" {last.subject}"
        )


def _of_plan(door: Door) -> list[str]:
    """Say whether the plan had to be signed, and what it waits for."""
    reader = reader_of(door)
    plan = plan_that_waits(reader)
    if plan is None:
        said = "  the plan is signed"
        if plan_that_is_signed(reader) is None:
            said = "  the plan asks for no signature: its sheets are issued as loaded"
        return [said, *told_staying(staying(reader))]
    parts = ", ".join(each.part for each in plan.signatures if each.entry is None)
    named = f"plan {plan.hash[:12]}, revision {plan.revision}"
    are = "is" if len(plan.new) == 1 else "are"
    held = f"{_sheets(len(plan.new))} {are} new, those in hand stay as they are"
    said = f"  {named}, waits to be signed: {parts}; {held}"
    return [said, *_of_rule(plan), *told_staying(plan.stays)]


def _of_rule(plan: PlanSigned) -> Iterator[str]:
    """Say that the rule in force governs its own change."""
    if plan.rule is None:
        return
    what = "changes who signs a plan" if plan.rule else "drops the signatures of a plan"
    yield f"  it {what}: the plan in force asks for these three first"


def _sheets(count: int) -> str:
    return "1 sheet" if count == 1 else f"{count} sheets"


def _document(site: Compiled) -> dict[str, Any]:
    people = [
        {
            "id": person.id,
            "name": person.name,
            "roles": list(person.roles),
            "organisation": person.organisation,
        }
        for person in site.people
    ]
    return {**site.picture, "people": people}
