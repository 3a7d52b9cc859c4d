"""What lies beside the ledger: photos, sheets and tables, receipts, quarantine.

Photos are hashed and decoded again, documents hashed and read again, and every
receipt is held against the ledger it speaks of. Receipts are numbered and each names
the one before, so one that was taken out is missed.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.canonical import NotCanonical, read_canonical, sha256_hex
from fieldapp.lookups.audit.ledger import Ledger
from fieldapp.lookups.audit.report import Finding, fault, note
from fieldapp.lookups.audit.rows import Unreadable, named_rows, numbered_rows
from fieldapp.signatures import verify
from fieldapp.store.database import Store, read_meta
from fieldapp.store.images import ImageRefused, read_image

Counts = dict[str, int]


def photo_findings(store: Store, ledger: Ledger, counts: Counts) -> Iterator[Finding]:
    """Hash and decode every photo again, and miss those that entries name."""
    kept = set()
    for row in named_rows(store, "photos", "hash"):
        if isinstance(row, Unreadable):
            yield fault("photos", f"cannot be read: {row.why}")
            continue
        counts["photos"] += 1
        kept.add(row["hash"])
        where = f"photo {str(row['hash'])[:16]}"
        if not isinstance(row["body"], bytes):
            yield fault(where, "something that is no picture stands in its place")
            continue
        if sha256_hex(row["body"]) != row["hash"]:
            yield fault(where, "the bytes are not those of the hash")
        yield from _decoding(where, row)
    absent = sorted(set(ledger.photos) - kept)
    if absent:
        first = f"first {absent[0][:16]} (index {ledger.photos[absent[0]]})"
        yield note("photos", f"{len(absent)} that entries name are not here, {first}")


def body_findings(store: Store, ledger: Ledger, counts: Counts) -> Iterator[Finding]:
    """Hash and read sheets, tables and sites again; what is issued must be here."""
    kept: dict[str, set[Any]] = {"sheet": set(), "table": set(), "site": set()}
    wanted: dict[str, str] = {}
    for row in named_rows(store, "bodies", "hash"):
        if isinstance(row, Unreadable):
            yield fault("bodies", f"cannot be read: {row.why}")
            continue
        counts["documents"] += 1
        where = f"{row['kind']} {str(row['hash'])[:16]}"
        kept.setdefault(row["kind"], set()).add(row["hash"])
        try:
            document = read_canonical(str(row["body"]).encode("utf-8"))
        except (NotCanonical, UnicodeEncodeError) as trouble:
            yield fault(where, f"cannot be read: {trouble}")
            continue
        if sha256_hex(str(row["body"]).encode("utf-8")) != row["hash"]:
            yield fault(where, "the bytes are not those of the hash")
        if row["kind"] == "sheet" and isinstance(document, dict):
            wanted |= dict.fromkeys(document.get("tables", {}).values(), where)
    for table in sorted(set(wanted) - kept["table"]):
        yield fault(wanted[table], f"its table {table[:16]} is missing")
    for sheet in sorted(set(ledger.issued) - kept["sheet"]):
        where = f"index {ledger.issued[sheet]}"
        yield fault(where, f"the sheet {sheet[:16]} it issues is missing")
    if read_meta(store, "site_body") not in (None, *kept["site"]):
        yield fault("site", "the document of the site in force is missing")


def receipt_findings(store: Store, ledger: Ledger, counts: Counts) -> Iterator[Finding]:
    """Hold every receipt against the key, the ledger, and the receipt before it."""
    last, before = 0, ""
    for row in numbered_rows(store, "receipts", "number"):
        if isinstance(row, Unreadable):
            yield fault(f"receipt {row.number}", f"cannot be read: {row.why}")
            last, before = row.number, ""
            continue
        counts["receipts"] += 1
        where, body = f"receipt {row['number']}", str(row["body"])
        if row["number"] != last + 1:
            yield fault(f"receipt {last + 1}", f"missing, found {row['number']}")
            before = ""
        if not _holds(ledger, body, str(row["sig"])):
            yield fault(where, "the signature of the site does not hold")
        else:
            yield from _told(where, read_canonical(body.encode()), ledger, row, before)
        last, before = row["number"], sha256_hex(body.encode("utf-8", "replace"))


def apart_findings(store: Store, counts: Counts) -> Iterator[Finding]:
    """Hash what is set apart again, and say why it is there."""
    reasons: dict[str, int] = {}
    for row in named_rows(store, "quarantine", "rowid"):
        if isinstance(row, Unreadable):
            yield fault("quarantine", f"cannot be read: {row.why}")
            continue
        counts["quarantine"] += 1
        reasons[str(row["reason"])] = reasons.get(str(row["reason"]), 0) + 1
        if sha256_hex(str(row["body"]).encode("utf-8", "replace")) != row["id"]:
            where = f"quarantine {str(row['id'])[:16]}"
            yield fault(where, "the bytes are not those of the id")
    for reason, count in sorted(reasons.items()):
        yield note("quarantine", f"{count} set apart: {reason}")


def _decoding(where: str, row: dict[str, Any]) -> Iterator[Finding]:
    try:
        facts = read_image(row["body"])
    except ImageRefused as refused:
        yield fault(where, f"cannot be decoded: {refused}")
        return
    if (facts.type, facts.width, facts.height) != (
        row["type"],
        row["width"],
        row["height"],
    ):
        yield fault(where, "its type or size is not what is written beside it")


def _holds(ledger: Ledger, body: str, sig: str) -> bool:
    raw = body.encode("utf-8", "replace")
    return verify(ledger.keys.office_public, raw, sig)


def _told(
    where: str, said: dict[str, Any], ledger: Ledger, row: dict[str, Any], before: str
) -> Iterator[Finding]:
    """Hold what a receipt says (its signature holds) against what is here."""
    if said.get("number", row["number"]) != row["number"]:
        yield fault(where, f"was made as receipt {said['number']}")
    if before and said.get("before", before) != before:
        yield fault(where, "does not follow from the receipt before it")
    if (said["device"], said["at"]) != (row["device"], row["made"]):
        yield fault(where, "device or time is not what was signed")
    known = said["last"] < len(ledger.heads)
    if not known or ledger.heads[said["last"]] not in ("", said["head"]):
        yield fault(where, f"the ledger was another one up to index {said['last']}")
    for each in said["entries"]:
        place = ledger.places.get(each["id"])
        if place != each["index"]:
            found = f"at index {place}" if place else "gone"
            yield fault(where, f"index {each['index']}: its entry is {found}")
