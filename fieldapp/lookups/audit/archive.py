"""Archived records held against their hash, the site's key and the ledger.

Statements are numbered and each names the one before, so one taken out is missed. The
bytes are only hashed: a record proves itself (`fieldapp verify`).
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.canonical import NotCanonical, read_canonical, sha256_hex
from fieldapp.lookups.audit.ledger import Ledger
from fieldapp.lookups.audit.report import Finding, fault
from fieldapp.lookups.audit.rows import Unreadable, named_rows
from fieldapp.signatures import verify
from fieldapp.store.database import Store

_SAID = ("number", "subject", "revision", "hash", "basis")


def archive_findings(
    store: Store, ledger: Ledger, counts: dict[str, int]
) -> Iterator[Finding]:
    """Hold every archived record against its statement, and that against the rest."""
    # A database of an older schema has no archive yet; a guard gone is told anyhow.
    if "revisions" not in store.database.get_tables():
        return
    last, before = 0, ""
    revisions: dict[str, int] = {}
    for row in named_rows(store, "revisions", "number"):
        if isinstance(row, Unreadable):
            yield fault("archive", f"cannot be read: {row.why}")
            before = ""
            continue
        counts["archived"] += 1
        where = f"archived {row['number']}, {row['subject']} {row['revision']}"
        if row["number"] != last + 1:
            yield fault("archive", f"number {last + 1} is missing")
            before = ""
        told = str(row["body"]).encode("utf-8", "replace")
        yield from _row_findings(where, row, told, ledger, before)
        due = revisions.get(row["subject"], 0) + 1
        if row["revision"] != due:
            yield fault(where, f"revision {due} was due")
        revisions[row["subject"]] = due
        last = row["number"] if isinstance(row["number"], int) else last
        before = sha256_hex(told)


def _row_findings(
    where: str, row: dict[str, Any], told: bytes, ledger: Ledger, before: str
) -> Iterator[Finding]:
    if not isinstance(row["pdf"], bytes):
        yield fault(where, "something that is no record stands in its place")
    elif sha256_hex(row["pdf"]) != row["hash"]:
        yield fault(where, "the bytes are not those that were archived")
    if not verify(ledger.keys.office_public, told, str(row["sig"])):
        yield fault(where, "the signature of the site does not hold")
        return
    try:
        said = read_canonical(told)
    except NotCanonical as trouble:
        yield fault(where, f"cannot be read: {trouble}")
        return
    for name in _SAID:
        if said.get(name) != row[name]:
            yield fault(where, f"the column {name} is not what was signed")
    if before and said.get("before") != before:
        yield fault(where, "does not follow from the statement before it")
    known = said["last"] < len(ledger.heads)
    if not known or ledger.heads[said["last"]] not in ("", said["head"]):
        yield fault(where, f"the ledger was another one up to index {said['last']}")
