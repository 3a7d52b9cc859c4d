"""What the office has, read past its pages: its entries, and a subject's state."""

import time
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.config import Running, open_door, running
from fieldapp.core.entries import Entry, read_entry
from fieldapp.lookups import folded
from fieldapp.store.database import connected
from fieldapp.store.ledger import rows_after
from tests.phone.office import Office

LONGEST_TRIES = 100
STEP_S = 0.2


def arrived(office: Office, subject: str) -> list[Entry]:
    """Give a subject's entries in the order the office took them in."""
    wired = _wired(office)
    with connected(wired.door.store):
        rows = rows_after(wired.door.store, 0, 1000)
    entries = [read_entry(row.body.encode()) for row in rows]
    return [entry for entry in entries if entry.subject == subject]


def wait_for_arrival(office: Office, subject: str, wanted: set[str]) -> None:
    """Wait until exactly these entries of a subject are at the office."""
    found: set[str] = set()
    for _ in range(LONGEST_TRIES):
        found = {entry.id for entry in arrived(office, subject)}
        if found == wanted:
            return
        time.sleep(STEP_S)
    raise AssertionError(
        f"{len(found & wanted)} of {len(wanted)} arrived, {len(found - wanted)} others"
    )


def state_at_office(office: Office, subject: str) -> dict[str, Any]:
    """Give a subject's state as the office folds it now."""
    wired = _wired(office)
    with connected(wired.door.store):
        found = folded(wired.reader, subject, wired.clock())
    assert found is not None
    return found.state


def _wired(office: Office) -> Running:
    return running(open_door(office.data), utc_now_ms)
