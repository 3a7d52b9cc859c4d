"""`fieldapp backup FILE`: one whole copy of a site, proved before it is called one.

The copy is taken while the site is served, restored to a place beside it, and every
signature, link and hash there is checked. Only then does it get its name; a file that
is there is never written over unless that was asked for. It carries the site's key.
"""

import argparse
import os
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fieldapp.commands import OPENING_FAULTS, CommandFault, say
from fieldapp.commands.check import BROKEN, checked, tell
from fieldapp.commands.restore import brought_back
from fieldapp.config import DATABASE, SITE_KEY, default_data
from fieldapp.store.copies import copy_database, flush, put_key_in


def add_parser(commands: Any) -> None:
    """Say what `backup` takes."""
    parser = commands.add_parser("backup", help="copy the whole site, and prove it")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--data", type=Path, default=default_data())
    parser.add_argument(
        "--replace", action="store_true", help="a file of that name may be replaced"
    )
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Make a backup; gives 0, or 1 if what was copied does not hold."""
    file: Path = chosen.file
    if file.exists() and not chosen.replace:
        raise CommandFault(f"{file}: is there already; another name, or --replace")
    if not file.parent.is_dir():
        raise CommandFault(f"{file.parent}: not a folder")
    try:
        with TemporaryDirectory(dir=file.parent, prefix=f".{file.name}-") as folder:
            return _make(chosen, Path(folder))
    except OPENING_FAULTS as fault:
        raise CommandFault(f"{file}: {fault}") from fault


def _make(chosen: argparse.Namespace, folder: Path) -> int:
    part = folder / "copy.db"
    copy_database(chosen.data / DATABASE, part)
    put_key_in(part, (chosen.data / SITE_KEY).read_text("ascii"))
    trial = folder / "trial"
    trial.mkdir(mode=0o700)
    brought_back(part, trial, None)
    report, key = checked(trial / DATABASE, trial / SITE_KEY)
    tell(report, key)
    if report.faults:
        say("No backup was made: restore an earlier one, or mend this first.")
        return BROKEN
    _give_name(part, chosen.file, chosen.replace)
    say(f"{chosen.file}: {chosen.file.stat().st_size} bytes, restored and checked")
    say("It carries the site's key: keep it where only the office can read it.")
    return 0


def _give_name(part: Path, file: Path, replace: bool) -> None:
    """Name the copy at once and whole; without `replace` only if the name is free."""
    flush(part)
    if replace:
        part.replace(file)
    else:
        os.link(part, file)
    flush(file.parent)
