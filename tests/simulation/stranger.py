"""A phone as a stranger would write it who has read only the protocol's page.

It signs with real keys, keeps everything for the life of the site, takes nothing off
its outbox before the office has answered for that very entry, and trusts nothing it
pulls before it has checked index, hash chain and signature.
"""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.roster import find_key, roster
from fieldapp.play.phone import Phone
from fieldapp.signatures import key_id, sign, verify
from fieldapp.store.ledger import START_HEAD, Signed, next_head
from tests.simulation.road import Refused, Road

BATCH = 40
PAGE = 100
YEAR_MS = 365 * 24 * 3_600_000
ANSWERED = {"stored", "duplicate", "fork", "quarantined", "unreadable"}


class Wrong(Exception):
    """The office's books are not what this phone knows them to be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """An entry on this phone, and whether it still waits for the office."""

    signed: Signed
    entry: Entry
    waiting: bool
    trusted: bool = True


@dataclass(slots=True, kw_only=True, eq=False)
class Stranger:
    """One phone; what is in it survives a reload, a wipe empties it.

    `promised`: what receipts said of the head at an index, until a pull has passed it.
    """

    name: str
    site: str
    road: Road
    pen: Phone
    rows: dict[str, Held] = field(default_factory=dict)
    place: int = 0
    head: str = START_HEAD
    epoch: str | None = None
    office: str = ""
    alarms: list[str] = field(default_factory=list)
    promised: dict[int, str] = field(default_factory=dict)
    outside: bool = False
    photos_held: dict[str, bytes] = field(default_factory=dict)
    unsent: set[str] = field(default_factory=set)
    people: tuple[str, ...] = ()

    def enrol(self, person: str, code: str) -> None:
        """Enrol a person by an office code. Errors: `Lost`, `Refused`."""
        key = self.pen.key_of(person)
        claim = f"enrol:{code}:{self.pen.device}:{key.public}".encode()
        wish = {
            "code": code, "device": self.pen.device, "public": key.public,
            "proof": sign(key, claim),
        }  # fmt: skip
        told = self.road.ask("/api/enrol", wish, self.pen.token)
        self.pen.token, self.office = told["token"], told["office_key"]
        if person not in self.people:
            self.people = (*self.people, person)

    def come_back(self) -> bool:
        """Prove by a key whose phone this is; False: nothing here makes one known.

        Errors: `Lost`, `Refused`.
        """
        for key in self.pen.keys.values():
            shown = self._enrolment_of(key.id)
            if shown is None:
                continue
            asks = {"device": self.device, "public": key.public}
            challenge = self.road.ask("/api/return", asks)["challenge"]
            claim = f"return:{challenge}:{self.device}:{key.public}".encode()
            told = self.road.ask("/api/return", asks | {
                "entries": [{"bytes": shown.body, "sig": shown.sig}],
                "challenge": challenge, "proof": sign(key, claim),
            })  # fmt: skip
            if told["office_key"] != self.office:
                raise Wrong("another office answered")
            self.pen.token = told["token"]
            return True
        return False

    def _enrolment_of(self, key: str) -> Signed | None:
        for held in self.rows.values():
            if held.entry.kind == "enrolled" and held.entry.about["key"] == key:
                return held.signed
        return None

    @property
    def device(self) -> str:
        """Give the name by which the office knows this phone."""
        return self.pen.device

    def key_ids(self) -> list[tuple[str, str]]:
        """Give the keys on this phone, each with its person."""
        return [(person, key.id) for person, key in self.pen.keys.items()]

    def entries_of(self, subject: str) -> list[Entry]:
        """Give what this phone trusts of a subject."""
        return self.pen.of_subject(subject)

    def record(self, kind: str, **fields: Any) -> str:
        """Sign an entry and keep it; gives its id."""
        entry = self.pen.write(kind, **fields)
        signed = self.pen.outbox.pop()
        self.rows[entry.id] = Held(signed=signed, entry=entry, waiting=True)
        return entry.id

    def photograph(self, raw: bytes, kind: str, **fields: Any) -> str:
        """Keep a picture and sign an entry that names it; gives the entry's id."""
        name = hashlib.sha256(raw).hexdigest()
        self.photos_held[name] = raw
        self.unsent.add(name)
        return self.record(kind, photos=[name], **fields)

    def photos(self) -> set[str]:
        """Give the hashes of the photos on this phone."""
        return set(self.photos_held)

    def waiting_photos(self) -> set[str]:
        """Give the hashes of the photos that will be offered again."""
        return set(self.unsent)

    def holds(self) -> dict[str, Signed]:
        """Give every entry on this phone by its id."""
        return {entry_id: held.signed for entry_id, held in self.rows.items()}

    def waiting(self) -> set[str]:
        """Give the ids that will be offered again."""
        return {entry_id for entry_id, held in self.rows.items() if held.waiting}

    def sync(self) -> None:
        """Offer what waits, take what is new.

        Errors: `Lost`, `Refused`, `Wrong`: what was done so far stands.
        """
        self._push()
        try:
            self._pull()
        except Refused as no:
            if no.status != 403:
                raise
            self._look_from_outside()
        self._push()
        self._bring_photos()

    def shift_clock(self, ms: int, now: int) -> None:
        """Set the clock wrong by so much more, and switch off and on."""
        self.pen.skew_ms = max(-30 * YEAR_MS, min(50 * YEAR_MS, self.pen.skew_ms + ms))
        self.pen.restart(now)

    def vanish(self) -> None:
        """Drown."""
        self.rows.clear()
        self.photos_held.clear()
        self.unsent.clear()

    def copy(self, road: Road) -> "Stranger":
        """Give this phone once more, as brought back from a backup of it."""
        pen = replace(
            self.pen, keys=dict(self.pen.keys), entries=dict(self.pen.entries),
            outbox=[], photos={},
        )  # fmt: skip
        return replace(
            self, road=road, pen=pen, rows=dict(self.rows), alarms=[],
            promised=dict(self.promised), photos_held=dict(self.photos_held),
            unsent=set(self.unsent),
        )  # fmt: skip

    def _push(self) -> None:
        while batch := self._next_batch():
            body = {"entries": [{"bytes": s.body, "sig": s.sig} for _, s in batch]}
            answer = self.road.ask("/api/push", body, self.pen.token)
            self._believe(answer["receipt"])
            for (entry_id, _), result in zip(batch, answer["results"], strict=True):
                assert result["result"] in ANSWERED, result
                assert result.get("id") == entry_id, result
                self.rows[entry_id] = replace(self.rows[entry_id], waiting=False)

    def _bring_photos(self) -> None:
        for name in sorted(self.unsent):
            told = self.road.bring_photo(self.photos_held[name], name, self.pen.token)
            assert told["result"] in ("stored", "duplicate"), told
            self.unsent.discard(name)

    def _next_batch(self) -> list[tuple[str, Signed]]:
        waiting = [(i, held.signed) for i, held in self.rows.items() if held.waiting]
        return waiting[:BATCH]

    def _believe(self, receipt: dict[str, str]) -> None:
        if not verify(self.office, receipt["bytes"].encode(), receipt["sig"]):
            raise Wrong("a receipt that the site's key did not sign")
        told = json.loads(receipt["bytes"])
        before = self.promised.setdefault(told["last"], told["head"])
        if before != told["head"]:
            self.promised[told["last"]] = ""

    def _pull(self) -> None:
        while True:
            path = f"/api/pull?after={self.place}&limit={PAGE}"
            page = self.road.ask(path, token=self.pen.token)
            fault = self._contradicts(page)
            self.epoch = page["epoch"]
            if fault:
                self._begin_again(fault)
                continue
            kept = self._read(page["entries"])
            if kept and page["last"] > self.place:
                continue
            if kept and page["head"] == self.head and not self.promised:
                return
            self._begin_again("rewritten")

    def _contradicts(self, page: dict[str, Any]) -> str | None:
        if self.epoch not in (None, page["epoch"]):
            return "epoch"
        return "rolled back" if page["last"] < self.place else None

    def _begin_again(self, alarm: str) -> None:
        """The office may lack what it once had: everything is offered again."""
        self.alarms.append(alarm)
        self.place, self.head = 0, START_HEAD
        self.promised.clear()
        self.rows = {i: replace(held, waiting=True) for i, held in self.rows.items()}
        self.unsent = set(self.photos_held)

    def _look_from_outside(self) -> None:
        """A phone out of force is told nothing but the epoch's name."""
        epoch = self.road.ask("/api/ping")["epoch"]
        if not self.outside or self.epoch != epoch:
            self._begin_again("epoch")
        self.epoch, self.outside = epoch, True

    def _read(self, found: Iterable[dict[str, Any]]) -> bool:
        """Take a page in; says whether what receipts promised was there."""
        kept = self._as_promised()
        for each in found:
            if each["index"] <= self.place:
                continue
            if each["index"] != self.place + 1:
                raise Wrong(f"entry {self.place + 1} is missing")
            signed = Signed(body=each["bytes"], sig=each["sig"])
            entry = read_entry(signed.body.encode())
            self.place, self.head = each["index"], next_head(self.head, entry.id)
            self._keep(entry, signed)
            kept &= self._as_promised()
        return kept

    def _as_promised(self) -> bool:
        """Hold what was promised of the index just reached against the chain."""
        return self.promised.pop(self.place, self.head) == self.head

    def _keep(self, entry: Entry, signed: Signed) -> None:
        if entry.id in self.rows:
            return
        trusted = self._trusts(entry, signed)
        self.rows[entry.id] = Held(
            signed=signed, entry=entry, waiting=False, trusted=trusted
        )
        if trusted:
            self.pen.entries[entry.id] = entry

    def _trusts(self, entry: Entry, signed: Signed) -> bool:
        public: str | None = self.office
        if entry.person != "office":
            own = self.pen.of_subject(None)
            key = find_key(roster(own, key_id(self.office)), entry.person, entry.key)
            if key is None or key["device"] != entry.device:
                return False
            public = key["public"]
        return verify(public or "", signed.body.encode(), signed.sig)
