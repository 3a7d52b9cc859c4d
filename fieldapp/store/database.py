"""Opens the database and guards how it is written.

Every write is one flat BEGIN IMMEDIATE: nesting would mask a full disk and commit
half a batch (decision: durability before speed, `synchronous=EXTRA`). The pragmas
are read back on every connection, since SQLite ignores what it does not understand.
A disk that fails is `StoreUnavailable`: nothing was kept and nobody may be told
otherwise.
"""

import os
import secrets
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import quote

import peewee
from peewee import __exception_wrapper__ as wrapped  # type: ignore[attr-defined]

from fieldapp.store.guards import missing_guards
from fieldapp.store.migrations import MIGRATIONS

PRAGMAS = {
    "journal_mode": "truncate",
    "synchronous": 3,
    "foreign_keys": 1,
    "recursive_triggers": 1,
    "cell_size_check": 1,
}
"""What is asked for and must be read back (3 is EXTRA)."""
BUSY_S = 10
DISK_FAULTS = (peewee.DatabaseError, sqlite3.DatabaseError)
"""What a question may raise when disk or file fail (a write: `StoreUnavailable`).

The library wraps what a statement raises, but not what fetching its rows does.
"""
_OUR_OWN = (
    peewee.IntegrityError,
    peewee.ProgrammingError,
    sqlite3.IntegrityError,
    sqlite3.ProgrammingError,
)
_COLUMNS = {
    "meta": "name value",
    "bodies": "hash kind body",
    "accounts": "name person password office made",
    "sessions": "token account made seen",
    "failures": "source tries last",
    "codes": "code person issued_by made expires used device public",
    "devices": "device token made revoked",
    "ledger": "place id body sig head received kind subject person device seq",
    "quarantine": "id sig body reason received pusher",
    "struck": "id",
    "receipts": "number device made body sig",
    "photos": "hash type width height body device received",
    "revisions": "number subject revision hash basis body sig pdf",
}


class StoreFault(Exception):
    """A database that cannot be used as it is: wrong pragma, newer schema."""


class StoreUnavailable(Exception):
    """The disk or the database failed; nothing of the write was kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """One open database; `tables` by name. Shared by threads, a connection each.

    `cache` holds what was worked out from the ledger; it may be emptied at any time.
    `turn` lets the threads that write queue up instead of asking the file by turns.
    """

    path: Path
    database: Any
    pragmas: dict[str, Any]
    tables: dict[str, Any]
    cache: dict[str, Any] = field(default_factory=dict)
    turn: Lock = field(default_factory=Lock)


def open_store(path: Path) -> Store:
    """Open the database of a site, made and brought to this version if need be.

    Errors: `StoreFault` for a pragma that did not take, a newer schema or a guard of
    the ledger that is gone, `StoreUnavailable` if the file cannot be opened.
    """
    if not path.exists():
        os.close(os.open(path, os.O_CREAT | os.O_WRONLY, 0o600))
    # "rw": a file that vanishes while we serve must not come back empty.
    store = _store(path, "rw", PRAGMAS)
    _migrate(store)
    with connected(store):
        lost = missing_guards(store.database.execute_sql)
    if lost:
        raise StoreFault(
            f"somebody changed the database by hand: {', '.join(lost)} gone;"
            " run fieldapp check"
        )
    return store


def open_to_read(path: Path) -> Store:
    """Open a database as it is, to be looked at only; nothing of it is believed.

    Errors: `StoreUnavailable` if the file cannot be opened.
    """
    store = _store(path, "ro", {"query_only": 1})
    with connected(store):
        return store


def connect(store: Store) -> bool:
    """Open this thread's connection; False if it was open already.

    Errors: `StoreUnavailable`, and `StoreFault` if a pragma did not take.
    """
    try:
        fresh = bool(store.database.connect(reuse_if_open=True))
        if fresh:
            _check_pragmas(store)
    except DISK_FAULTS as fault:
        disconnect(store)
        raise StoreUnavailable(str(fault)) from fault
    return fresh


def disconnect(store: Store) -> None:
    """Close this thread's connection, if it has one."""
    if not store.database.is_closed():
        store.database.close()


@contextmanager
def connected(store: Store) -> Iterator[None]:
    """Hold a connection for this thread; the outermost user closes it."""
    fresh = connect(store)
    try:
        yield
    finally:
        if fresh:
            store.database.close()


@contextmanager
def reading(store: Store) -> Iterator[None]:
    """See one moment of the database through several questions."""
    with connected(store), store.database.atomic():
        yield


@contextmanager
def writing(store: Store) -> Iterator[None]:
    """Take the one write transaction; on disk when the block has been left.

    Errors: `StoreUnavailable` if the disk fails: nothing of the block was kept.
    """
    with connected(store):
        assert not store.database.in_transaction(), "a write is one flat transaction"
        try:
            with _turn(store), store.database.atomic("IMMEDIATE"):
                yield
        except DISK_FAULTS as fault:
            if not disk_failed(fault):
                raise
            raise StoreUnavailable(str(fault)) from fault


def disk_failed(fault: Exception) -> bool:
    """Say whether one of `DISK_FAULTS` is the disk's and not our own mistake."""
    return not isinstance(fault, _OUR_OWN)


def write_rows(
    store: Store, table: str, rows: Sequence[tuple[Any, ...]], *, again: str = ""
) -> None:
    """Insert rows, their columns as listed here (inside `writing`).

    `again` ends the statement: what is done with a row that is there already. A row at
    a time of one prepared statement: one of many rows is built anew for each batch and
    keeps a journal of its own.
    """
    if rows:
        columns = _COLUMNS[table].split()
        marks = ", ".join([store.database.param] * len(columns))
        into = f"{table} ({', '.join(columns)})"
        statement = f"INSERT INTO {into} VALUES ({marks}) {again}"  # noqa: S608
        with wrapped:
            store.database.cursor().executemany(statement, rows)


def read_meta(store: Store, name: str) -> str | None:
    """Give a fact about this database by its name, or None."""
    asked = f"SELECT value FROM meta WHERE name = {store.database.param}"  # noqa: S608
    row = store.database.execute_sql(asked, (name,)).fetchone()
    return row[0] if row else None


def write_meta(store: Store, name: str, value: str) -> None:
    """Set a fact about this database (inside `writing`)."""
    meta = store.tables["meta"]
    meta.delete().where(meta.name == name).execute()
    meta.insert(name=name, value=value).execute()


def epoch(store: Store) -> str:
    """Give the random name of this database; after a restore it is another."""
    found = read_meta(store, "epoch")
    assert found is not None, "every database has an epoch"
    return found


def begin_epoch(store: Store) -> str:
    """Name the database anew, so that every phone offers its entries again."""
    name = secrets.token_hex(8)
    write_meta(store, "epoch", name)
    return name


def _store(path: Path, mode: str, pragmas: dict[str, Any]) -> Store:
    database = peewee.SqliteDatabase(
        f"file:{quote(str(path))}?mode={mode}",
        uri=True,
        pragmas=pragmas,
        timeout=BUSY_S,
        autoconnect=False,
    )
    tables = {
        name: peewee.Table(name, columns.split()).bind(database)
        for name, columns in _COLUMNS.items()
    }
    return Store(path=path, database=database, pragmas=pragmas, tables=tables)


@contextmanager
def _turn(store: Store) -> Iterator[None]:
    if not store.turn.acquire(timeout=BUSY_S):
        raise StoreUnavailable(f"others have been writing for {BUSY_S} s")
    try:
        yield
    finally:
        store.turn.release()


def _check_pragmas(store: Store) -> None:
    for name, wanted in store.pragmas.items():
        found = store.database.execute_sql(f"PRAGMA {name}").fetchone()[0]
        if found != wanted:
            disconnect(store)
            raise StoreFault(f"the database says {name} = {found}, not {wanted}")


def _migrate(store: Store) -> None:
    with writing(store):
        version = _version(store)
        if version > len(MIGRATIONS):
            raise StoreFault(
                f"the database has schema {version}, this program knows"
                f" {len(MIGRATIONS)}: use a newer program"
            )
        for step in MIGRATIONS[version:]:
            for statement in step:
                store.database.execute_sql(statement)
        write_meta(store, "schema", str(len(MIGRATIONS)))
        if read_meta(store, "epoch") is None:
            begin_epoch(store)


def _version(store: Store) -> int:
    if "meta" not in store.database.get_tables():
        return 0
    return int(read_meta(store, "schema") or 0)
