"""The front of a dossier: its cover with the elevation, and its contents.

The contents say for every record its verdict, its revision and where the ledger stood
for it, since records of one dossier need not be of one moment.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.records.figures import iso_utc, moment
from fieldapp.records.joining import reader_of
from fieldapp.records.marks import Mark, mark
from fieldapp.records.names import Names
from fieldapp.records.pages import page_html, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.svg import images_of
from fieldapp.records.pictures.verdicts import verdict_elevation


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A record of the dossier: `first` is its first page in the file, from 1.

    ledger: the index at which the ledger stood for it; each record is of its own.

    Both numbers of pages are known once the record has been joined in.
    """

    subject: str
    title: str
    kind: str
    verdict: str
    mark: Mark
    revision: int
    ledger: int
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
    ledger: str
    pages: int


def parts_of(site: Mapping[str, Any]) -> dict[str, str]:
    """Give the piers a dossier can be made of, with their titles."""
    return {str(each["id"]): str(each["title"]) for each in site.get("piers", ())}


def front_view(
    names: Names, pier: str, rows: list[Row], chosen: list[Folded], now: int
) -> DossierView:
    """Work cover and contents out of the records; chosen: all there, begun or not."""
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
        ledger=_ledger(rows),
        pages=sum(row.pages for row in rows),
    )


def _ledger(rows: list[Row]) -> str:
    places = sorted({row.ledger for row in rows})
    if len(places) == 1:
        return f"index {places[0]} for every record"
    return f"index {places[0]} to {places[-1]}, each record by itself: see contents"


def _counts(rows: list[Row]) -> Iterator[tuple[str, int]]:
    yield "records", len(rows)
    for verdict in ("complete", "concession", "incomplete", "rejected"):
        told = mark(verdict, "verdict").word
        yield told, sum(row.verdict == verdict for row in rows)
    yield "not archived", sum(not row.revision for row in rows)
    yield "out of date", sum(bool(row.note) for row in rows)


def front_pdf(
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
