"""The ledger read again from its first place: index, head, bytes, columns, keys.

Each row is held against the one before it as that stands, so that one altered row is
one finding and not a thousand.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import sha256_hex
from fieldapp.core.entries import Entry, EntryError, read_entry
from fieldapp.lookups.audit.keys import Keys
from fieldapp.lookups.audit.late import Late, unwitnessed
from fieldapp.lookups.audit.links import Links
from fieldapp.lookups.audit.report import Finding, fault
from fieldapp.lookups.audit.rows import Unreadable, numbered_rows
from fieldapp.lookups.audit.struck import bodies, struck_findings
from fieldapp.store.database import Store
from fieldapp.store.ledger import START_HEAD, next_head

_COPIED = ("kind", "subject", "person", "device", "seq")
"""Columns that repeat what the signed bytes say, so that rows can be found by them."""


@dataclass(slots=True, kw_only=True)
class Ledger:
    """What was read: places by id, heads by place, and what entries point at."""

    keys: Keys
    links: Links = field(default_factory=Links)
    places: dict[str, int] = field(default_factory=dict)
    heads: list[str] = field(default_factory=lambda: [START_HEAD])
    photos: dict[str, int] = field(default_factory=dict)
    issued: dict[str, int] = field(default_factory=dict)
    late: list[Late] = field(default_factory=list)
    sound: set[str] = field(default_factory=set)

    def read(self, store: Store) -> Iterator[Finding]:
        """Read every row; gives what is wrong, in order."""
        last = 0
        for row in numbered_rows(store, "ledger", "place"):
            if isinstance(row, Unreadable):
                yield fault(f"index {row.number}", f"cannot be read: {row.why}")
                last = self._skip_to(row.number, "")
                continue
            place = row["place"]
            if not isinstance(place, int):
                yield fault("ledger", f"an index that is no number: {place!r}")
                continue
            if place != last + 1:
                yield fault(f"index {last + 1}", f"missing, found {place}")
            yield from self._row_findings(row, place)
            last = self._skip_to(place, str(row["head"]))
        yield from self._late_findings(store)
        yield from self.links.findings()

    def _skip_to(self, place: int, head: str) -> int:
        self.heads += [""] * (place + 1 - len(self.heads))
        self.heads[place] = head
        return place

    def _row_findings(self, row: dict[str, Any], place: int) -> Iterator[Finding]:
        where = f"index {place}"
        texts = [row["id"], row["body"], row["sig"], row["head"]]
        if not all(isinstance(text, str) for text in texts):
            yield fault(where, "something that is not text stands in its place")
            return
        before = self.heads[place - 1] if place <= len(self.heads) else ""
        if before and next_head(before, row["id"]) != row["head"]:
            yield fault(where, "the head does not follow from the one before")
        if row["id"] in self.places:
            yield fault(where, f"stands at index {self.places[row['id']]} already")
        self.places.setdefault(row["id"], place)
        if sha256_hex(row["body"].encode("utf-8")) != row["id"]:
            yield fault(where, "the bytes are not those of the id")
        try:
            entry = read_entry(row["body"].encode("utf-8"))
        except EntryError as trouble:
            yield fault(where, f"is no entry: {trouble}")
            return
        yield from self._entry_findings(where, row, entry)

    def _entry_findings(
        self, where: str, row: dict[str, Any], entry: Entry
    ) -> Iterator[Finding]:
        for name in _COPIED:
            if row[name] != getattr(entry, name):
                yield fault(where, f"the column {name} is not what was signed")
        who = f"{entry.kind} by {entry.person} on {entry.device}"
        wrong = self.keys.fault_of(entry, row["body"], row["sig"])
        revoked = self.keys.revoked.get(entry.key)
        if wrong:
            yield fault(where, f"{who}: {wrong}")
        else:
            self.keys.take(entry, row["place"])
            self.sound.add(entry.id)
        if revoked and not wrong and not self.keys.named[entry.key]:
            self.late.append(
                Late(
                    id=entry.id,
                    place=row["place"],
                    body=row["body"],
                    who=who,
                    revoked=revoked,
                )
            )
        self.links.take(entry)
        for photo in entry.photos:
            self.photos.setdefault(photo, row["place"])
        if entry.kind == "sheet_issued" and entry.key == self.keys.office_key:
            self.issued.setdefault(entry.about["sheet"], row["place"])

    def _late_findings(self, store: Store) -> Iterator[Finding]:
        for revoked in sorted({each.revoked for each in self.late}):
            earlier = (body for place, _, body, _ in bodies(store) if place < revoked)
            late = [each for each in self.late if each.revoked == revoked]
            yield from unwitnessed(late, earlier)
        yield from struck_findings(store, self.keys, self.places, self.sound)
