"""Reads the office's books from its file and says what is wrong with them.

Written against the protocol's page, not against the program: nothing of the store is
used here, so that a fault there cannot hide itself.
"""

import hashlib
import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.fold import fold, present
from fieldapp.core.graph import order
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Sheet, prepare
from tests.people import DOCUMENT, NOON, sheet

SUBJECTS = ("J1", "J2", "J3")
SHEETS = {subject: sheet(subject=subject) for subject in SUBJECTS}
PREPARED: dict[str, Sheet] = {
    subject: prepare(raw, {}, {}) for subject, raw in SHEETS.items()
}
SHEET_HASH = {subject: fingerprint(raw) for subject, raw in SHEETS.items()}
STANDING: dict[str, Any] = {
    "people": {
        each["id"]: {name: each[name] for name in ("name", "roles", "organisation")}
        for each in DOCUMENT["people"]
    },
    "subjects": {},
    "items": {},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Books:
    """What a database file holds: the ledger's rows in order, quarantined ids.

    photos: the hashes of those that are whole; spoiled: of those that are not.
    """

    rows: tuple[tuple[int, str, str, str, str], ...]
    apart: frozenset[str]
    receipts: tuple[dict[str, Any], ...]
    photos: frozenset[str]
    spoiled: tuple[str, ...]

    @property
    def ids(self) -> set[str]:
        """Give the ids in the ledger."""
        return {row[1] for row in self.rows}

    @property
    def kept(self) -> set[str]:
        """Give every id that is kept at all."""
        return self.ids | self.apart

    def entries(self) -> list[Entry]:
        """Give the ledger's entries, read again from their bytes."""
        return [read_entry(row[2].encode()) for row in self.rows]


def read_books(database: Path) -> Books:
    """Read a database file, the journal of a killed server played back first."""
    with closing(sqlite3.connect(database, timeout=10)) as open_file:
        rows = open_file.execute(
            "SELECT place, id, body, sig, head FROM ledger ORDER BY place"
        ).fetchall()
        apart = open_file.execute("SELECT id FROM quarantine").fetchall()
        seen = open_file.execute("SELECT hash, body FROM photos").fetchall()
        told = open_file.execute("SELECT body FROM receipts ORDER BY number").fetchall()
    whole = {name for name, raw in seen if hashlib.sha256(raw).hexdigest() == name}
    return Books(
        rows=tuple(rows),
        apart=frozenset(entry_id for (entry_id,) in apart),
        receipts=tuple(json.loads(body) for (body,) in told),
        photos=frozenset(whole),
        spoiled=tuple(sorted({name for name, _ in seen} - whole)),
    )


def faults_of(books: Books) -> list[str]:
    """Say what is wrong: places, repeats, ids, the chain, receipts that lie."""
    found = [f"photo {name}: not the bytes of its hash" for name in books.spoiled]
    head, heads = "0" * 64, {0: "0" * 64}
    if len(books.ids) != len(books.rows):
        found.append("an entry stands twice")
    for number, (place, entry_id, body, _, kept) in enumerate(books.rows, 1):
        head = hashlib.sha256((head + entry_id).encode()).hexdigest()
        heads[number] = head
        if place != number:
            found.append(f"place {number} is missing")
        if hashlib.sha256(body.encode()).hexdigest() != entry_id:
            found.append(f"place {place}: the bytes are not the id's")
        if kept != head:
            found.append(f"place {place}: not the chain's head")
    return found


def state_bytes(subject: str, entries: Iterable[Entry]) -> bytes:
    """Give the canonical bytes of what a subject's entries add up to."""
    mine = [each for each in entries if each.subject == subject]
    return canonical(fold(PREPARED[subject], mine, STANDING, {"at": NOON}))


def scene(subject: str, entries: Iterable[Entry], at: int = NOON) -> Scene:
    """Give the scene a phone asks its rules of."""
    mine = [each for each in entries if each.subject == subject]
    return present(PREPARED[subject], mine, STANDING, {"at": at})


def groundless(entries: Iterable[Entry]) -> list[str]:
    """Give releases that stand here although no reading they rest on is here."""
    found = []
    for mine, release in _standing(entries):
        past = [mine[each] for each in _past(mine, release) if each in mine]
        if not any(each.kind == "done" and each.step == "wipe" for each in past):
            found.append(f"release {release} rests on no reading")
    return found


def unfounded(entries: Iterable[Entry], lost: set[str]) -> list[str]:
    """Give releases that stand here without all of their past, but for what is lost."""
    return [
        f"release {release} stands without its past"
        for mine, release in _standing(entries)
        if _past(mine, release) - mine.keys() - lost
    ]


def circles(entries: Iterable[Entry]) -> list[str]:
    """Give what an order leaves out: nothing signed honestly ever is."""
    found = []
    for subject in SUBJECTS:
        mine = [each for each in entries if each.subject == subject]
        found += sorted({each.id for each in mine} - order(mine).index.keys())
    return found


def _standing(entries: Iterable[Entry]) -> Iterator[tuple[dict[str, Entry], str]]:
    known = list(entries)
    for subject in SUBJECTS:
        mine = {each.id: each for each in known if each.subject == subject}
        state = fold(PREPARED[subject], mine.values(), STANDING, {"at": NOON})
        for point in state["points"].values():
            for release in point.get("release", ()):
                yield mine, release


def _past(known: Mapping[str, Entry], entry_id: str) -> set[str]:
    seen: set[str] = set()
    queue = [entry_id]
    while queue:
        entry = known.get(queue.pop())
        fresh = set(entry.after if entry else ()) - seen
        seen |= fresh
        queue += fresh
    return seen
