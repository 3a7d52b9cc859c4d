"""A phone that is made up: keys, a clock that may be wrong, entries and an outbox.

It writes entries as a real phone does, but in plain Python and with the time handed
in. Mutable on purpose: it stands for a thing with a memory.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.graph import order
from fieldapp.core.kinds import needs_pin
from fieldapp.core.sheet import RULES
from fieldapp.signatures import SigningKey, new_key, sign
from fieldapp.store.ledger import Row, Signed

SHELL = "play"


@dataclass(slots=True, kw_only=True)
class Phone:
    """One device. `skew_ms`: its wall clock less the true time; `zone` in minutes."""

    device: str
    site: str
    zone: int = 0
    skew_ms: int = 0
    online: bool = True
    token: str | None = None
    keys: dict[str, SigningKey] = field(default_factory=dict)
    entries: dict[str, Entry] = field(default_factory=dict)
    outbox: list[Signed] = field(default_factory=list)
    photos: dict[str, bytes] = field(default_factory=dict)
    cursor: int = 0
    seq: int = 0
    prev: str | None = None
    starts: int = 0
    started_ms: int = 0
    offset_ms: int | None = None

    def key_of(self, person: str) -> SigningKey:
        """Give a person's key on this phone, made at random on first use."""
        return self.keys.setdefault(person, new_key())

    def restart(self, now: int) -> None:
        """Begin a new session, as after a flat battery."""
        self.starts += 1
        self.started_ms = now

    def heads(self, subject: str) -> list[str]:
        """Give the heads of a subject as this phone knows it."""
        mine = [each for each in self.entries.values() if each.subject == subject]
        return list(order(mine).heads)

    def of_subject(self, subject: str | None) -> list[Entry]:
        """Give the entries of a subject this phone knows; None: the site's own."""
        return [each for each in self.entries.values() if each.subject == subject]

    def take(self, rows: Iterable[Row]) -> None:
        """Take over rows of the ledger, in order; what is known already stays."""
        for row in rows:
            if row.id not in self.entries:
                self.entries[row.id] = read_entry(row.body.encode("utf-8"))
            self.cursor = row.place

    def write(
        self,
        kind: str,
        *,
        person: str,
        now: int,
        subject: str | None = None,
        at: int | None = None,
        **fields: Any,
    ) -> Entry:
        """Sign an entry and put it into the outbox.

        now: the true time, ms UTC; at: the stated time if it was typed, by the true
        clock; fields: sheet, step, line, point, attempt, values, about, needs, photos;
        one that is None is left out.
        """
        wall = now + self.skew_ms
        document: dict[str, Any] = {
            "format": 1,
            "site": self.site,
            "rules": RULES,
            "kind": kind,
            "person": person,
            "device": self.device,
            "key": self.key_of(person).id,
            "seq": self.seq + 1,
            "after": self.heads(subject) if subject else [],
            "at": wall if at is None else at + self.skew_ms,
            "at_by": "tap" if at is None else "typed",
            "made": wall,
            "zone": self.zone,
            "session": f"{self.device}-{self.starts}",
            "mono": now - self.started_ms,
            "shell": SHELL,
            "unlocked": "pin" if needs_pin(kind) else "shift",
        }
        known = {"subject": subject, "prev": self.prev, "offset": self.offset_ms}
        document |= {k: v for k, v in (known | fields).items() if v not in (None, {})}
        return self._keep(document)

    def sign(self, document: Mapping[str, Any]) -> Signed:
        """Sign a document as it is, with the key of the person it names."""
        body = canonical(dict(document))
        sig = sign(self.key_of(document["person"]), body)
        return Signed(body=body.decode("utf-8"), sig=sig)

    def _keep(self, document: dict[str, Any]) -> Entry:
        signed = self.sign(document)
        entry = read_entry(signed.body.encode("utf-8"))
        self.entries[entry.id] = entry
        self.outbox.append(signed)
        self.seq, self.prev = entry.seq, entry.id
        return entry
