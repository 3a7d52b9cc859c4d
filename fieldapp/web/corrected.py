"""What a corrected certificate said before and says now, for a nonconformance."""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.lookups.register import corrections_of
from fieldapp.web.desk import Desk

CORRECTED = "item_corrected"
Row = dict[str, Any]


def corrections_told(here: Desk, fault: Row, raised: Entry | None) -> Row | None:
    """Give the item of a nonconformance about a certificate, with its corrections.

    None for any other nonconformance.
    """
    if fault["code"] != CORRECTED or raised is None:
        return None
    item = str(raised.values[fault["check"]])
    rows = [
        {
            "who": here.names.person(entry.person),
            "entry": entry,
            "reason": entry.about["reason"],
            "changes": list(_changes(here, before, entry)),
            "last_day": (before.about.get("expires"), entry.about.get("expires")),
        }
        for before, entry in corrections_of(here.reader, item)
    ]
    return {"item": item, "rows": rows}


def _changes(here: Desk, before: Entry, after: Entry) -> Iterator[tuple[str, str, str]]:
    """Yield what is called otherwise now: what it is, what it was, what it is now."""
    kind = after.about["kind"]
    for name in ("label", "text"):
        old, new = before.about.get(name, ""), after.about.get(name, "")
        if old != new:
            title = {"label": "Label", "text": "Certificate"}[name]
            yield title, old or "nothing", new or "nothing"
    for name in sorted(before.values.keys() | after.values.keys()):
        old, new = (
            here.names.number(kind, name, value)
            if isinstance(value, int)
            else "nothing"
            for value in (before.values.get(name), after.values.get(name))
        )
        if old != new:
            yield here.names.number_title(kind, name), old, new
