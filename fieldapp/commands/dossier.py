"""`fieldapp dossier PIER --pdf FILE`: the records of a pier or site as one file.

It is made beside its name and gets it when it is whole: a file that could not be
finished leaves nothing behind.
"""

import argparse
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.commands.paper import add_paper
from fieldapp.config import running
from fieldapp.lookups import Reader
from fieldapp.records.dossier import UnknownPart, write_dossier
from fieldapp.records.dossier_front import Row
from fieldapp.records.pages import UnknownSize
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.store.database import connected


def add_parser(commands: Any) -> None:
    """Say what `dossier` takes."""
    parser = commands.add_parser("dossier", help="print all records as one file")
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("pier", nargs="?", default="", help="the records of one pier")
    what.add_argument("--all", action="store_true", help="the records of the site")
    add_paper(parser)
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Write the dossier as of now; gives 0. Errors: `CommandFault`."""
    door = open_data(chosen.data)
    with connected(door.store):
        reader = running(door, utc_now_ms).reader
        try:
            rows = _write(reader, chosen)
        except (PaperUnavailable, UnknownSize, UnknownPart) as fault:
            raise CommandFault(str(fault)) from fault
        except OSError as fault:
            raise CommandFault(f"--pdf {chosen.pdf}: {fault.strerror}") from fault
    for row in rows:
        note = f"; {row.note}" if row.note else ""
        say(f"page {row.first}: {row.title}, {row.verdict}, {row.told}{note}")
    last = rows[-1]
    pages, size = last.first + last.pages - 1, chosen.pdf.stat().st_size
    say(f"{chosen.pdf}: {len(rows)} records, {pages} pages, {size} bytes")
    return 0


def _write(reader: Reader, chosen: argparse.Namespace) -> tuple[Row, ...]:
    target: Path = chosen.pdf
    with TemporaryDirectory(dir=target.parent, prefix=f".{target.name}-") as folder:
        part = Path(folder) / "whole.pdf"
        with part.open("wb") as file:
            rows = write_dossier(
                reader, file, Path(folder), utc_now_ms(),
                pier=chosen.pier, size=chosen.paper,
            )  # fmt: skip
        part.replace(target)
    return rows
