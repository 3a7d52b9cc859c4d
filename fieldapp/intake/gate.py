"""What may be believed of an entry at the door: by whom it is signed, and on what.

The key must be the roster's for that person and device, the signature must hold, and
the key must not be revoked, unless what the revocation names leads to the entry.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.roster import find_key
from fieldapp.intake.door import OFFICE, Door
from fieldapp.intake.lost import standing_of_lost
from fieldapp.signatures import SigningKey, verify
from fieldapp.store.database import read_meta
from fieldapp.store.ledger import Signed
from fieldapp.store.roster import people_of

Proof = tuple[str, str, str]
"""An entry's id, a signature, and the public key with which it holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """The site, its key, the roster, what is proven, and what stands all the same."""

    site: str | None
    office: SigningKey
    people: dict[str, dict[str, Any]]
    proven: frozenset[Proof] = frozenset()
    standing: frozenset[str] = frozenset()


def gate_of(door: Door, read: Sequence[tuple[Entry, str]] = ()) -> Gate:
    """Give what entries are judged by; read: those to be judged, with their bytes."""
    people = people_of(door.store, door.office.id)
    return Gate(
        site=read_meta(door.store, "site"),
        office=door.office,
        people=people,
        standing=standing_of_lost(door.store, door.office.id, read),
    )


def doubt(gate: Gate, entry: Entry, signed: Signed) -> str | None:
    """Give why an entry is not believed (a reason of `quarantined`), or None."""
    if entry.site != gate.site:
        return "other_site"
    key = key_of(gate, entry)
    if key is None:
        return "unknown_key"
    if key["device"] != entry.device:
        return "other_device"
    proven = (entry.id, signed.sig, key["public"]) in gate.proven
    if not proven and not verify(key["public"], signed.body.encode(), signed.sig):
        return "bad_signature"
    revoked = key["status"] == "revoked" and entry.id not in gate.standing
    return "revoked_key" if revoked else None


def key_of(gate: Gate, entry: Entry) -> dict[str, Any] | None:
    """Give the key that should have signed an entry, or None if it is unknown."""
    if entry.person == OFFICE:
        own = {"public": gate.office.public, "device": OFFICE, "status": "active"}
        return own if entry.key == gate.office.id else None
    return find_key(gate.people, entry.person, entry.key)
