"""What a lost phone signed before it was lost: said by the ledger, never by a clock.

A revocation names the last entries of the lost phone that the office had, and those of
which it had only heard. An entry of that phone stands if these names lead to it by its
hash, in whatever order and by whatever road it comes, also to an office brought back
from an old backup. A revocation of the first versions names nothing: behind it an
entry stands only if something from before its place in the ledger leads to it.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping

from fieldapp.core.entries import Entry
from fieldapp.core.roster import find_key
from fieldapp.core.witness import led_to
from fieldapp.intake.door import OFFICE, Door, append_own
from fieldapp.store.database import Store
from fieldapp.store.devices import find_device, revoke_device
from fieldapp.store.ledger import heads_at, last_of_device, places_of
from fieldapp.store.roster import names_of_revoked, people_of, people_without
from fieldapp.store.struck import bodies_before, bodies_of_device, strike

LATEST_NAMED = 16
"""So many of a phone's latest entries are named, should the very last be lost."""
MOST_NAMED = 800
"""An entry is 64 KiB at most and a name 67 bytes of it."""
_NAMED = re.compile(r'"([0-9a-f]{64})"')
_KNOWN = re.compile(r'"(?:after|needs)":\[([^\]]*)\]')
_ADDS = '"kind":"key_added"'
FAR = 2**62
Lost = tuple[str, str, str]
"""A revoked key, its device, and the entry that revoked it first."""


def revoke_key(door: Door, person: str, key: str, reason: str, now: int) -> None:
    """Revoke a key that is in the roster (inside `writing`)."""
    device = people_of(door.store, door.office.id)[person]["keys"][key]["device"]
    about = {"person": person, "key": key, "reason": reason}
    append_own(door, "key_revoked", about, now, needs=last_known_of(door.store, device))


def last_known_of(store: Store, device: str) -> list[str]:
    """Give what a revocation names: a phone's last entries, had or heard of.

    Never empty, since it names the office's own last entry too; but for more than an
    entry may name (a hostile phone may name what never was): then nothing, and the
    revocation is judged by its place.
    """
    office = last_of_device(store, OFFICE)
    own = bodies_of_device(store, device)
    named = {name for body in own.values() for name in _NAMED.findall(body)}
    names = {each for each in own if each not in named} | {*[*own][-LATEST_NAMED:]}
    names |= _heard_of(store) | ({office[1]} if office else set())
    return sorted(names) if len(names) <= MOST_NAMED else []


def standing_of_lost(
    store: Store, office_key: str, offered: Iterable[tuple[Entry, str]]
) -> frozenset[str]:
    """Give, of the offered entries of revoked keys, the ids that stand all the same."""
    people = people_of(store, office_key)
    late: dict[Lost, dict[str, str]] = {}
    by_device: dict[str, dict[str, str]] = {}
    for entry, body in offered:
        by_device.setdefault(entry.device, {})[entry.id] = body
        key = find_key(people, entry.person, entry.key)
        if key is not None and key["status"] == "revoked":
            lost = (entry.key, key["device"], key["ended"])
            late.setdefault(lost, {})[entry.id] = body
    found: set[str] = set()
    for (key_id, device, ended), mine in late.items():
        names = names_of_revoked(store, office_key)[key_id]
        if not names:
            found.update(led_to(mine, _earlier(store, key_id, device, ended, mine)))
            continue
        # The chain of a phone leads through the entries of everybody on it.
        known = bodies_of_device(store, device) | by_device.get(device, {})
        found.update(mine.keys() & led_to(known, names))
    return frozenset(found)


def strike_what_fell(door: Door) -> bool:
    """Strike what the ledger has of revoked keys and no revocation leads to.

    That came in between a restore and the return of the revocation; and what was
    signed with a key that only such an entry added. Gives whether anything changed
    (inside `writing`).
    """
    store, office = door.store, door.office.id
    fallen: dict[str, str] = {}
    for known in people_of(store, office).values():
        for key_id, key in known["keys"].items():
            names = key["status"] == "revoked" and names_of_revoked(store, office)
            if names and names[key_id]:
                fallen.update(_fallen(store, key_id, key["device"], names[key_id]))
    late = fallen
    while late:
        late = dict(_signed_by_nobody(store, office, fallen, late))
        fallen |= late
    return strike(store, frozenset(fallen))


def shut_out_lost(door: Door, now: int) -> None:
    """Take the right to hear from here from phones whose every key is revoked.

    A restored office learns of a loss from the revocation alone (inside `writing`).
    """
    keys: dict[str, set[str]] = {}
    for known in people_of(door.store, door.office.id).values():
        for key in known["keys"].values():
            keys.setdefault(key["device"], set()).add(key["status"])
    for device, found in keys.items():
        known_as = find_device(door.store, device) if found == {"revoked"} else None
        if known_as and not known_as.revoked:
            revoke_device(door.store, device, now)


def _fallen(
    store: Store, key_id: str, device: str, names: Iterable[str]
) -> Iterator[tuple[str, str]]:
    known = bodies_of_device(store, device)
    standing = set(led_to(known, names))
    for entry_id, body in known.items():
        if entry_id not in standing and json.loads(body)["key"] == key_id:
            yield entry_id, body


def _signed_by_nobody(
    store: Store, office_key: str, fallen: Mapping[str, str], late: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    """Give what was signed with keys that the late of what fell added."""
    worded = [json.loads(body) for body in late.values() if _ADDS in body]
    # A reading may be named so too.
    added = [entry for entry in worded if entry["kind"] == "key_added"]
    people = people_without(store, office_key, fallen.keys()) if added else {}
    for entry in added:
        signer = (entry["person"], entry["about"]["key"])
        if find_key(people, *signer) is not None:
            continue
        device = bodies_of_device(store, entry["about"]["device"])
        for entry_id, body in device.items():
            read = json.loads(body)
            # Of that person: a thief may name somebody else's key.
            if entry_id not in fallen and (read["person"], read["key"]) == signer:
                yield entry_id, body


def _heard_of(store: Store) -> set[str]:
    """Give the ids that entries here say their authors knew, and nobody brought."""
    here: set[str] = set()
    named: set[str] = set()
    for entry_id, body in bodies_before(store, FAR):
        here.add(entry_id)
        for names in _KNOWN.findall(body):
            named.update(_NAMED.findall(names))
    return named - here


def _earlier(
    store: Store, key: str, device: str, ended: str, late: Mapping[str, str]
) -> Iterator[str]:
    place = places_of(store, [ended]).get(ended)
    if place is None:
        return
    yield from _named_before(store, place)
    # What of this key was let in after its revocation was known to be older.
    for body in bodies_of_device(store, device, place).values():
        if f'"key":"{key}"' in body and body not in late.values():
            yield from _NAMED.findall(body)


def _named_before(store: Store, place: int) -> frozenset[str]:
    """Give the hashes that entries before a place name and that are none of them.

    The ledger grows only behind them, so this is read once for each revocation.
    """
    at = (place, *heads_at(store, [place]))
    kept: dict[tuple[object, ...], frozenset[str]]
    kept = store.cache.setdefault("named_before", {})
    if at not in kept:
        here: set[str] = set()
        named: set[str] = set()
        for entry_id, body in bodies_before(store, place):
            here.add(entry_id)
            named.update(_NAMED.findall(body))
        kept[at] = frozenset(named - here)
    return kept[at]
