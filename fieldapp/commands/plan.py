"""`fieldapp plan KIND --pdf FILE`: prints a kind's inspection and test plan."""

import argparse
from typing import Any

from fieldapp.commands import CommandFault
from fieldapp.commands.paper import add_paper, opened, write_pdf
from fieldapp.lookups import Reader, sheet_of, site_picture, subjects_issued
from fieldapp.records.plan import print_plan


def add_parser(commands: Any) -> None:
    """Say what `plan` takes."""
    parser = commands.add_parser("plan", help="print a kind's inspection and test plan")
    parser.add_argument("kind")
    parser.add_argument("--subject", default="", help="whose limits; the first if none")
    add_paper(parser)
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Write the plan; gives 0. Errors: `CommandFault`."""
    with opened(chosen) as here:
        reader = here.reader
        subject = _subject(reader, chosen.kind, chosen.subject)
        write_pdf(
            chosen.pdf, lambda: print_plan(reader, subject, here.clock(), chosen.paper)
        )
    return 0


def _subject(reader: Reader, kind: str, wanted: str) -> str:
    mine = [each for each in _in_order(reader) if _kind_of(reader, each) == kind]
    if not mine:
        kinds = sorted({_kind_of(reader, each) for each in subjects_issued(reader)})
        raise CommandFault(f"kind {kind}: allowed: {', '.join(kinds) or 'none'}")
    if wanted and wanted not in mine:
        raise CommandFault(f"--subject {wanted}: allowed: {', '.join(mine)}")
    return wanted or mine[0]


def _in_order(reader: Reader) -> list[str]:
    """Give the subjects that have a sheet, in the site's own order."""
    told = [
        each["id"] for each in (site_picture(reader.store) or {}).get("subjects", ())
    ]
    issued = subjects_issued(reader)
    return sorted(
        issued, key=lambda each: told.index(each) if each in told else len(told)
    )


def _kind_of(reader: Reader, subject: str) -> str:
    sheet = sheet_of(reader, subject)
    return str(sheet.raw["kind"]) if sheet else ""
