"""Archived records: bytes as they were once set, and the site's statement of each.

A row is never changed, deleted or replaced, and a subject's revisions have no gaps.
What a statement says is `intake.archive`'s; nothing here sets a page or judges one.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import sha256_hex
from fieldapp.store.database import Store
from fieldapp.store.ledger import Signed

_LAST = "SELECT number, body FROM revisions ORDER BY number DESC LIMIT 1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """An archived record without its bytes.

    number: its place over the site, from 1; revision: over its subject, from 1; hash:
    SHA-256 of the bytes; basis: hash of what it says, apart from the moment; said: the
    statement that the site's key signed.
    """

    number: int
    subject: str
    revision: int
    hash: str
    basis: str
    said: dict[str, Any]


def keep_revision(store: Store, signed: Signed, basis: str, pdf: bytes) -> Revision:
    """Keep a record's bytes with their signed statement (inside `writing`)."""
    said: dict[str, Any] = json.loads(signed.body)
    row = {
        "number": said["number"],
        "subject": said["subject"],
        "revision": said["revision"],
        "hash": said["hash"],
        "basis": basis,
        "body": signed.body,
        "sig": signed.sig,
    }
    store.tables["revisions"].insert(**row, pdf=pdf).execute()
    return _revision(row)


def next_revision(store: Store) -> tuple[int, str | None]:
    """Give the number of the row to be made, and the hash of the statement before."""
    row = store.database.execute_sql(_LAST).fetchone()
    return (row[0] + 1, sha256_hex(row[1].encode("utf-8"))) if row else (1, None)


def revisions_of(store: Store, subject: str) -> list[Revision]:
    """Give a subject's revisions, the first one first."""
    table = store.tables["revisions"]
    return list(_asked(store, table.subject == subject))


def latest_revisions(store: Store) -> dict[str, Revision]:
    """Give the last revision of every subject that has one."""
    return {each.subject: each for each in _asked(store, True)}


def revision_bytes(store: Store, subject: str, revision: int) -> bytes | None:
    """Give the bytes of a revision as they were kept, or None."""
    table = store.tables["revisions"]
    which = (table.subject == subject) & (table.revision == revision)
    row = table.select(table.pdf).where(which).first()
    return bytes(row["pdf"]) if row else None


def find_revision(store: Store, digest: str) -> Revision | None:
    """Give the revision whose bytes have this SHA-256, or None."""
    table = store.tables["revisions"]
    return next(_asked(store, table.hash == digest), None)


def _asked(store: Store, which: Any) -> Iterator[Revision]:
    table = store.tables["revisions"]
    columns = [
        getattr(table, name)
        for name in ("number", "subject", "revision", "hash", "basis", "body")
    ]
    query = table.select(*columns)
    query = query if which is True else query.where(which)
    return (_revision(row) for row in query.order_by(table.number))


def _revision(row: dict[str, Any]) -> Revision:
    return Revision(
        number=row["number"],
        subject=row["subject"],
        revision=row["revision"],
        hash=row["hash"],
        basis=row["basis"],
        said=json.loads(row["body"]),
    )
