"""What the commands that print have in common: size of paper, the file, the faults."""

import argparse
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from fieldapp.clock import utc_now_ms
from fieldapp.commands import CommandFault, open_data, say
from fieldapp.config import Running, default_data, running
from fieldapp.records.pages import SIZES, UnknownSize
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.store.database import connected


def add_paper(parser: argparse.ArgumentParser, *, required: bool = True) -> None:
    """Say which options every printing command takes."""
    parser.add_argument("--pdf", type=Path, required=required, metavar="FILE")
    parser.add_argument(
        "--paper", choices=tuple(SIZES), default="", help="size; the site's if left out"
    )
    parser.add_argument("--data", type=Path, default=default_data())


@contextmanager
def opened(chosen: argparse.Namespace) -> Iterator[Running]:
    """Hold the chosen data folder open to print from it. Errors: `CommandFault`."""
    door = open_data(chosen.data)
    with connected(door.store):
        yield running(door, utc_now_ms)


def write_pdf(file: Path, set_it: Callable[[], bytes | None]) -> None:
    """Set paper and write it. Errors: `CommandFault`."""
    try:
        pdf = set_it()
    except (PaperUnavailable, UnknownSize) as fault:
        raise CommandFault(str(fault)) from fault
    assert pdf is not None, "what is not there was refused before"
    try:
        file.write_bytes(pdf)
    except OSError as fault:
        raise CommandFault(f"--pdf {file}: {fault.strerror}") from fault
    say(f"{file}: {len(pdf)} bytes")
