"""The register as pages show it: items by kind with their dates and uses, one item
with its certificates and every reading that named it.
"""

from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.register import takes_out
from fieldapp.lookups import Folded
from fieldapp.lookups.photos import photos_of
from fieldapp.lookups.register import Registered, Use, uses_in
from fieldapp.records.hours import Received, off_told
from fieldapp.store.ledger import rows_of_site
from fieldapp.web.desk import Desk
from fieldapp.web.display import DAY_MS
from fieldapp.web.flags import received_of
from fieldapp.web.joint_parts import label_of

SOON_MS = 7 * DAY_MS
AT_EASE = ("good", "planned", "passed")
"""States of an item that want nobody's eye."""
MANY = 40
"""A kind with more items shows those that are not good, and folds the rest."""
Row = dict[str, Any]


def register_page(
    here: Desk, items: list[Registered], refused: list[Entry], wanted: str = ""
) -> Row:
    """Give the items by kind, those that end soon, and what does not count.

    wanted: part of the id, label or certificate of those listed; "" lists all.
    """
    rows = [_row(here, each) for each in items]
    found = [row for row in rows if wanted.casefold() in _searched(row)]
    kinds = dict.fromkeys(row["kind"] for row in found)
    return {
        "wanted": wanted,
        "shown": len(found),
        "total": len(rows),
        "groups": [
            _group(here.names.item_kind(kind), [r for r in found if r["kind"] == kind])
            for kind in kinds
        ],
        "soon": [row for row in rows if row["state"] not in AT_EASE],
        "refused": [
            {"entry": each, "who": here.names.person(each.person)} for each in refused
        ],
    }


def _searched(row: Row) -> str:
    return " ".join((row["id"], row["label"], row["text"])).casefold()


def _group(title: str, rows: list[Row]) -> Row:
    """Give a kind's items; where there are many, the good ones apart, to be folded."""
    folds = len(rows) > MANY
    return {
        "title": title,
        "count": len(rows),
        "rows": [row for row in rows if not folds or row["state"] not in AT_EASE],
        "good": [row for row in rows if folds and row["state"] in AT_EASE],
    }


def item_page(here: Desk, item: Registered) -> Row:
    """Give one item: what it is, its certificates, and every reading that named it."""
    rows = rows_of_site(here.reader.store, ("registered",))
    received = {row.id: row.received for row in rows}
    found = (_user(here, each, item) for each in here.folded)
    users = [user for user in found if user["uses"]]
    return {
        "item": item,
        "row": _row(here, item),
        "kind": here.names.item_kind(item.kind),
        "history": [_certificate(here, e, received) for e in reversed(item.history)],
        "refused": [_certificate(here, each, received) for each in item.refused],
        "users": users,
        "uncounted": sum(not user["counts"] for user in users),
    }


def _row(here: Desk, item: Registered) -> Row:
    return {
        "id": item.id,
        "label": item.label,
        "kind": item.kind,
        "expires": item.expires,
        "uses": item.uses,
        "limit": item.limit,
        "state": _state(here, item),
        "certificates": len(item.certificates),
        "text": item.certificate,
        "out": item.out
        and {
            "at": item.out.at,
            "who": here.names.person(item.out.person),
            "text": item.out.about.get("text", ""),
        },
    }


def _state(here: Desk, item: Registered) -> str:
    """Say how an item stands: out, passed, planned, expired, used, soon, or good.

    The day of something planned is a day of the programme: then nothing expires.
    """
    if item.out is not None:
        return "out"
    if item.kind in here.names.planned:
        over = item.expires is not None and item.expires < here.now
        return "passed" if over else "planned"
    if item.expires is not None and item.expires < here.now:
        return "expired"
    if item.limit is not None and item.uses >= item.limit:
        return "used"
    soon = item.expires is not None and item.expires < here.now + SOON_MS
    last = item.limit is not None and item.uses == item.limit - 1
    return "soon" if soon or last else "good"


def _certificate(here: Desk, entry: Entry, received: Received) -> Row:
    return {
        "entry": entry,
        "clock": off_told(entry, received),
        "who": here.names.person(entry.person),
        "expires": entry.about.get("expires"),
        "numbers": sorted(
            (
                here.names.number_title(entry.about["kind"], name),
                here.names.number(entry.about["kind"], name, value),
            )
            for name, value in entry.values.items()
            if isinstance(value, int)
        ),
        "text": entry.about.get("text", ""),
        "out": takes_out(entry),
        "reason": entry.about.get("reason", ""),
        "replaces": entry.about.get("replaces", ""),
        "photos": [(p.hash, bool(p.kept)) for p in photos_of(here.reader, [entry])],
    }


def _user(here: Desk, found: Folded, item: Registered) -> Row:
    uses = [use for use in uses_in(found) if use.item == item.id]
    received = received_of(found)
    return {
        "id": found.sheet.subject,
        "title": found.sheet.raw["title"],
        "uses": [_use(here, (found, received), each, item) for each in uses],
        "last": max((use.entry.at for use in uses), default=0),
        "counts": found.sheet.subject in item.subjects,
        "older": any(_older(use, item) for use in uses),
    }


def _use(here: Desk, where: tuple[Folded, Received], use: Use, item: Registered) -> Row:
    found, received = where
    step = found.sheet.raw["steps"][use.step]
    return {
        "step": use.step,
        "where": f"{step['title']} {label_of(step, use.line)}".strip(),
        "who": here.names.person(use.entry.person),
        "entry": use.entry,
        "clock": off_told(use.entry, received),
        "stands": use.stands,
        "certificate": use.certificate,
        "older": _older(use, item),
    }


def _older(use: Use, item: Registered) -> bool:
    # What took the item out of use replaced no certificate: that it named still stands.
    stands = item.out.about["replaces"] if item.out is not None else None
    return use.certificate not in (None, item.entry, stands)
