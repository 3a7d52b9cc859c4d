"""The door itself: the database, the site's key, and the entries that key signs.

They stand in the same ledger, in the same chain, as everybody's.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from secrets import token_bytes
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import read_entry
from fieldapp.intake.turns import Turns
from fieldapp.signatures import SigningKey, sign
from fieldapp.store.database import Store, read_meta
from fieldapp.store.ledger import Signed, append, last_of_device

OFFICE = "office"
"""Person and device of the entries which the site itself signs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """Where entries go in: the database, the site's own key, and who waits to.

    `secret`: what the challenges of this run are made with; it is kept nowhere.
    """

    store: Store
    office: SigningKey
    turns: Turns[Any] = field(default_factory=Turns)
    secret: bytes = field(default_factory=lambda: token_bytes(32), repr=False)


def append_own(
    door: Door,
    kind: str,
    about: dict[str, Any],
    now: int,
    *,
    values: dict[str, int] | None = None,
    needs: Sequence[str] = (),
) -> None:
    """Sign and append an entry of the site's own (inside `writing`)."""
    last = last_of_device(door.store, OFFICE)
    entry: dict[str, Any] = {
        "format": 1,
        "site": read_meta(door.store, "site"),
        "rules": 1,
        "kind": kind,
        "about": about,
        "person": OFFICE,
        "device": OFFICE,
        "key": door.office.id,
        "seq": last[0] + 1 if last else 1,
        "after": [],
        "at": now,
        "at_by": "tap",
        "made": now,
        "zone": 0,
        # The office has no monotonic clock to vouch for: each entry its own session.
        "session": f"{OFFICE}-{now}",
        "mono": 0,
        "shell": OFFICE,
    }
    if last:
        entry["prev"] = last[1]
    if values:
        entry["values"] = values
    if needs:
        entry["needs"] = list(needs)
    body = canonical(entry)
    signed = Signed(body=body.decode("utf-8"), sig=sign(door.office, body))
    append(door.store, [(read_entry(body), signed)], now)
