"""Whose key signed an entry, judged by what the ledger held before it.

Independent of the door in on purpose: a fault of intake must not hide itself. The
roster grows as the ledger is read, so an entry that stands before the enrolment of
its key, or behind its revocation, is found.
"""

from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.roster import ROSTER_KINDS, find_key, roster
from fieldapp.signatures import verify

OFFICE = "office"


@dataclass(slots=True, kw_only=True)
class Keys:
    """The site's own key, and what the ledger has said of people's keys so far.

    `revoked` holds, by key, the index of its revocation; `named` what it names.
    """

    site: str
    office_key: str
    office_public: str
    register: list[Entry] = field(default_factory=list)
    people: dict[str, dict[str, Any]] = field(default_factory=dict)
    revoked: dict[str, int] = field(default_factory=dict)
    named: dict[str, frozenset[str]] = field(default_factory=dict)

    def fault_of(self, entry: Entry, body: str, sig: str) -> str | None:
        """Give what is wrong with who signed an entry, or None."""
        if entry.site != self.site:
            return f"it is of another site, {entry.site}"
        key = self._key_of(entry)
        if key is None:
            return f"its key is not one of {entry.person}'s that was known before it"
        if key["device"] != entry.device:
            return f"its key belongs to the device {key['device']}"
        if not verify(key["public"], body.encode("utf-8"), sig):
            return "the signature does not hold"
        return None

    def take(self, entry: Entry, place: int) -> None:
        """Take note of what an entry whose signature holds says of keys."""
        by_person = entry.kind == "key_added"
        if entry.kind not in ROSTER_KINDS or (
            entry.key != self.office_key and not by_person
        ):
            return
        self.register.append(entry)
        self.people = roster(self.register, self.office_key)
        if entry.kind == "key_revoked":
            key = entry.about["key"]
            self.revoked.setdefault(key, place)
            self.named[key] = self.named.get(key, frozenset()) | {*entry.needs}

    def lost_devices(self) -> set[str]:
        """Give the devices of keys whose revocation names what was before it."""
        return {
            key["device"]
            for person in self.people.values()
            for name, key in person["keys"].items()
            if self.named.get(name)
        }

    def _key_of(self, entry: Entry) -> dict[str, Any] | None:
        if entry.person == OFFICE:
            own = {"public": self.office_public, "device": OFFICE, "status": "active"}
            return own if entry.key == self.office_key else None
        return find_key(self.people, entry.person, entry.key)
