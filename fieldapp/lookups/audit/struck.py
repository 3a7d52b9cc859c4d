"""What the ledger holds of lost phones and is kept as not believed, worked out anew."""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, field

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.roster import find_key, roster
from fieldapp.lookups.audit.keys import OFFICE, Keys
from fieldapp.lookups.audit.late import Late, fallen, led_to
from fieldapp.lookups.audit.report import Finding, fault, note
from fieldapp.lookups.audit.rows import Unreadable, numbered_rows
from fieldapp.store.database import DISK_FAULTS, Store
from fieldapp.store.struck import struck_ids


@dataclass(slots=True, kw_only=True)
class _Lost:
    """What the ledger holds of one device: its bodies by id, its entries by key."""

    bodies: dict[str, str] = field(default_factory=dict)
    late: dict[str, list[Late]] = field(default_factory=dict)


def struck_findings(
    store: Store, keys: Keys, places: Mapping[str, int], sound: Set[str]
) -> Iterator[Finding]:
    """Give what does not agree between revocations, ledger and what is struck.

    places: of all entries, by id; sound: the ids of those whose signature holds.
    """
    struck, lost = _struck(store), _lost(store, keys, sound)
    known: set[str] = set()
    fell: set[str] = set()
    for device in lost.values():
        for late in device.late.values():
            yield from fallen(late, device.bodies, struck)
            known.update(each.id for each in late)
            fell |= {each.id for each in late} - led_to(device.bodies, late[0].named)
    for where, entry in _signed_by_nobody(store, keys, sound, fell):
        known.add(entry.id)
        told = f"{entry.kind} by {entry.person} on {entry.device}"
        by = "its key was added by an entry that is not believed"
        yield (note if entry.id in struck else fault)(where, f"{told}: {by}")
    for each in sorted(struck - known):
        where = f"index {places.get(each, 'none')}"
        yield fault(where, f"{each} is kept as struck, and no revocation strikes it")


def bodies(store: Store) -> Iterator[tuple[int, str, str, str]]:
    """Give place, id, body and device of every row that can be read."""
    for row in numbered_rows(store, "ledger", "place"):
        if not isinstance(row, Unreadable):
            yield row["place"], str(row["id"]), str(row["body"]), str(row["device"])


def _lost(store: Store, keys: Keys, sound: Set[str]) -> dict[str, _Lost]:
    devices = keys.lost_devices()
    found = {device: _Lost() for device in devices}
    if not found:
        return found
    for place, entry_id, body, device in bodies(store):
        if device not in found or entry_id not in sound:
            continue
        found[device].bodies[entry_id] = body
        entry = read_entry(body.encode("utf-8"))
        if keys.named.get(entry.key):
            late = found[device].late.setdefault(entry.key, [])
            late.append(_late(keys, entry, place, body))
    return found


def _signed_by_nobody(
    store: Store, keys: Keys, sound: Set[str], fell: Set[str]
) -> Iterator[tuple[str, Entry]]:
    """Give where and what stands that was signed with keys only such entries added."""
    gone, more = set(fell), any(each.id in fell for each in keys.register)
    while more:
        kept = [each for each in keys.register if each.id not in gone]
        people = roster(kept, keys.office_key)
        found = []
        for place, entry_id, body, device in bodies(store):
            if entry_id in gone or entry_id not in sound or device == OFFICE:
                continue
            entry = read_entry(body.encode("utf-8"))
            if find_key(people, entry.person, entry.key) is None:
                found.append((f"index {place}", entry))
        yield from found
        gone |= {entry.id for _, entry in found}
        more = any(entry.kind == "key_added" for _, entry in found)


def _late(keys: Keys, entry: Entry, place: int, body: str) -> Late:
    return Late(
        id=entry.id,
        place=place,
        body=body,
        who=f"{entry.kind} by {entry.person} on {entry.device}",
        revoked=keys.revoked[entry.key],
        named=keys.named[entry.key],
    )


def _struck(store: Store) -> frozenset[str]:
    try:
        return struck_ids(store)
    except DISK_FAULTS:
        return frozenset()  # a backup of an earlier schema has none
