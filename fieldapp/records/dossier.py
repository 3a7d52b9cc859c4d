"""The records of a pier or of the whole site as one file, behind a cover and contents.

An archived subject goes in as its last revision, as it was kept; any other that was
begun is printed as of now and said to be a print. Each record is also attached as it
is, so that it can be taken out and proved. Records are read one at a time.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, BinaryIO

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.lookups import Folded, Reader, folded, overview, site_picture
from fieldapp.lookups.archive import Archived, all_archived
from fieldapp.records.dossier_front import (
    DossierView,
    Row,
    front_pdf,
    front_view,
    parts_of,
)
from fieldapp.records.figures import moment, pdf_moment
from fieldapp.records.gather import evidence_of
from fieldapp.records.joining import Attached, Part, join
from fieldapp.records.marks import mark
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_size
from fieldapp.records.record import record_pdf
from fieldapp.records.revisions import since_told
from fieldapp.store.archive import revision_bytes
from fieldapp.store.database import reading

LIST = "dossier.json"
FORMAT = 1
PDF_TYPE = "application/pdf"


class UnknownPart(ValueError):
    """A part of the site that is not known or has nothing; the text says which are."""


def pier_of(site: Mapping[str, Any]) -> dict[str, str]:
    """Give the pier of every subject that has one."""
    return {e["id"]: e["pier"] for e in site.get("subjects", ()) if e.get("pier")}


def write_dossier(
    reader: Reader, file: BinaryIO, folder: Path, now: int, *, pier: str, size: str = ""
) -> tuple[Row, ...]:
    """Write the dossier of a pier ("" for the site) as of now; gives its records.

    folder: where each record lies while it is made. Errors: `UnknownPart`,
    `UnknownSize`, and those of `record_pdf`.
    """
    site = site_picture(reader.store) or {}
    paper = page_size(size or site.get("paper", DEFAULT_SIZE))
    chosen = _chosen(reader, now, pier)
    begun = [found for found in chosen if found.entries]
    names = Names(site=site)
    rows: list[Row] = []

    def parts() -> Iterator[Part]:
        for row in _rows(reader, folder, begun, now, paper):
            rows.append(row)
            yield _part(folder, row)

    def front(pages: Mapping[str, int]) -> tuple[bytes, list[Attached]]:
        rows[:] = [replace(row, pages=pages[row.subject]) for row in rows]
        view = front_view(names, pier, rows, chosen, now)
        pdf, rows[:] = front_pdf(view, rows, now, paper)
        told = [_attached(folder, row) for row in rows]
        return pdf, [_list(view, rows, now), *told]

    join(file, parts(), front, pdf_moment(now))
    return tuple(rows)


def begun_at(reader: Reader, now: int, pier: str) -> list[Folded]:
    """Give the subjects of which a dossier has records. Errors: `UnknownPart`."""
    return [found for found in _chosen(reader, now, pier) if found.entries]


def _chosen(reader: Reader, now: int, pier: str) -> list[Folded]:
    site = site_picture(reader.store) or {}
    known, of = parts_of(site), pier_of(site)
    if pier and pier not in known:
        raise UnknownPart(f"pier {pier}: allowed: {', '.join(known) or 'none'}")
    every = overview(reader, now)
    found = [e for e in every if not pier or of.get(e.sheet.subject) == pier]
    if not any(each.entries for each in found):
        raise UnknownPart("nothing was begun there, so there is no record")
    return found


def _rows(
    reader: Reader, folder: Path, begun: list[Folded], now: int, paper: str
) -> Iterator[Row]:
    """Put the records into the folder, one after another, and say what they are."""
    known = all_archived(reader, begun)
    zone = Names(site=site_picture(reader.store) or {}).zone
    for found in begun:
        subject = found.sheet.subject
        last = known[subject].last
        if last:
            pdf = revision_bytes(reader.store, subject, last.revision)
            assert pdf is not None, f"revision {last.revision} of {subject} is gone"
            row = _row(found, known[subject], pdf, zone, last.said)
        else:
            # Folded again: an entry may have come since the list was made.
            with reading(reader.store):
                fresh = folded(reader, subject, now)
                assert fresh is not None, f"{subject} has entries and no record"
                evidence = evidence_of(reader, fresh, now, paper)
            pdf = record_pdf(evidence)
            said = {"verdict": fresh.state["verdict"], "last": evidence.last}
            row = _row(fresh, known[subject], pdf, zone, said)
        (folder / row.file).write_bytes(pdf)
        yield row


def _row(
    found: Folded, known: Archived, pdf: bytes, zone: int, said: Mapping[str, Any]
) -> Row:
    subject, raw, last = found.sheet.subject, found.sheet.raw, known.last
    verdict = str(said["verdict"])
    revision = last.revision if last else 0
    file = f"{subject}-{f'revision-{revision}' if revision else 'print'}.pdf"
    at = moment(last.said["at"], zone) if last else ""
    return Row(
        subject=subject,
        title=str(raw["title"]),
        kind=str(raw["kind"]),
        verdict=verdict,
        mark=mark(verdict, "verdict"),
        revision=revision,
        ledger=int(said["last"]),
        told=f"revision {revision}, {at}" if last else "a print: not archived",
        note=since_told(known) if last and known.since else "",
        hash=sha256_hex(pdf),
        file=file,
    )


def _part(folder: Path, row: Row) -> Part:
    read = (folder / row.file).read_bytes
    return Part(key=row.subject, title=row.title, read=read)


def _attached(folder: Path, row: Row) -> Attached:
    about = f"The record of {row.title} as it is by itself: {row.told}"
    read = (folder / row.file).read_bytes
    return Attached(
        name=row.file, type=PDF_TYPE, about=about, relation="Source", read=read
    )


def _list(view: DossierView, rows: list[Row], now: int) -> Attached:
    told = {
        "format": FORMAT,
        "document": view.document,
        "as_of": now,
        "records": [
            {
                "file": row.file,
                "subject": row.subject,
                "revision": row.revision,
                "ledger": row.ledger,
                "verdict": row.verdict,
                "hash": row.hash,
                "first": row.first,
                "pages": row.pages,
            }
            for row in rows
        ],
    }
    about = "Which records these are, their pages, and the SHA-256 of each file"
    body = canonical(told)
    return Attached(
        name=LIST,
        type="application/json",
        about=about,
        relation="Data",
        read=lambda: body,
    )
