"""Records taken into the archive: the site's key says which bytes, when and by whom.

A statement is numbered over the site and names the one before, as receipts do, so
that none can be taken out unnoticed. The bytes are never set again: what is asked for
later is what was kept.
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import sha256_hex
from fieldapp.intake.door import Door
from fieldapp.intake.statement import stated
from fieldapp.store.archive import Revision, keep_revision, next_revision, revisions_of
from fieldapp.store.database import writing
from fieldapp.store.room import keep_room


class Overtaken(Exception):
    """Somebody else archived the subject meanwhile; nothing was kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Archiver:
    """Who archives: the account, whose it is, and the session as it is listed."""

    account: str
    person: str
    session: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A record to be kept: its bytes, and what the statement says of them.

    as_of: ms UTC; entries: how many of the subject; last, head: where the ledger stood;
    sheet: the one in force; photos: how many it carries; basis: see `lookups.archive`.
    """

    subject: str
    revision: int
    document: str
    verdict: str
    as_of: int
    entries: int
    last: int
    head: str
    sheet: str
    photos: int
    basis: str
    pdf: bytes


def take_into_archive(door: Door, kept: Kept, by: Archiver, now: int) -> Revision:
    """Keep a record for good; gives its revision. Errors: `Overtaken`, `NoRoom`."""
    keep_room(door.store, len(kept.pdf))
    with writing(door.store):
        if len(revisions_of(door.store, kept.subject)) + 1 != kept.revision:
            raise Overtaken(kept.subject)
        place = next_revision(door.store)
        signed = stated(door, _said(kept, by), place, now)
        return keep_revision(door.store, signed, kept.basis, kept.pdf)


def _said(kept: Kept, by: Archiver) -> dict[str, Any]:
    return {
        "account": by.account,
        "person": by.person,
        "session": by.session,
        "hash": sha256_hex(kept.pdf),
        "bytes": len(kept.pdf),
        "subject": kept.subject,
        "revision": kept.revision,
        "document": kept.document,
        "verdict": kept.verdict,
        "as_of": kept.as_of,
        "entries": kept.entries,
        "last": kept.last,
        "head": kept.head,
        "sheet": kept.sheet,
        "photos": kept.photos,
        "basis": kept.basis,
    }
