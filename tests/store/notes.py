"""Small entries for the tests of what keeps them; nobody looks at the signatures."""

from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import Entry, read_entry
from fieldapp.store.ledger import Signed


def note(
    seq: int, text: str = "Räum die Stelle", **changes: Any
) -> tuple[Entry, Signed]:
    """Give an entry and its bytes; a change to None leaves the field out."""
    document = {
        "format": 1, "site": "tarn", "subject": "J1", "rules": 1, "kind": "note",
        "about": {"text": text}, "person": "ida", "device": "gang", "key": "ab" * 32,
        "seq": seq, "after": [], "at": 5, "at_by": "tap", "made": 5, "zone": 0,
        "session": "s", "mono": 0, "shell": "t",
    } | changes  # fmt: skip
    body = canonical({k: v for k, v in document.items() if v is not None})
    return read_entry(body), Signed(body=body.decode("utf-8"), sig=f"sig-{seq}")
