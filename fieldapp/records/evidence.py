"""Everything one record is made from, as plain data. Nothing is judged here.

`files.py` turns it into the files a PDF carries and back, so that a record can be
made again, byte for byte, from nothing but itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedEntry:
    """An entry as the ledger holds it: the text that was signed, r||s, its place.

    index: from 1, without gaps over the site; head: the hash chain at that index;
    received: ms UTC.
    """

    index: int
    body: str
    sig: str
    head: str
    received: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """A statement of the site's key about entries it has taken in."""

    body: str
    sig: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """What the document is called. `revision` 0 is a print that was not archived."""

    document: str
    revision: int = 0
    supersedes: str = ""
    page: str = "A4"


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """A revision that this one takes the place of.

    hash: SHA-256 of its bytes; as_of, at: of which moment it is, when it was archived
    (ms UTC); by: whose account; last: where the ledger stood.
    """

    revision: int
    hash: str
    as_of: int
    at: int
    by: str
    last: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Archive:
    """How this record came into the archive, as the site states it.

    at: ms UTC; account, person, session: who did it; earlier: revisions before, the
    first one first; why: what besides entries made it ("photos", "sheet", "otherwise").
    """

    at: int
    account: str
    person: str
    session: str
    earlier: tuple[Earlier, ...] = ()
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One subject's evidence at a moment.

    site: the site as compiled (title, zone, roles, organisations, piers); sheet: the
    one in force; older: earlier sheets by hash; tables: bodies by hash; entries: the
    subject's, by index; office: what the site itself signed (people, keys, sheets);
    standing: `subjects` and `items` as known then; site_public: the site's key,
    base64url; as_of: ms UTC; last, head: where the ledger stood; photos: of those that
    entries name, by the hash of the original, a copy drawn anew as JPEG for printing;
    archive: None for a print.
    """

    site: Mapping[str, Any]
    sheet: Mapping[str, Any]
    tables: Mapping[str, Any]
    entries: tuple[SignedEntry, ...]
    office: tuple[SignedEntry, ...]
    site_public: str
    as_of: int
    title: Title
    last: int = 0
    head: str = ""
    older: Mapping[str, Any] = field(default_factory=dict)
    standing: Mapping[str, Any] = field(default_factory=dict)
    receipts: tuple[Receipt, ...] = ()
    photos: Mapping[str, bytes] = field(default_factory=dict)
    archive: Archive | None = None
