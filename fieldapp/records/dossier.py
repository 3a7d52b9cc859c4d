"""The records of a pier or of the whole site as one file, behind a cover and contents.

An archived subject goes in as its last revision, as it was kept; any other that was
begun is printed as of now and said to be a print. Each record is also attached as it
is, so that it can be taken out and proved. Records are read one at a time.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, BinaryIO

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.lookups import Folded, Reader, overview, site_picture
from fieldapp.lookups.archive import Archived, all_archived
from fieldapp.records.figures import iso_utc, moment, pdf_moment
from fieldapp.records.gather import print_record
from fieldapp.records.joining import Attached, Part, join, reader_of
from fieldapp.records.marks import Mark, mark
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_html, page_size, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.svg import images_of
from fieldapp.records.pictures.verdicts import verdict_elevation
from fieldapp.records.revisions import since_told
from fieldapp.store.archive import revision_bytes

LIST = "dossier.json"
FORMAT = 1
PDF_TYPE = "application/pdf"


class UnknownPart(ValueError):
    """A part of the site that is not known or has nothing; the text says which are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A record of the dossier: `first` is its first page in the file, from 1.

    Both numbers of pages are known once the record has been joined in.
    """

    subject: str
    title: str
    kind: str
    verdict: str
    mark: Mark
    revision: int
    told: str
    note: str
    hash: str
    file: str
    pages: int = 0
    first: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class DossierView:
    """Cover and contents as their template sets them."""

    site: str
    title: str
    document: str
    as_of: str
    created: str
    elevation: Drawing | None
    counts: tuple[tuple[str, int], ...]
    groups: tuple[tuple[str, tuple[Row, ...]], ...]
    not_begun: tuple[str, ...]
    pages: int


def parts_of(site: Mapping[str, Any]) -> dict[str, str]:
    """Give the piers a dossier can be made of, with their titles."""
    return {str(each["id"]): str(each["title"]) for each in site.get("piers", ())}


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
        view = _view(names, pier, rows, chosen, now)
        pdf, rows[:] = _front(view, rows, now, paper)
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
        pdf = (
            revision_bytes(reader.store, subject, last.revision)
            if last
            else print_record(reader, subject, now, paper)
        )
        assert pdf is not None, f"{subject} has entries and no record"
        row = _row(found, known[subject], pdf, zone)
        (folder / row.file).write_bytes(pdf)
        yield row


def _row(found: Folded, known: Archived, pdf: bytes, zone: int) -> Row:
    subject, raw, last = found.sheet.subject, found.sheet.raw, known.last
    verdict = last.said["verdict"] if last else found.state["verdict"]
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
        told=f"revision {revision}, {at}" if last else "a print: not archived",
        note=since_told(known) if last and known.since else "",
        hash=sha256_hex(pdf),
        file=file,
    )


def _view(
    names: Names, pier: str, rows: list[Row], chosen: list[Folded], now: int
) -> DossierView:
    where = parts_of(names.site).get(pier, "the whole site")
    site = str(names.site.get("id", ""))
    kinds = dict.fromkeys(row.kind for row in rows)
    title = f"Elevation of {names.title}: the records of {where} by their verdicts"
    verdicts = {row.subject: row.verdict for row in rows}
    return DossierView(
        site=names.title,
        title=f"Dossier: {where}",
        document=f"{site}-dossier-{pier or 'site'}",
        as_of=moment(now, names.zone),
        created=iso_utc(now),
        elevation=verdict_elevation(names.site, verdicts, title),
        counts=tuple(_counts(rows)),
        groups=tuple(
            (names.kind(kind), tuple(row for row in rows if row.kind == kind))
            for kind in kinds
        ),
        not_begun=tuple(
            str(each.sheet.raw["title"]) for each in chosen if not each.entries
        ),
        pages=sum(row.pages for row in rows),
    )


def _counts(rows: list[Row]) -> Iterator[tuple[str, int]]:
    yield "records", len(rows)
    for verdict in ("complete", "concession", "incomplete", "rejected"):
        told = mark(verdict, "verdict").word
        yield told, sum(row.verdict == verdict for row in rows)
    yield "not archived", sum(not row.revision for row in rows)
    yield "out of date", sum(bool(row.note) for row in rows)


def _front(
    view: DossierView, rows: list[Row], now: int, paper: str
) -> tuple[bytes, list[Row]]:
    """Set cover and contents: again until they know how long they are themselves."""
    length = 2
    while True:
        placed = _placed(rows, length + 1)
        pdf = _set(_with(view, placed), length, now, paper)
        found = len(reader_of(pdf).pages)
        if found == length:
            return pdf, placed
        length = found


def _placed(rows: list[Row], first: int) -> list[Row]:
    placed = []
    for row in rows:
        placed.append(replace(row, first=first))
        first += row.pages
    return placed


def _with(view: DossierView, placed: list[Row]) -> DossierView:
    by_subject = {row.subject: row for row in placed}
    return replace(
        view,
        groups=tuple(
            (title, tuple(by_subject[row.subject] for row in rows))
            for title, rows in view.groups
        ),
    )


def _set(view: DossierView, length: int, now: int, paper: str) -> bytes:
    pages = Pages(
        html=page_html(
            "dossier.html", dossier=replace(view, pages=view.pages + length)
        ),
        style=style("dossier.css"),
        size=paper,
        created_ms=now,
        files=(),
        images=images_of([view.elevation] if view.elevation else []),
    )
    return set_pdf(pages)


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
