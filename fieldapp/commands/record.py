"""`fieldapp record SUBJECT`: prints the record of one subject, archives it, lists it.

`--pdf FILE` alone prints it as of now. `--archive` keeps it for good as the next
revision, of several subjects too or of all that are complete; `--list` tells the
revisions there are, `--revision N --pdf FILE` writes the very bytes of one of them.
"""

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.commands.archiving import archive_asked
from fieldapp.commands.paper import add_paper, write_pdf
from fieldapp.config import Running, running
from fieldapp.lookups import Reader, folded, site_picture, subjects_issued
from fieldapp.lookups.archive import archived
from fieldapp.lookups.plans import plan_that_waits
from fieldapp.records.figures import moment
from fieldapp.records.gather import print_record
from fieldapp.records.revisions import since_told
from fieldapp.store.archive import revision_bytes, revisions_of
from fieldapp.store.database import Store, connected


def add_parser(commands: Any) -> None:
    """Say what `record` takes."""
    parser = commands.add_parser(
        "record", help="print or archive the record of a subject"
    )
    parser.add_argument("subjects", nargs="*", metavar="subject")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--archive", action="store_true", help="keep it as a revision")
    what.add_argument("--list", action="store_true", help="tell its revisions")
    what.add_argument("--revision", type=int, metavar="N", help="the archived bytes")
    parser.add_argument("--account", help="whose account archives (with --archive)")
    parser.add_argument(
        "--all-complete", action="store_true", help="all complete ones, with --archive"
    )
    add_paper(parser, required=False)
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Do what was asked as of now; gives 0. Errors: `CommandFault`."""
    _must_fit(chosen)
    door = open_data(chosen.data)
    with connected(door.store):
        wired = running(door, utc_now_ms)
        for subject in chosen.subjects:
            must_be_issued(wired.reader, subject)
        if chosen.archive:
            archive_asked(wired, chosen)
        if chosen.list:
            for line in _listed(wired, chosen.subjects[0]):
                say(line)
        elif chosen.pdf and (chosen.archive or chosen.revision is not None):
            _write_revision(door.store, chosen)
        elif chosen.pdf:
            write_record(wired, chosen.subjects[0], chosen.pdf, chosen.paper)
    return 0


def _must_fit(chosen: argparse.Namespace) -> None:
    """Refuse what would otherwise be left out without a word."""
    if not (chosen.pdf or chosen.archive or chosen.list):
        raise CommandFault("--pdf FILE: where to write it; or --archive, or --list")
    for name, given in (
        ("--account NAME", chosen.account is not None),
        ("--all-complete", chosen.all_complete),
    ):
        if given and not chosen.archive:
            raise CommandFault(f"{name}: only with --archive, which was not asked for")
    if chosen.all_complete and (chosen.subjects or chosen.pdf):
        raise CommandFault("--all-complete: names no subject and writes no file")
    several = chosen.archive and not chosen.pdf
    if not chosen.all_complete and not chosen.subjects:
        raise CommandFault("which subject? name one, or --archive --all-complete")
    if len(chosen.subjects) > 1 and not several:
        raise CommandFault("one subject at a time; several only with --archive alone")


def write_record(wired: Running, subject: str, file: Path, size: str = "") -> None:
    """Write a subject's record (connected to the store). Errors: `CommandFault`."""
    must_be_issued(wired.reader, subject)
    write_pdf(file, lambda: print_record(wired.reader, subject, wired.clock(), size))


def must_be_issued(reader: Reader, subject: str) -> None:
    """Refuse a subject that has no sheet in force. Errors: `CommandFault`."""
    known = subjects_issued(reader)
    waiting = plan_that_waits(reader) if subject not in known else None
    if waiting is not None and subject in waiting.sheets:
        raise CommandFault(
            f"subject {subject}: its sheet waits; the plan has still to be signed"
        )
    if subject not in known:
        raise CommandFault(f"subject {subject}: allowed: {', '.join(known) or 'none'}")


def _listed(wired: Running, subject: str) -> Iterator[str]:
    zone = (site_picture(wired.door.store) or {}).get("zone", 0)
    for each in revisions_of(wired.door.store, subject):
        said = each.said
        yield (
            f"revision {each.revision}: {said['verdict']}, as of"
            f" {moment(said['as_of'], zone)}, archived {moment(said['at'], zone)}"
            f" by {said['account']}, {said['bytes']} bytes, SHA-256 {each.hash}"
        )
    found = folded(wired.reader, subject, wired.clock())
    assert found is not None, "a subject without a sheet was refused before"
    yield since_told(archived(wired.reader, found))


def _write_revision(store: Store, chosen: argparse.Namespace) -> None:
    subject = chosen.subjects[0]
    numbers = [each.revision for each in revisions_of(store, subject)]
    wanted = numbers[-1] if chosen.revision is None else chosen.revision
    if wanted not in numbers:
        allowed = ", ".join(map(str, numbers)) or "none is archived"
        raise CommandFault(f"--revision {wanted}: allowed: {allowed}")
    write_pdf(chosen.pdf, lambda: revision_bytes(store, subject, wanted))
