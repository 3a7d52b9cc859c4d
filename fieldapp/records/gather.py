"""Gathers the evidence of one subject from what the site holds, and prints it.

It only collects: everything on paper is worked out again from what is handed on, so
that the record can be checked with nothing but itself.
"""

import json
from collections.abc import Container, Iterator
from typing import Any

from fieldapp.core.roster import ROSTER_KINDS
from fieldapp.lookups import Folded, Reader, folded, sheet_of, site_picture
from fieldapp.lookups.photos import photo_to_show
from fieldapp.records.evidence import Evidence, Receipt, SignedEntry, Title
from fieldapp.records.pages import DEFAULT_SIZE, page_size
from fieldapp.records.record import record_pdf
from fieldapp.store.bodies import find_body
from fieldapp.store.database import reading as one_moment
from fieldapp.store.ledger import (
    Row,
    Signed,
    ledger_head,
    receipts_since,
    rows_of_site,
)
from fieldapp.store.roster import sheets_issued

_OFFICE = (*sorted(ROSTER_KINDS), "sheet_issued", "registered")
PRINT_PX, PRINT_QUALITY = 480, 70
"""Of a photograph on paper: 41 mm at 290 dots to the inch."""
PRINTS_KEPT = 200


def print_record(
    reader: Reader, subject: str, now: int, size: str = ""
) -> bytes | None:
    """Give the record of a subject as of `now` (ms UTC) as a PDF; None if unknown.

    size: "a4" or "letter"; left out, the site's own. Errors: `UnknownSize` and those
    of `record_pdf`.
    """
    evidence = gather(reader, subject, now, size)
    return record_pdf(evidence) if evidence else None


def gather(reader: Reader, subject: str, now: int, size: str = "") -> Evidence | None:
    """Collect a subject's evidence at a moment; None if it has no sheet.

    Errors: `UnknownSize`.
    """
    # One moment of the database: the ledger must not grow between fold and head.
    with one_moment(reader.store):
        found = folded(reader, subject, now)
        return evidence_of(reader, found, now, size) if found else None


def evidence_of(reader: Reader, found: Folded, now: int, size: str = "") -> Evidence:
    """Collect the evidence of a subject folded for this moment.

    Errors: `UnknownSize`.
    """
    site = site_picture(reader.store) or {}
    page = page_size(size or site.get("paper", DEFAULT_SIZE))
    subject = found.sheet.subject
    hashes = sheets_issued(reader.store, reader.office_key)[subject]
    head = ledger_head(reader.store)
    sheet = found.sheet.raw
    older = {key: _body(reader, "sheet", key) for key in hashes[:-1]}
    tables = {
        key for each in (*older.values(), sheet) for key in each["tables"].values()
    }
    return Evidence(
        site=site,
        sheet=sheet,
        older=older,
        tables={key: _body(reader, "table", key) for key in sorted(tables)},
        entries=tuple(_entry(row) for row in found.rows),
        office=tuple(_entry(row) for row in _office_rows(reader, found)),
        site_public=reader.office_public,
        as_of=now,
        title=Title(document=f"{sheet['site']}-{subject}", page=page),
        last=head.place,
        head=head.head,
        standing={
            **{name: found.standing[name] for name in ("subjects", "items")},
            **_awaited(reader, sheet),
        },
        receipts=tuple(_receipts(reader, found)),
        photos=dict(_photos(reader, found)),
    )


def _awaited(reader: Reader, sheet: dict[str, Any]) -> dict[str, dict[str, str]]:
    """Give what the sheets of other subjects call what this one waits for."""
    found: dict[str, str] = {}
    for each in sheet.get("prerequisites", ()):
        other, name = sheet_of(reader, each["subject"]), each["milestone"]
        if other is not None:
            raw = other.raw
            parts = {**raw["steps"], **raw["points"]}
            parts |= {m["id"]: m for m in raw.get("milestones", ())}
            found[name] = str(parts.get(name, {}).get("title", name))
    return {"titles": found} if found else {}


def _body(reader: Reader, kind: str, body_hash: str) -> dict[str, Any]:
    body = find_body(reader.store, kind, body_hash)
    assert body is not None, f"{kind} {body_hash} was issued and is not kept"
    document: dict[str, Any] = json.loads(body)
    return document


def _entry(row: Row) -> SignedEntry:
    return SignedEntry(
        index=row.place,
        body=row.body,
        sig=row.sig,
        head=row.head,
        received=row.received,
    )


def _office_rows(reader: Reader, found: Folded) -> list[Row]:
    """Give people and their keys, this subject's sheets, the items it relied on."""
    rows = rows_of_site(reader.store, _OFFICE)
    subject, items = found.sheet.subject, found.standing["items"]
    return [row for row in rows if _concerns(json.loads(row.body), subject, items)]


def _concerns(entry: dict[str, Any], subject: str, items: Container[str]) -> bool:
    about = entry["about"]
    if entry["kind"] == "registered":
        return about["item"] in items
    return bool(about.get("subject", subject) == subject)


def _photos(reader: Reader, found: Folded) -> Iterator[tuple[str, bytes]]:
    """Give a small copy of every photograph that is here; each is drawn once."""
    kept = reader.store.cache.setdefault("prints", {})
    names = [name for entry in found.entries for name in entry.photos]
    for name in dict.fromkeys(names):
        if name not in kept:
            if len(kept) >= PRINTS_KEPT:
                kept.clear()
            kept[name] = photo_to_show(reader, name, PRINT_PX, PRINT_QUALITY)
        if kept[name] is not None:
            yield name, kept[name]
        else:
            # It may still come: what is not here is asked for again.
            del kept[name]


def _receipts(reader: Reader, found: Folded) -> list[Receipt]:
    if not found.rows:
        return []
    ids = {row.id for row in found.rows}
    since = min(row.received for row in found.rows)
    kept = receipts_since(reader.store, since)
    return [Receipt(body=r.body, sig=r.sig) for r in kept if ids & _named(r)]


def _named(receipt: Signed) -> set[str]:
    return {each["id"] for each in json.loads(receipt.body)["entries"]}
