"""What the site's key states: numbered, and naming the statement before it.

Receipts and archived records are two such chains: what is taken out of one is missed.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.intake.door import Door
from fieldapp.signatures import sign
from fieldapp.store.database import epoch, read_meta
from fieldapp.store.ledger import Signed


def stated(
    door: Door, said: Mapping[str, Any], place: tuple[int, str | None], now: int
) -> Signed:
    """Sign what is said at a place of its chain: number, and hash of the one before."""
    number, before = place
    statement = {
        **said,
        "format": 1,
        "site": read_meta(door.store, "site") or "",
        "epoch": epoch(door.store),
        "number": number,
        "at": now,
        **({"before": before} if before else {}),
    }
    body = canonical(statement)
    return Signed(body=body.decode("utf-8"), sig=sign(door.office, body))
