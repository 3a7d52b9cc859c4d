"""`fieldapp import FILE`: takes in the entries a phone wrote out to a file."""

import argparse
from pathlib import Path
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import default_data
from fieldapp.intake.parcel import LARGEST_BYTES, ParcelFault, take_parcel
from fieldapp.store.database import connected


def add_parser(commands: Any) -> None:
    """Say what `import` takes."""
    parser = commands.add_parser("import", help="take in a phone's file of entries")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--data", type=Path, default=default_data())
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Take a file in and say what became of each kind of entry; gives 0."""
    raw = _bytes_of(chosen.file)
    door = open_data(chosen.data)
    with connected(door.store):
        try:
            brought = take_parcel(door, raw, utc_now_ms())
        except ParcelFault as fault:
            raise CommandFault(f"{chosen.file}: {fault}") from fault
    count = len(brought.results)
    say("1 entry" if count == 1 else f"{count} entries")
    for name, count in brought.counts.items():
        say(f"  {name}: {count}")
    return 0


def _bytes_of(file: Path) -> bytes:
    try:
        with file.open("rb") as opened:
            # One byte more than is allowed is enough to refuse the rest.
            return opened.read(LARGEST_BYTES + 1)
    except OSError as fault:
        raise CommandFault(f"{file}: {fault.strerror}") from fault
