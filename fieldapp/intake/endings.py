"""How the office ends keys: one whose PIN was forgotten, all of a phone that was lost.

A retired key's entries stand, sent or not. A revoked key's stand as far as what
the revocation names leads to them. Nothing is ever deleted.
"""

from typing import Any

from fieldapp.core.roster import find_key
from fieldapp.intake.door import Door, append_own
from fieldapp.intake.lost import revoke_key
from fieldapp.store.database import writing
from fieldapp.store.devices import find_device, revoke_device
from fieldapp.store.roster import people_of


class EndingRefused(Exception):
    """A key or phone that cannot be ended; the text says why."""


def retire_key(door: Door, *, person: str, key: str, reason: str, now: int) -> None:
    """Retire a person's key: its PIN was forgotten, and a new code makes a new one.

    Errors: `EndingRefused`.
    """
    with writing(door.store):
        found = find_key(people_of(door.store, door.office.id), person, key)
        if found is None or found["status"] != "active":
            raise EndingRefused(f"{person} has no such key in use")
        about = {"person": person, "key": key, "reason": reason}
        append_own(door, "key_retired", about, now)


def lose_phone(door: Door, *, device: str, reason: str, now: int) -> list[str]:
    """Revoke every key on a phone, and its right to hear from here; gives whose.

    Errors: `EndingRefused` for a phone nobody knows, or one already given up.
    """
    with writing(door.store):
        people = people_of(door.store, door.office.id)
        keys = keys_on(people, device)
        known = find_device(door.store, device)
        if not keys and (known is None or known.revoked):
            raise EndingRefused(f"no phone {device} is in use")
        for person, key in keys:
            revoke_key(door, person, key, reason, now)
        revoke_device(door.store, device, now)
    return [person for person, _ in keys]


def keys_on(people: dict[str, dict[str, Any]], device: str) -> list[tuple[str, str]]:
    """Give person and key id of the keys on a device that are not revoked yet."""
    return [
        (person, key)
        for person, known in people.items()
        for key, facts in known["keys"].items()
        if facts["device"] == device and facts["status"] != "revoked"
    ]
