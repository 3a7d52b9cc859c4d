"""The blank sheet of a subject as a PDF, to write on where no phone will do.

It asks what the sheet asks, in the order of the work, with boxes that a gloved hand
can fill. It computes nothing for the reader but the minutes a certified table states.
What is written is entered later as copied from paper; a release on paper is none.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.sheet import Sheet
from fieldapp.lookups import Reader, sheet_of, site_picture
from fieldapp.lookups.marks import SUBJECT, mark_text
from fieldapp.records.blank_clocks import BlankClock, blank_clocks, blank_holds
from fieldapp.records.codes import code
from fieldapp.records.figures import grouped, iso_utc, moment
from fieldapp.records.files import SHEET, File
from fieldapp.records.limits import bound_text, bounds
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_html, page_size, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.svg import images_of

CODE_MM = 24.0
SPARE_LINES = 4
"""Empty lines for what is read again and again."""
SPARE_SETS = 2
TABLE_COLUMNS = 4
"""A step of several lines with more fields than this is set in sets of boxes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A box to write in, or ticks to choose from."""

    label: str
    unit: str
    limit: str
    options: tuple[str, ...]
    wide: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of a step with the limits of its own numbers, by field."""

    label: str
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step to fill in; `form` is "boxes" (so many sets of them) or "lines"."""

    title: str
    form: str
    sets: int
    caution: str
    help: str
    sometimes: bool
    waits: tuple[str, ...]
    fields: tuple[Field, ...]
    lines: tuple[Line, ...]
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
        html=page_html("blank.html", blank=view),
        style=style("blank.css"),
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
    for name in sheet.raw["flow"]:
        if name in sheet.raw["points"]:
            yield "gate", _gate(sheet, name, names)
        else:
            yield "step", _step(sheet, name)


def _gate(sheet: Sheet, name: str, names: Names) -> Gate:
    point = sheet.raw["points"][name]
    steps = {**sheet.raw["steps"], **sheet.raw["points"]}
    return Gate(
        title=str(point["title"]),
        sort=str(point["class"]),
        caution=str(point.get("caution", "")),
        wanted=tuple(names.signer(each) for each in point["releases"]),
        requires=tuple(str(each["text"]) for each in point.get("requires", ())),
        shuts=", ".join(str(steps[each]["title"]) for each in point.get("shuts", ())),
        waits=tuple(blank_holds(sheet, name)),
        spoken=bool(point.get("spoken_ms")),
    )


def _step(sheet: Sheet, name: str) -> Step:
    step = sheet.raw["steps"][name]
    fields = tuple(_field(sheet, name, field) for field in step.get("fields", ()))
    lines = tuple(_lines(sheet, name, step))
    single = len(lines) == 1 and not lines[0].label
    tabled = not single and len(fields) <= TABLE_COLUMNS
    return Step(
        title=str(step["title"]),
        form="lines" if tabled else "boxes",
        sets=1 if single or tabled else len(lines),
        caution=str(step.get("caution", "")),
        help=str(step.get("help", "")),
        sometimes="when" in step or bool(step.get("again")),
        waits=tuple(blank_holds(sheet, name)),
        fields=fields,
        lines=lines,
        photos=int(step.get("photos", 0)),
        limits=tuple(_limits(step)),
        clocks=tuple(blank_clocks(sheet, name)),
    )


def _field(sheet: Sheet, name: str, field: Mapping[str, Any]) -> Field:
    places = field.get("places", 0)
    found = [
        bound_text(bound, {}, places)
        for scope in ("step", "line")
        for bound in bounds(sheet.raw, name, scope).get(("field", field["id"]), ())
    ]
    stated = str(field.get("limit", "")) or "; ".join(filter(None, found))
    return Field(
        label=str(field["label"]),
        unit=str(field.get("unit", "")),
        limit=stated,
        options=tuple(str(each["label"]) for each in field.get("options", ())),
        wide=field["kind"] == "text",
    )


def _lines(sheet: Sheet, name: str, step: Mapping[str, Any]) -> Iterator[Line]:
    if step.get("series"):
        many = len(step.get("fields", ())) > TABLE_COLUMNS
        spare = Line(label="reading", limits=())
        yield from [spare] * (SPARE_SETS if many else SPARE_LINES)
        return
    stated = bounds(sheet.raw, name, "line")
    for line in step.get("lines", ()):
        limits = [
            f"{_head(step, about)} {text}"
            for about, found in stated.items()
            for bound in found
            if (
                text := bound_text(bound, line.get("numbers", {}), _places(step, about))
            )
            and not bound_text(bound, {}, 0)
        ]
        yield Line(
            label=str(line["label"]),
            limits=tuple(limits),
        )
    if not step.get("lines"):
        yield Line(label="", limits=())


def _part_of(step: Mapping[str, Any], about: tuple[str, str]) -> Mapping[str, Any]:
    parts = step.get("fields" if about[0] == "field" else "shows", ())
    found: Mapping[str, Any] = next(each for each in parts if each["id"] == about[1])
    return found


def _head(step: Mapping[str, Any], about: tuple[str, str]) -> str:
    part = _part_of(step, about)
    return f"{part['label']}{', ' + part['unit'] if part.get('unit') else ''}:"


def _places(step: Mapping[str, Any], about: tuple[str, str]) -> int:
    return int(_part_of(step, about).get("places", 0))


def _limits(step: Mapping[str, Any]) -> Iterator[str]:
    """Tell what a check says; its source stands in the plan."""
    yield from (str(check["text"]) for check in step.get("checks", ()))
