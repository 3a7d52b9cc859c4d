"""`fieldapp restore FILE`: puts a backup in force, once it has been checked.

The restored site gets a new epoch, so that every phone offers again what it holds:
what was recorded after the backup comes back from the phones. What lies in the data
folder is never deleted, only moved aside, and only when that was asked for.
"""

import argparse
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.commands import OPENING_FAULTS, CommandFault, say
from fieldapp.commands.check import BROKEN, checked, tell
from fieldapp.config import DATABASE, LOCK_FILE, SITE_KEY, default_data, held_alone
from fieldapp.signatures import read_key, write_secret
from fieldapp.store.copies import (
    archived_only,
    carry_devices,
    copy_database,
    flush,
    put_guards_back,
    take_key_out,
)
from fieldapp.store.database import begin_epoch, open_store, writing

_MOVED = (DATABASE, f"{DATABASE}-journal", SITE_KEY)


def add_parser(commands: Any) -> None:
    """Say what `restore` takes."""
    parser = commands.add_parser("restore", help="put a backup in force")
    parser.add_argument("file", type=Path, metavar="FILE")
    parser.add_argument("--data", type=Path, default=default_data())
    parser.add_argument(
        "--over", action="store_true",
        help="the folder holds a site already: move its files aside",
    )  # fmt: skip
    parser.set_defaults(run=run)


def run(chosen: argparse.Namespace) -> int:
    """Restore; gives 0, or 1 if the backup does not hold (nothing is changed then)."""
    data: Path = chosen.data
    if not chosen.file.is_file():
        raise CommandFault(f"{chosen.file}: not a file")
    there = {each.name for each in data.iterdir()} if data.is_dir() else set()
    if there - {LOCK_FILE} and not chosen.over:
        raise CommandFault(f"{data}: is not empty; another folder, or --over")
    try:
        data.mkdir(mode=0o700, parents=True, exist_ok=True)
        with held_alone(data), TemporaryDirectory(dir=data, prefix=".new-") as folder:
            return _restore(chosen, Path(folder))
    except OPENING_FAULTS as fault:
        raise CommandFault(f"{chosen.file}: {fault}") from fault


def brought_back(file: Path, folder: Path, key: Path | None) -> str:
    """Bring a backup back into an empty folder under a new epoch; gives the epoch.

    key: the site's key if the file carries none. Errors: those of opening a store,
    `CommandFault` if there is no key.
    """
    database = folder / DATABASE
    copy_database(file, database)
    carried = take_key_out(database)
    if carried is None and (key is None or not key.is_file()):
        raise CommandFault(f"{file}: carries no site key, and none is at hand")
    pem = carried.encode("ascii") if carried else key.read_bytes() if key else b""
    read_key(pem)
    write_secret(folder / SITE_KEY, pem)
    for guard in put_guards_back(database):
        say(f"the guard {guard} was gone and has been put back")
    store = open_store(database)
    with writing(store):
        return begin_epoch(store)


def _restore(chosen: argparse.Namespace, folder: Path) -> int:
    data: Path = chosen.data
    epoch = brought_back(chosen.file, folder, data / SITE_KEY)
    report, key = checked(folder / DATABASE, folder / SITE_KEY)
    tell(report, key)
    if report.faults:
        say("Nothing was changed.")
        return BROKEN
    if (data / DATABASE).exists():
        carried = carry_devices(data / DATABASE, folder / DATABASE)
        say(f"{carried} phones that the backup does not know stay known")
        for each in archived_only(data / DATABASE, folder / DATABASE):
            say(f"archived after the backup, not in force any more: {each}")
    _put_in_place(data, folder)
    say(f"restored into {data}, new epoch {epoch}: phones will offer everything again")
    return 0


def _put_in_place(data: Path, folder: Path) -> None:
    there = [data / name for name in _MOVED if (data / name).exists()]
    if there:
        aside = data / f"before-restore-{utc_now_ms()}"
        aside.mkdir(mode=0o700)
        for each in there:
            shutil.move(each, aside / each.name)
        say(f"what was there is in {aside}")
    for name in (SITE_KEY, DATABASE):
        flush(folder / name)
        (folder / name).rename(data / name)
    flush(data)
