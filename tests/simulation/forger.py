"""One who has read the protocol's page and can write into the database by hand.

The guards of the tables are taken off first and the hash chain is kept consistent, as
a forger would: what finds a forgery must be something that a forger cannot make.
"""

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from fieldapp.store.ledger import Signed

_COLUMNS = "place, id, body, sig, head, received, kind, subject, person, device, seq"
_GUARDS = "SELECT name FROM sqlite_master WHERE type = 'trigger'"


@contextmanager
def by_hand(database: Path) -> Iterator[sqlite3.Connection]:
    """Open the database with its guards taken off; put back afterwards."""
    with closing(sqlite3.connect(database, timeout=10)) as hand:
        guards = [sql for (sql,) in hand.execute(_GUARDS.replace("name", "sql", 1))]
        for (name,) in hand.execute(_GUARDS).fetchall():
            hand.execute(f'DROP TRIGGER "{name}"')
        yield hand
        for sql in guards:
            hand.execute(sql)
        hand.commit()


def slip_in(database: Path, signed: Signed) -> str:
    """Put a row at the end of the ledger as the program would; gives its id."""
    raw = signed.body.encode()
    entry_id = hashlib.sha256(raw).hexdigest()
    told = _told(signed.body)
    with by_hand(database) as hand:
        place, head = hand.execute(
            "SELECT place, head FROM ledger ORDER BY place DESC LIMIT 1"
        ).fetchone()
        head = hashlib.sha256((head + entry_id).encode()).hexdigest()
        row = (place + 1, entry_id, signed.body, signed.sig, head, 0, *told)
        marks = ", ".join("?" * len(row))
        hand.execute(f"INSERT INTO ledger ({_COLUMNS}) VALUES ({marks})", row)
    return entry_id


def replay(database: Path, entry_id: str) -> None:
    """Put an entry into the ledger once more, the table's own rules taken away too."""
    with by_hand(database) as hand:
        hand.execute("CREATE TABLE freed AS SELECT * FROM ledger ORDER BY place")
        hand.execute("DROP TABLE ledger")
        hand.execute("ALTER TABLE freed RENAME TO ledger")
        place, head = hand.execute(
            "SELECT place, head FROM ledger ORDER BY place DESC LIMIT 1"
        ).fetchone()
        head = hashlib.sha256((head + entry_id).encode()).hexdigest()
        told = _COLUMNS.replace("place", "?", 1).replace(" head", " ?", 1)
        hand.execute(
            f"INSERT INTO ledger ({_COLUMNS}) SELECT {told} FROM ledger WHERE id = ?",
            (place + 1, head, entry_id),
        )


def rewrite(database: Path, ids: list[str]) -> None:
    """Leave only these entries in the ledger, in this order, the chain made anew."""
    with by_hand(database) as hand:
        rows = {row[1]: row for row in hand.execute(f"SELECT {_COLUMNS} FROM ledger")}
        hand.execute("DELETE FROM ledger")
        head = "0" * 64
        for place, entry_id in enumerate(ids, 1):
            head = hashlib.sha256((head + entry_id).encode()).hexdigest()
            row = (place, *rows[entry_id][1:4], head, *rows[entry_id][5:])
            marks = ", ".join("?" * len(row))
            hand.execute(f"INSERT INTO ledger ({_COLUMNS}) VALUES ({marks})", row)


def overwrite(database: Path, table: str, column: str, where: str, value: Any) -> None:
    """Write one cell."""
    with by_hand(database) as hand:
        hand.execute(f"UPDATE {table} SET {column} = ? WHERE {where}", (value,))


def flipped(raw: bytes, bit: int) -> bytes:
    """Give the bytes with one bit turned."""
    copy = bytearray(raw)
    copy[bit // 8] ^= 1 << bit % 8
    return bytes(copy)


def _told(body: str) -> tuple[Any, ...]:
    try:
        told = json.loads(body)
    except ValueError:
        told = {}
    names = ("kind", "subject", "person", "device", "seq")
    missing = ("note", None, "ida", "gang", 1)
    return tuple(told.get(n, m) for n, m in zip(names, missing, strict=True))
