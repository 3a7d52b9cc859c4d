"""What a subject was read with: each item once, its last day, and what took it out.

What took an item out of use ends it for the phones by that hour; the day its own
certificate was good to is told as paper tells it.
"""

from typing import Any

from fieldapp.lookups import Folded
from fieldapp.lookups.natural import natural
from fieldapp.lookups.reading import Reader
from fieldapp.lookups.register import certificate_had, uses_in
from fieldapp.store.register import registrations

Row = dict[str, Any]


def items_used(reader: Reader, found: Folded) -> list[Row]:
    """Give each item the subject used, with the certificates its readings relied on."""
    used: dict[str, Row] = {}
    for use in uses_in(found):
        row = used.setdefault(use.item, {"readings": 0, "certificates": set()})
        row["readings"] += 1
        row["certificates"].add(use.certificate or "")
    return [
        {"id": name, "known": _known(reader, found, name), **row}
        for name, row in sorted(used.items(), key=lambda pair: natural(pair[0]))
    ]


def _known(reader: Reader, found: Folded, name: str) -> Row | None:
    known = found.register.get(name)
    if known is None or "out" not in known:
        return known
    told = {entry.id: entry for entry in registrations(reader.store)}
    out = told[known["entry"]]
    expires = certificate_had(reader, out).about.get("expires")
    return {"label": known["label"], "expires": expires, "out": out}
