"""A joint told step by step with real keys, kept in a ledger, handed out as evidence.

It speaks as `tests.core.story.Story` does; every entry is signed as a phone signs it.
Keys are made at random.
"""

from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.core.entries import Entry, read_entry
from fieldapp.play.phone import Phone
from fieldapp.records.evidence import Evidence, Receipt, SignedEntry, Title
from fieldapp.signatures import SigningKey, key_id, new_key, sign
from fieldapp.store.ledger import START_HEAD, Signed, next_head
from tests.core.story import MINUTE_MS, START_MS
from tests.records.joint import CHAPTERS, FROZEN, SITE, SUBJECT

ZONE_MIN = 60
DOCUMENT = "TISK-J-W1"


@dataclass(slots=True, kw_only=True)
class Book:
    """A subject's story in the making; `rows` is the whole site's ledger."""

    subject: str = SUBJECT
    sheet: dict[str, Any] = field(default_factory=lambda: FROZEN["sheet"])
    tables: dict[str, Any] = field(default_factory=lambda: FROZEN["tables"])
    site: dict[str, Any] = field(default_factory=lambda: FROZEN["site"])
    office: SigningKey = field(default_factory=new_key)
    minute: float = 0.0
    rows: list[tuple[Entry, SignedEntry]] = field(default_factory=list)
    phones: dict[str, Phone] = field(default_factory=dict)
    people: dict[str, dict[str, Any]] = field(default_factory=dict)
    head: str = START_HEAD
    seq: int = 0

    def __post_init__(self) -> None:
        about = {"subject": self.subject, "sheet": self.hash}
        self.office_says("sheet_issued", about)

    @property
    def hash(self) -> str:
        return fingerprint(self.sheet)

    @property
    def now(self) -> int:
        return START_MS + round(self.minute * MINUTE_MS)

    def at(self, minute: float) -> "Book":
        """Move the world's clock."""
        self.minute = minute
        return self

    def done(self, step: str, *, by: str, **parts: Any) -> str:
        """Record a step."""
        return self.say("done", by=by, step=step, **parts)

    def release(self, point: str, *, by: str, **parts: Any) -> str:
        """Release a point by PIN."""
        return self.say("release", by=by, point=point, **parts)

    def say(
        self, kind: str, *, by: str, on: str = "gang-1", ago: float = 0, **parts: Any
    ) -> str:
        """Sign an entry on a phone, let every phone and the ledger have it."""
        phone = self._phone(on, by)
        parts.pop("unlocked", None)
        entry = phone.write(
            kind,
            person=by,
            now=self.now,
            subject=self.subject,
            at=self.now - round(ago * MINUTE_MS) if ago else None,
            sheet=self.hash,
            **parts,
        )
        self._append(entry, phone.outbox.pop())
        for other in self.phones.values():
            other.entries[entry.id] = entry
        return entry.id

    def evidence(self, **changes: Any) -> Evidence:
        """Give the evidence as of the world's now."""
        mine = [row for entry, row in self.rows if entry.subject == self.subject]
        office = [row for entry, row in self.rows if entry.subject is None]
        parts: dict[str, Any] = {
            "site": self.site,
            "sheet": self.sheet,
            "tables": self.tables,
            "entries": tuple(mine),
            "office": tuple(office),
            "site_public": self.office.public,
            "as_of": self.now,
            "title": Title(document=DOCUMENT),
            "last": len(self.rows),
            "head": self.head,
        }
        return Evidence(**(parts | changes))

    def receipt(self) -> Receipt:
        """Have the office sign a statement about everything taken in so far."""
        body = canonical(
            {
                "format": 1,
                "site": SITE,
                "at": self.now,
                "head": self.head,
                "last": len(self.rows),
                "device": "gang-1",
                "entries": [{"id": e.id, "index": row.index} for e, row in self.rows],
            }
        )
        return Receipt(body=body.decode("utf-8"), sig=sign(self.office, body))

    def _phone(self, device: str, person: str) -> Phone:
        if device not in self.phones:
            phone = Phone(device=device, site=SITE, zone=ZONE_MIN, started_ms=START_MS)
            phone.entries = {e.id: e for e, _ in self.rows if e.subject}
            self.phones[device] = phone
        phone = self.phones[device]
        if person not in phone.keys:
            self._enrol(person, phone)
        return phone

    def _enrol(self, person: str, phone: Phone) -> None:
        known = self.people.get(person) or FROZEN["people"][person]
        public = phone.key_of(person).public
        about = {**known, "person": person, "key": key_id(public), "public": public,
                 "device": phone.device}  # fmt: skip
        self.office_says("enrolled", about)

    def office_says(
        self, kind: str, about: dict[str, Any], values: dict[str, int] | None = None
    ) -> str:
        """Sign an entry of the site itself; gives its id."""
        self.seq += 1
        body = canonical(
            {
                "format": 1, "site": SITE, "rules": 1, "kind": kind, "about": about,
                **({"values": values} if values else {}),
                "person": "office", "device": "office", "key": self.office.id,
                "seq": self.seq, "after": [], "at": START_MS, "at_by": "tap",
                "made": START_MS, "zone": 0, "session": "office", "mono": 0,
                "shell": "office",
            }
        )  # fmt: skip
        signed = Signed(body=body.decode("utf-8"), sig=sign(self.office, body))
        entry = read_entry(body)
        self._append(entry, signed)
        return entry.id

    def _append(self, entry: Entry, signed: Signed) -> None:
        self.head = next_head(self.head, entry.id)
        row = SignedEntry(
            index=len(self.rows) + 1,
            body=signed.body,
            sig=signed.sig,
            head=self.head,
            received=self.now + 1_000,
        )
        self.rows.append((entry, row))


def told(until: str = "weight") -> Book:
    """Tell the sample site's first joint as it goes well, up to a chapter."""
    book = Book()
    for name, tell in CHAPTERS.items():
        tell(book)
        if name == until:
            return book
    raise AssertionError(f"no chapter {until}")
