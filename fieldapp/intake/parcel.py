"""Takes in entries that came as a file: what phones write out when there is no network.

A file is hostile until each entry has proven itself. It is bounded and read strictly
before anything is taken; then every entry goes through the same door as one from the
network and gets the same answer. Nothing is believed because of who brought the file.
"""

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.intake.batch import LARGEST_BATCH, Result, accept
from fieldapp.intake.door import Door
from fieldapp.store.database import connected, read_meta
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Signed

LARGEST_BYTES = 16 * 1024 * 1024
MOST_ENTRIES = 20_000
LONGEST_SIGNATURE = 300
BY_HAND = Device(device="by-hand", revoked=False)
"""Who brings what comes as a file: nobody who could be revoked."""


class ParcelFault(ValueError):
    """A file that is not taken in at all, and why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What became of a file's entries: `counts` by result or reason, and `results`."""

    results: tuple[Result, ...]

    @property
    def counts(self) -> dict[str, int]:
        """Give how many were stored, known before, kept apart by reason, unreadable."""
        told = Counter(
            each.reason or each.result if each.result == "quarantined" else each.result
            for each in self.results
        )
        return dict(sorted(told.items()))


def take_parcel(door: Door, raw: bytes, now: int) -> Brought:
    """Take a file's entries in, batch by batch; each batch is on disk before the next.

    Errors: `ParcelFault` before anything is taken; the store's `StoreUnavailable` (what
    was taken before stays, and the same file may simply be brought again).
    """
    entries = read_parcel(raw, _site_of(door))
    results: list[Result] = []
    for start in range(0, len(entries), LARGEST_BATCH):
        batch = entries[start : start + LARGEST_BATCH]
        results += accept(door, batch, pusher=BY_HAND, now=now).results
    return Brought(results=tuple(results))


def read_parcel(raw: bytes, site: str | None) -> list[Signed]:
    """Read `{"format": 1, "site", "entries": [{"bytes", "sig"}…]}`.

    Errors: `ParcelFault`.
    """
    if len(raw) > LARGEST_BYTES:
        raise ParcelFault(f"The file is too large: allowed {LARGEST_BYTES} bytes.")
    document = _document(raw)
    entries = document.get("entries")
    if document.get("format") != 1 or not isinstance(entries, list):
        raise ParcelFault("This is not a file of entries that a phone wrote out.")
    if document.get("site") != site:
        found = str(document.get("site"))[:64]
        raise ParcelFault(f"The file is of another site: {found}. This is {site}.")
    if len(entries) > MOST_ENTRIES:
        raise ParcelFault(f"Too many entries: allowed {MOST_ENTRIES} in one file.")
    return [_signed(item) for item in entries]


def _document(raw: bytes) -> dict[str, Any]:
    try:
        document = json.loads(raw.decode("utf-8"), object_pairs_hook=_each_once)
    except (ValueError, RecursionError) as fault:
        raise ParcelFault("The file is damaged: it cannot be read.") from fault
    if not isinstance(document, dict):
        raise ParcelFault("This is not a file of entries that a phone wrote out.")
    return document


def _each_once(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    document = dict(pairs)
    if len(document) != len(pairs):
        raise ValueError("a field stands twice")
    return document


def _signed(item: object) -> Signed:
    body = item.get("bytes") if isinstance(item, dict) else None
    sig = item.get("sig") if isinstance(item, dict) else None
    sound = isinstance(sig, str) and len(sig) <= LONGEST_SIGNATURE
    # What is odd stays, to be answered as unreadable like the same from the network.
    return Signed(
        body=body if isinstance(body, str) else "",
        sig=sig if isinstance(sig, str) and sound else "",
    )


def _site_of(door: Door) -> str | None:
    with connected(door.store):
        return read_meta(door.store, "site")
