"""Whole copies of a database: made while it is served, put back, looked at.

A copy is taken through the database's own backup, so it is one moment of it whatever
others write meanwhile. A backup carries the site's key: without it nothing could be
signed after a restore, and with it the file must be kept like the key itself.
"""

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import quote

from fieldapp.store.database import (
    DISK_FAULTS,
    Store,
    StoreUnavailable,
    connected,
    open_to_read,
)
from fieldapp.store.guards import guards, missing_guards

_KEY = "site_key"


def copy_database(source: Path, target: Path) -> None:
    """Copy a database as it is at one moment into a new file, for its owner only.

    Those who write wait while it is copied. Errors: `StoreUnavailable`,
    `FileExistsError` if the target is there.
    """
    os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
    try:
        with closing(_raw(source)) as old, closing(_raw(target)) as new:
            old.backup(new)
    except sqlite3.Error as fault:
        raise StoreUnavailable(f"{source}: {fault}") from fault
    flush(target)


def put_key_in(path: Path, pem: str) -> None:
    """Put the site's key into a copy, so that the copy is whole."""
    with closing(_raw(path)) as raw, raw:
        raw.execute("INSERT INTO meta (name, value) VALUES (?, ?)", (_KEY, pem))
    flush(path)


def key_in(store: Store) -> str | None:
    """Give the site's key (PEM) that a backup carries, or None."""
    asked = "SELECT value FROM meta WHERE name = ?"
    row = store.database.execute_sql(asked, (_KEY,)).fetchone()
    return str(row[0]) if row else None


def take_key_out(path: Path) -> str | None:
    """Take the site's key out of a copy, leaving no trace of it; gives it, or None."""
    with closing(_raw(path)) as raw:
        raw.execute("PRAGMA secure_delete = ON")
        row = raw.execute("SELECT value FROM meta WHERE name = ?", (_KEY,)).fetchone()
        with raw:
            raw.execute("DELETE FROM meta WHERE name = ?", (_KEY,))
    return str(row[0]) if row else None


def put_guards_back(path: Path) -> list[str]:
    """Make the guards anew that a copy lacks; gives their names.

    The copy must be checked before it is used: nobody knows what was done meanwhile.
    """
    with closing(_raw(path)) as raw, raw:
        row = raw.execute("SELECT value FROM meta WHERE name = 'schema'").fetchone()
        schema = int(row[0])
        lost = missing_guards(raw.execute, schema)
        for name in lost:
            raw.execute(f"DROP TRIGGER IF EXISTS {name}")
            raw.execute(guards(schema)[name])
    return lost


def archived_only(source: Path, target: Path) -> list[str]:
    """Give the archived records that the first database has and the second has not.

    Each as its subject and revision, which may be given again in the second.
    """
    asked = "SELECT hash, subject, revision FROM revisions ORDER BY number"
    try:
        with closing(_raw(source)) as old, closing(_raw(target)) as new:
            there = {row[0] for row in new.execute(asked)}
            rows = old.execute(asked).fetchall()
    except sqlite3.Error:
        return []  # one of an earlier schema has no archive, a broken one none to read
    return [f"{s} revision {n}" for digest, s, n in rows if digest not in there]


def carry_devices(source: Path, target: Path) -> int:
    """Let phones that only the older database knows be known; gives how many.

    Only their tokens are carried: what they recorded they bring themselves. Those that
    were lost meanwhile stay shut out.
    """
    asked = "SELECT device, token, made, revoked FROM devices"
    try:
        with closing(_raw(source)) as old, closing(_raw(target)) as new, new:
            rows = old.execute(asked).fetchall()
            before = new.total_changes
            new.executemany("INSERT OR IGNORE INTO devices VALUES (?, ?, ?, ?)", rows)
            carried = new.total_changes - before
            new.executemany(
                "UPDATE devices SET revoked = ? WHERE device = ? AND revoked IS NULL",
                [(revoked, device) for device, _, _, revoked in rows if revoked],
            )
            return carried
    except sqlite3.Error:
        return 0


@contextmanager
def looked_at(path: Path) -> Iterator[Store]:
    """Open a database to be looked at, changing nothing of it.

    What a killed program left half done is undone in a copy of it.
    Errors: `StoreUnavailable`.
    """
    journal = path.with_name(path.name + "-journal")
    if not (journal.exists() and journal.stat().st_size):
        yield from _opened(path)
        return
    with TemporaryDirectory(prefix="fieldapp-") as folder:
        for each in (path, journal):
            shutil.copy(each, Path(folder) / each.name)
        with closing(_raw(Path(folder) / path.name)) as raw:
            _undo(raw)
        yield from _opened(Path(folder) / path.name)


@contextmanager
def at_one_moment(path: Path) -> Iterator[Store]:
    """Open a database as it is at one moment, though others go on writing to it.

    What is read in pieces while it grows would seem to contradict itself.
    Errors: `StoreUnavailable`.
    """
    with TemporaryDirectory(prefix="fieldapp-") as folder:
        copy_database(path, Path(folder) / path.name)
        yield from _opened(Path(folder) / path.name)


def flush(path: Path) -> None:
    """See to it that a file or folder is on the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _opened(path: Path) -> Iterator[Store]:
    store = open_to_read(path)
    with connected(store):
        yield store


def _undo(raw: sqlite3.Connection) -> None:
    try:
        raw.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()
    except DISK_FAULTS as fault:
        raise StoreUnavailable(str(fault)) from fault


def _raw(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"file:{quote(str(path))}?mode=rw", uri=True, timeout=60)
