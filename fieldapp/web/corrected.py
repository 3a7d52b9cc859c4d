"""What a corrected certificate said before and says now, for a nonconformance."""

from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.lookups.register import certificate_had, corrections_of
from fieldapp.records.certificates import CORRECTED, changes
from fieldapp.web.desk import Desk

Row = dict[str, Any]


def corrections_told(here: Desk, fault: Row, raised: Entry | None) -> Row | None:
    """Give the item of a nonconformance about a certificate, with its corrections.

    None for any other nonconformance.
    """
    if fault["code"] != CORRECTED or raised is None:
        return None
    item = str(raised.values[fault["check"]])
    rows = [
        _row(here, before, entry) for before, entry in corrections_of(here.reader, item)
    ]
    return {"item": item, "rows": rows}


def _row(here: Desk, before: Entry, entry: Entry) -> Row:
    # What took an item out of use says why where a certificate has its name.
    had = certificate_had(here.reader, before)
    out = [] if had is before else [("Use", "taken out of use", "in use again")]
    return {
        "who": here.names.person(entry.person),
        "entry": entry,
        "reason": entry.about["reason"],
        "changes": [*out, *changes(here.names, had, entry)],
        "last_day": (had.about.get("expires"), entry.about.get("expires")),
    }
