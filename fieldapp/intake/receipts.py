"""Receipts: what the site's key says it has taken in.

They are numbered and each names the one before, so that none can be taken out
unnoticed. A receipt is kept beside the ledger and is itself never receipted.
"""

from collections.abc import Iterable

from fieldapp.intake.door import Door
from fieldapp.intake.statement import stated
from fieldapp.store.ledger import Signed, keep_receipt, ledger_head, next_receipt


def make_receipt(
    door: Door, taken: Iterable[tuple[str, int]], *, device: str, now: int
) -> Signed:
    """Sign and keep a receipt for entries and their places (inside `writing`)."""
    head = ledger_head(door.store)
    said = {
        "device": device,
        "head": head.head,
        "last": head.place,
        "entries": [{"id": name, "index": place} for name, place in taken],
    }
    receipt = stated(door, said, next_receipt(door.store), now)
    keep_receipt(door.store, device, receipt, now)
    return receipt
