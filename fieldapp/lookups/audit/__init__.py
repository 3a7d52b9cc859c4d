"""Everything kept, read again from the bytes and held against the site's key.

What is found is only what was looked at: that bytes, signatures, links and hashes
agree with each other and with the site's key, not that anything written in them is
true. Nothing is changed, and nothing about a damaged file may stop the reading.
"""

from collections.abc import Callable, Iterator

from fieldapp.lookups.audit.archive import archive_findings
from fieldapp.lookups.audit.keys import Keys
from fieldapp.lookups.audit.ledger import Ledger
from fieldapp.lookups.audit.papers import (
    apart_findings,
    body_findings,
    photo_findings,
    receipt_findings,
)
from fieldapp.lookups.audit.report import FAULT, NOTE, Finding, Report, fault, note
from fieldapp.store.database import DISK_FAULTS, Store, read_meta
from fieldapp.store.guards import missing_guards
from fieldapp.store.migrations import MIGRATIONS

__all__ = ["FAULT", "NOTE", "Finding", "Report", "audit"]
_COUNTED = ("photos", "documents", "receipts", "archived", "quarantine")
MOST_TOLD = 20
"""So many lines of what SQLite itself finds are repeated."""


def audit(store: Store, *, office_key: str, office_public: str) -> Report:
    """Read everything again (connected to the store); gives what was found.

    office_key, office_public: the site's own key (its id, and base64url).
    """
    site, epoch = _meta(store, "site"), _meta(store, "epoch")
    keys = Keys(site=site, office_key=office_key, office_public=office_public)
    ledger = Ledger(keys=keys)
    counts = dict.fromkeys(_COUNTED, 0)
    findings = [
        *_guarded("database", lambda: _database_findings(store)),
        *_guarded("ledger", lambda: ledger.read(store)),
        *_guarded("receipts", lambda: receipt_findings(store, ledger, counts)),
        *_guarded("documents", lambda: body_findings(store, ledger, counts)),
        *_guarded("photos", lambda: photo_findings(store, ledger, counts)),
        *_guarded("archive", lambda: archive_findings(store, ledger, counts)),
        *_guarded("quarantine", lambda: apart_findings(store, counts)),
    ]
    return Report(
        findings=tuple(findings),
        counts={"entries": len(ledger.places), **counts},
        site=site,
        epoch=epoch,
        last=len(ledger.heads) - 1,
        head=ledger.heads[-1],
    )


def _guarded(where: str, work: Callable[[], Iterator[Finding]]) -> Iterator[Finding]:
    """Go on with the rest when one part of the file cannot be read."""
    try:
        yield from work()
    except DISK_FAULTS as trouble:
        yield fault(where, f"cannot be read: {trouble}")


def _database_findings(store: Store) -> Iterator[Finding]:
    schema = _meta(store, "schema")
    if not schema.isdigit() or int(schema) > len(MIGRATIONS):
        known = f"this program knows {len(MIGRATIONS)}"
        yield fault("database", f"has schema {schema or 'none'}, {known}")
    elif int(schema) < len(MIGRATIONS):
        yield note("database", f"has schema {schema}; serving it brings it up")
    for guard in missing_guards(store.database.execute_sql, int(schema or 0)):
        yield fault("database", f"the guard {guard} is gone or changed")
    for row in store.database.execute_sql(f"PRAGMA integrity_check({MOST_TOLD})"):
        if row[0] != "ok":
            yield fault("database", " ".join(str(row[0]).split()))


def _meta(store: Store, name: str) -> str:
    try:
        return str(read_meta(store, name) or "")
    except DISK_FAULTS:
        return ""
