"""What the ledger holds of lost phones and is kept as not believed, worked out anew."""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, field

from fieldapp.core.entries import Entry, read_entry
from fieldapp.lookups.audit.keys import Keys
from fieldapp.lookups.audit.late import Late, fallen
from fieldapp.lookups.audit.report import Finding, fault
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
    for device in lost.values():
        for late in device.late.values():
            yield from fallen(late, device.bodies, struck)
    known = {
        each.id
        for device in lost.values()
        for late in device.late.values()
        for each in late
    }
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
