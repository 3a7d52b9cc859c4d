"""A hand in the database, as one would be who has read the protocol page.

It drops the guards, changes what it likes and works the chain of heads out anew, so
that what is left to find is only what cannot be worked out without a key.
"""

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from fieldapp.cli import main
from fieldapp.core.canonical import canonical
from fieldapp.signatures import new_key, sign
from tests.people import Stage

Row = dict[str, Any]
Out = pytest.CaptureFixture[str]


@contextmanager
def by_hand(path: Path) -> Iterator[sqlite3.Connection]:
    """Open a database without its guards; what was done is kept at the end."""
    hand = sqlite3.connect(path)
    asked = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    for (guard,) in hand.execute(asked).fetchall():
        hand.execute(f"DROP TRIGGER {guard}")
    try:
        yield hand
        hand.commit()
    finally:
        hand.close()


def put_back(path: Path, guards: dict[str, str]) -> None:
    """Make the guards again, so that nothing is to be seen of a hand."""
    hand = sqlite3.connect(path)
    for statement in guards.values():
        hand.execute(statement)
    hand.commit()
    hand.close()


def rows(hand: sqlite3.Connection) -> list[Row]:
    """Give the ledger's rows in order."""
    cursor = hand.execute("SELECT * FROM ledger ORDER BY place")
    names = [column[0] for column in cursor.description]
    return [dict(zip(names, row, strict=True)) for row in cursor]


def rewrite(hand: sqlite3.Connection, wanted: list[Row]) -> None:
    """Write the whole ledger anew in this order, every index and head worked out."""
    hand.execute("DELETE FROM ledger")
    head = "0" * 64
    for place, row in enumerate(wanted, 1):
        head = hashlib.sha256((head + row["id"]).encode()).hexdigest()
        told = {**row, "place": place, "head": head}
        names = ", ".join(told)
        marks = ", ".join("?" * len(told))
        hand.execute(
            f"INSERT INTO ledger ({names}) VALUES ({marks})", tuple(told.values())
        )


def forged(row: Row, by: Any = None, **changes: Any) -> Row:
    """Give a row as it would be for a changed entry, signed by a key made up."""
    body = canonical(json.loads(row["body"]) | changes)
    text = body.decode()
    name = hashlib.sha256(body).hexdigest()
    return row | {"id": name, "body": text, "sig": sign(by or new_key(), body)}


def check(site: Stage, capsys: Out) -> tuple[int, str]:
    """Run the command; gives its exit status and what it printed."""
    capsys.readouterr()
    status = main(["check", "--data", str(site.data)])
    told = capsys.readouterr()
    assert "Traceback" not in told.err
    return status, told.out
