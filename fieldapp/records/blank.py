"""The blank sheet of a subject as a PDF, to write on where no phone will do.

It asks what the sheet asks, in the order of the work, on few pages, with boxes to write
in. It computes nothing for the reader but the minutes a certified table states and the
pressures of a force. What is written is entered later as copied from paper; a release
on paper is none.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.sheet import Sheet
from fieldapp.lookups import Reader, sheet_of, site_picture
from fieldapp.lookups.marks import SUBJECT, mark_text
from fieldapp.records.blank_boxes import (
    BY,
    TIME,
    Box,
    field_box,
    is_shown,
    merged,
    packed,
    shares,
    widths_style,
)  # fmt: skip
from fieldapp.records.blank_clocks import (
    BlankClock,
    alternatives,
    blank_clocks,
    blank_holds,
)  # fmt: skip
from fieldapp.records.blank_lines import (
    LineTable,
    RoundTable,
    asked_once,
    line_table,
    round_table,
)  # fmt: skip
from fieldapp.records.codes import code
from fieldapp.records.figures import grouped, iso_utc, moment
from fieldapp.records.files import SHEET, File
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_html, page_size, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.svg import images_of

SHORTER = {
    "Letter": "@page { margin: 8.5mm 10mm 8mm } @page :first { margin-top: 7mm }"
    " .part:not(.wide, .long) > .how { width: 163mm }"
    " .boxes td, .boxes tbody th { height: 7mm }"
    " .sign td { height: 8mm } .lines td, .lines tbody th { height: 6.8mm }"
    " .remarks td { height: 12mm }"
}
"""A sheet of Letter is shorter and wider than one of A4: less margin, and boxes of
7 mm, in which a hand can still write, keep it on as many pages.
"""
CODE_MM = 20.0
SPARE_SETS = 2
"""A form that is read again and again is there so many times."""
WIDE_FORM = 4
"""A step read again with more fields than this is a form, not a table."""
LONG = 12
"""Rows of a table that is kept on one page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step to fill in: boxes of a form, `sets` times, or a table of its lines.

    choice: what tells steps apart of which one will be done (adhesives of which one is
    chosen), to be ticked; the title is what they share. once: what is asked once for
    all lines. long: it may go over a page's end.
    """

    title: str
    choice: tuple[str, ...]
    caution: str
    help: str
    sometimes: bool
    waits: tuple[str, ...]
    sets: int
    long: bool
    once: tuple[str, ...]
    rows: tuple[tuple[Box, ...], ...]
    table: LineTable | None
    rounds: RoundTable | None
    photos: int
    limits: tuple[str, ...]
    clocks: tuple[BlankClock, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """A point with a signature line for each who must sign."""

    title: str
    sort: str
    caution: str
    wanted: tuple[str, ...]
    requires: tuple[str, ...]
    shuts: str
    waits: tuple[str, ...]
    spoken: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankView:
    """A blank sheet as its template sets it; parts in the order of the work."""

    site: str
    title: str
    document: str
    revision: str
    hash: str
    printed: str
    code: Drawing
    parts: tuple[tuple[str, Any], ...]
    cards: tuple[Mapping[str, Any], ...]
    created: str


def print_blank(reader: Reader, subject: str, now: int, size: str = "") -> bytes | None:
    """Give the blank sheet of a subject as a PDF; None if it has no sheet.

    Errors: `UnknownSize`, and those of `set_pdf`.
    """
    sheet = sheet_of(reader, subject)
    if sheet is None:
        return None
    site = site_picture(reader.store) or {}
    paper = page_size(size or site.get("paper", DEFAULT_SIZE))
    return blank_pdf(sheet, Names(site=site), now, paper)


def blank_pdf(sheet: Sheet, names: Names, now: int, paper: str) -> bytes:
    """Set the blank sheet of one subject. Errors: those of `set_pdf`."""
    view = blank_view(sheet, names, now)
    pages = Pages(
        html=page_html("blank.html", blank=view, shares=shares),
        style=style("blank.css") + widths_style() + SHORTER.get(paper, ""),
        size=paper,
        created_ms=now,
        files=(_sheet_file(sheet),),
        images=images_of([view.code]),
    )
    return set_pdf(pages)


def _sheet_file(sheet: Sheet) -> File:
    about = "The sheet this paper asks for"
    return File(
        name=SHEET, content=canonical(sheet.raw), about=about, relation="Source"
    )


def blank_view(sheet: Sheet, names: Names, now: int) -> BlankView:
    """Word the blank sheet of one subject."""
    raw = sheet.raw
    text = mark_text(SUBJECT, raw["site"], sheet.subject)
    return BlankView(
        site=names.title,
        title=str(raw["title"]),
        document=f"{raw['site']}-{sheet.subject}-blank",
        revision=f"{names.kind(raw['kind'])}, sheet revision {raw['revision']}",
        hash=grouped(sheet.hash),
        printed=moment(now, names.zone),
        code=code(text, CODE_MM, f"Code of {raw['title']}: {text}"),
        parts=tuple(_parts(sheet, names)),
        cards=tuple(raw.get("cards", ())),
        created=iso_utc(now),
    )


def _parts(sheet: Sheet, names: Names) -> Iterator[tuple[str, Any]]:
    for group in alternatives(sheet):
        if group[0] in sheet.raw["points"]:
            yield "gate", _gate(sheet, group[0], names)
        else:
            yield "step", _step(sheet, group)


def _gate(sheet: Sheet, name: str, names: Names) -> Gate:
    point = sheet.raw["points"][name]
    steps = {**sheet.raw["steps"], **sheet.raw["points"]}
    return Gate(
        title=str(point["title"]),
        sort=str(point["class"]),
        caution=str(point.get("caution", "")),
        wanted=tuple(names.signer(each) for each in point["releases"]),
        requires=tuple(str(each["text"]) for each in point.get("requires", ())),
        shuts=merged([str(steps[each]["title"]) for each in point.get("shuts", ())])[0],
        waits=tuple(blank_holds(sheet, name)),
        spoken=bool(point.get("spoken_ms")),
    )


def _step(sheet: Sheet, group: Sequence[str]) -> Step:
    name = group[0]
    steps = sheet.raw["steps"]
    step = steps[name]
    clocks = tuple(blank_clocks(sheet, group))
    title, choice = merged([str(steps[one]["title"]) for one in group])
    each = [title for one in clocks if one.per_line for title in one.deadlines]
    rounds = round_table(sheet, name)
    table = line_table(sheet, name, each) if rounds is None and _tabled(step) else None
    lined = rounds is not None or table is not None
    deep = len(rounds.rows) if rounds else len(table.rows) if table else 0
    return Step(
        title=title,
        choice=choice,
        caution=str(step.get("caution", "")),
        help=str(step.get("help", "")),
        sometimes=len(group) == 1 and ("when" in step or bool(step.get("again"))),
        waits=tuple(blank_holds(sheet, name)),
        sets=SPARE_SETS if step.get("series") and not lined else 1,
        long=deep > LONG,
        once=(*asked_once(step, rounds), "By") if lined else (),
        rows=() if lined else packed(_form(sheet, name)),
        table=table,
        rounds=rounds,
        photos=int(step.get("photos", 0)),
        limits=tuple(_limits(sheet, group)),
        clocks=clocks,
    )


def _tabled(step: Mapping[str, Any]) -> bool:
    if step.get("series"):
        return len(step.get("fields", ())) <= WIDE_FORM
    return len(step.get("lines", ())) > 1


def _form(sheet: Sheet, name: str) -> list[Box]:
    step = sheet.raw["steps"][name]
    boxes = [field_box(sheet, name, field) for field in step.get("fields", ())]
    return [*boxes, TIME, BY]


def _limits(sheet: Sheet, group: Sequence[str]) -> Iterator[str]:
    """Tell what a check says that no box shows; its source stands in the plan."""
    told = (
        str(check["text"])
        for name in group
        for check in sheet.raw["steps"][name].get("checks", ())
        if not is_shown(sheet, name, check)
    )
    yield from dict.fromkeys(told)
