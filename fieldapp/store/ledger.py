"""All entries of a site in the order the server took them in, and what is set apart.

The place (index) is taken inside the caller's write transaction and has no gaps; each
row carries the head, a hash chain over all ids so far. Nothing here judges an entry:
that is intake's work. The order is never a reason to believe one entry over another.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import peewee

from fieldapp.core.canonical import sha256_hex
from fieldapp.core.entries import Entry
from fieldapp.store.database import Store, write_rows
from fieldapp.store.struck import believed, struck_ids

START_HEAD = "0" * 64
"""The head of an empty ledger."""
_LEDGER_HEAD = "SELECT place, head FROM ledger ORDER BY place DESC LIMIT 1"
_LAST_RECEIPT = "SELECT number, body FROM receipts ORDER BY number DESC LIMIT 1"
_SITE_HEAD = "SELECT head FROM ledger WHERE subject IS NULL ORDER BY place DESC LIMIT 1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """An entry as it travels: the canonical text that was signed, and r||s."""

    body: str
    sig: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """An entry as it stands in the ledger."""

    place: int
    id: str
    body: str
    sig: str
    head: str
    received: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SetApart:
    """An entry in quarantine, why, and which device brought it."""

    id: str
    body: str
    sig: str
    reason: str
    received: int
    pusher: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """Where the ledger stands: its last place and the hash over everything so far."""

    place: int
    head: str


def next_head(head: str, entry_id: str) -> str:
    """Give the head after one more entry: SHA-256 of the old head and the id."""
    return sha256_hex((head + entry_id).encode("ascii"))


def append(
    store: Store, batch: Sequence[tuple[Entry, Signed]], now: int
) -> dict[str, int]:
    """Append entries inside the caller's write transaction; gives places by id."""
    last = ledger_head(store)
    place, head = last.place, last.head
    places: dict[str, int] = {}
    rows = []
    for entry, signed in batch:
        place, head = place + 1, next_head(head, entry.id)
        told = (entry.kind, entry.subject, entry.person, entry.device, entry.seq)
        rows.append((place, entry.id, signed.body, signed.sig, head, now, *told))
        places[entry.id] = place
    write_rows(store, "ledger", rows)
    return places


def ledger_head(store: Store) -> Head:
    """Give the last place and head; place 0 and `START_HEAD` when empty."""
    row = store.database.execute_sql(_LEDGER_HEAD).fetchone()
    return Head(place=row[0], head=row[1]) if row else Head(place=0, head=START_HEAD)


def places_of(store: Store, ids: Iterable[str]) -> dict[str, int]:
    """Give, of these entries, those the ledger has, with their places."""
    wanted = list(ids)
    if not wanted:
        return {}
    # Asked with every batch: building this question took longer than answering it.
    which = f"id IN {_marks(store, wanted)}"
    asked = f"SELECT id, place FROM ledger WHERE {which}"  # noqa: S608
    return dict(store.database.execute_sql(asked, wanted).fetchall())


def rows_after(store: Store, place: int, limit: int) -> list[Row]:
    """Give at most `limit` rows after a place, in order."""
    ledger = store.tables["ledger"]
    return list(_rows(ledger, ledger.place > place, limit))


def rows_of_subject(store: Store, subject: str) -> list[Row]:
    """Give every row of one subject that is believed, in the order they arrived."""
    ledger = store.tables["ledger"]
    return list(_rows(ledger, (ledger.subject == subject) & believed(store)))


def last_places(store: Store) -> dict[str, int]:
    """Give, for each subject with an entry, the place of its last one."""
    ledger = store.tables["ledger"]
    highest: Any = peewee.fn.MAX(ledger.place)
    query = ledger.select(ledger.subject, highest.alias("last"))
    query = query.where(ledger.subject.is_null(False)).group_by(ledger.subject)
    return {str(row["subject"]): int(row["last"]) for row in query}


def rows_of_site(store: Store, kinds: Iterable[str], after: int = 0) -> list[Row]:
    """Give the site-level rows (no subject) believed, of some kinds, after a place."""
    ledger = store.tables["ledger"]
    which = ledger.subject.is_null() & ledger.kind.in_(list(kinds)) & believed(store)
    return list(_rows(ledger, which & (ledger.place > after)))


def heads_at(store: Store, places: Sequence[int]) -> list[str]:
    """Give the heads at these places, those that there are, in their order."""
    which = f"place IN {_marks(store, places)} ORDER BY place"
    asked = f"SELECT head FROM ledger WHERE {which}"  # noqa: S608
    return [head for (head,) in store.database.execute_sql(asked, tuple(places))]


def site_head(store: Store) -> str:
    """Name what caches rest on: the head at the last site-level row, what is struck.

    Naming both, a page that was being made while something was struck leaves nothing
    that is found again.
    """
    # Asked several times a subject on every page: building the question anew each
    # time took thirty times as long as answering it.
    row = store.database.execute_sql(_SITE_HEAD).fetchone()
    head, struck = str(row[0]) if row else START_HEAD, sorted(struck_ids(store))
    return sha256_hex("".join([head, *struck]).encode()) if struck else head


def last_of_device(store: Store, device: str) -> tuple[int, str] | None:
    """Give the highest sequence number of a device and that entry's id, or None."""
    ledger = store.tables["ledger"]
    row = (
        ledger.select(ledger.seq, ledger.id)
        .where(ledger.device == device)
        .order_by(ledger.seq.desc(), ledger.id)
        .limit(1)
        .first()
    )
    return (row["seq"], row["id"]) if row else None


def last_heard(store: Store) -> dict[str, int]:
    """Give when each device's last entry was taken in, ms UTC; without silent ones.

    An entry that came by another phone counts as well: it was made on this one.
    """
    asked = "SELECT device, MAX(received) FROM ledger GROUP BY device"
    return dict(store.database.execute_sql(asked).fetchall())


def numbers_taken(store: Store, entries: Iterable[Entry]) -> set[tuple[str, int]]:
    """Give the pairs of device and number that the ledger holds among these."""
    wanted: dict[str, list[int]] = {}
    for entry in entries:
        wanted.setdefault(entry.device, []).append(entry.seq)
    taken = set()
    for device, numbers in wanted.items():
        which = f"device = {store.database.param} AND seq IN {_marks(store, numbers)}"
        asked = f"SELECT seq FROM ledger WHERE {which}"  # noqa: S608
        rows = store.database.execute_sql(asked, (device, *numbers))
        taken |= {(device, number) for (number,) in rows}
    return taken


def set_apart(store: Store, apart: Iterable[SetApart]) -> None:
    """Keep entries in quarantine; the same bytes and signature are kept once."""
    rows = [
        (each.id, each.sig, each.body, each.reason, each.received, each.pusher)
        for each in apart
    ]
    write_rows(store, "quarantine", rows, again="ON CONFLICT DO NOTHING")


def all_apart(store: Store) -> list[SetApart]:
    """Give what is in quarantine, oldest first."""
    table = store.tables["quarantine"]
    return [
        SetApart(**row) for row in table.select().order_by(table.received, table.id)
    ]


def apart_count(store: Store, pusher: str) -> int:
    """Give how many quarantined entries one device brought."""
    table = store.tables["quarantine"]
    count: int = table.select(table.id).where(table.pusher == pusher).count()
    return count


def take_back(store: Store, apart: SetApart) -> None:
    """Remove one entry from quarantine: the ledger has it now."""
    table = store.tables["quarantine"]
    same = (table.id == apart.id) & (table.sig == apart.sig)
    table.delete().where(same).execute()


def keep_receipt(store: Store, device: str, signed: Signed, now: int) -> None:
    """Keep a receipt beside the ledger."""
    store.tables["receipts"].insert(
        device=device, made=now, body=signed.body, sig=signed.sig
    ).execute()


def next_receipt(store: Store) -> tuple[int, str | None]:
    """Give the number of the receipt to be made, and the hash of the one before."""
    row = store.database.execute_sql(_LAST_RECEIPT).fetchone()
    return (row[0] + 1, sha256_hex(row[1].encode("utf-8"))) if row else (1, None)


def receipts_since(store: Store, made: int) -> list[Signed]:
    """Give the receipts made at or after a moment (ms UTC), oldest first."""
    table = store.tables["receipts"]
    query = table.select(table.body, table.sig).where(table.made >= made)
    return [Signed(**row) for row in query.order_by(table.number)]


def _rows(ledger: Any, which: Any, limit: int | None = None) -> Iterator[Row]:
    columns = [getattr(ledger, name) for name in Row.__slots__]
    query = ledger.select(*columns).where(which).order_by(ledger.place)
    for row in query.limit(limit) if limit is not None else query:
        yield Row(**row)


def _marks(store: Store, values: Sequence[object]) -> str:
    return f"({', '.join([store.database.param] * len(values))})"
