"""A kind of subject as its inspection and test plan, to be printed and signed.

Read from the sheet of one subject, since limits differ from one to the next. Every
limit stands with its source; who releases, and who may not, is said at each point.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.sheet import Sheet
from fieldapp.lookups import Reader, sheet_of, site_picture
from fieldapp.records.figures import grouped, iso_utc, moment, share, span
from fieldapp.records.files import SHEET, File
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_html, page_size, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.plan_signatures import SignatureLine, signature_lines

LETTERS = {"hold": "H", "witness": "W", "review": "R", "surveillance": "S"}
MEANINGS = {
    "hold": "work stops until it is released",
    "witness": "work may go on once the notice has run out",
    "review": "of the record, afterwards",
    "surveillance": "seen in passing",
}
CLASSES = {
    "gated": "in order",
    "raced": "always recordable",
    "make_safe": "never refused",
}
RAISES = {
    "block": "stops the step",
    "nonconformance": "nonconformance",
    "caution": "caution",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit: what it says, what it raises, its source."""

    text: str
    raises: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A step (letter empty) or a point of the plan."""

    number: int
    letter: str
    sort: str
    title: str
    notes: tuple[str, ...]
    caution: str
    recorded: tuple[str, ...]
    limits: tuple[Limit, ...]
    source: str
    who: tuple[str, ...]
    terms: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """A plan as its template sets it."""

    site: str
    title: str
    subject: str
    document: str
    revision: str
    hash: str
    printed: str
    created: str
    letters: tuple[tuple[str, str, str], ...]
    signatures: tuple[SignatureLine, ...]
    rows: tuple[Row, ...]
    clocks: tuple[tuple[str, str, str, str], ...]
    waits: tuple[tuple[str, str], ...]
    decided: str
    proposed: str


def print_plan(reader: Reader, subject: str, now: int, size: str = "") -> bytes | None:
    """Give the plan of a subject's kind, with its limits, as a PDF; None if unknown.

    Errors: `UnknownSize`, and those of `set_pdf`.
    """
    sheet = sheet_of(reader, subject)
    if sheet is None:
        return None
    site = site_picture(reader.store) or {}
    names = Names(site=site)
    paper = page_size(size or site.get("paper", DEFAULT_SIZE))
    signed = tuple(signature_lines(reader, sheet, names))
    others = {each["subject"] for each in sheet.raw.get("prerequisites", ())}
    found = {each: sheet_of(reader, each) for each in others}
    elsewhere = {name: each.raw for name, each in found.items() if each}
    return plan_pdf(sheet, plan_view(sheet, names, signed, now, elsewhere), now, paper)


def plan_pdf(sheet: Sheet, view: PlanView, now: int, paper: str) -> bytes:
    """Set a plan, on its side. Errors: those of `set_pdf`."""
    about = "The sheet whose limits this plan prints"
    source = File(
        name=SHEET, content=canonical(sheet.raw), about=about, relation="Source"
    )
    pages = Pages(
        html=page_html("plan.html", plan=view),
        style=style("plan.css"),
        size=f"{paper} landscape",
        created_ms=now,
        files=(source,),
    )
    return set_pdf(pages)


def plan_view(
    sheet: Sheet,
    names: Names,
    signatures: tuple[SignatureLine, ...],
    now: int,
    elsewhere: Mapping[str, Any] | None = None,
) -> PlanView:
    """Word the plan of one sheet; elsewhere: the sheets of subjects it waits for."""
    raw = sheet.raw
    return PlanView(
        site=names.title,
        title=names.kind(raw["kind"]),
        subject=str(raw["title"]),
        document=f"{raw['site']}-itp-{raw['kind']}",
        revision=f"{names.site.get('revision', '')}, sheet revision {raw['revision']}",
        hash=grouped(sheet.hash),
        printed=moment(now, names.zone),
        created=iso_utc(now),
        letters=tuple((LETTERS[each], each, MEANINGS[each]) for each in LETTERS),
        signatures=signatures,
        rows=tuple(
            _row(raw, name, number, names) for number, name in enumerate(raw["flow"], 1)
        ),
        clocks=tuple(_clocks(raw)),
        waits=tuple(_waits(raw, names, elsewhere or {})),
        decided=" or ".join(names.signer(each) for each in raw["dispose"]),
        proposed=" or ".join(names.signer(each) for each in raw["propose"]),
    )


def _row(raw: Mapping[str, Any], name: str, number: int, names: Names) -> Row:
    if name in raw["points"]:
        return _point(raw, raw["points"][name], number, names)
    step = raw["steps"][name]
    return Row(
        number=number,
        letter="",
        sort=CLASSES.get(step["class"], step["class"]),
        title=str(step["title"]),
        notes=tuple(_notes(step)),
        caution=str(step.get("caution", "")),
        recorded=tuple(_recorded(step)),
        limits=tuple(_limits(step.get("checks", ()))),
        source=str(step.get("source", "")),
        who=(names.roles(step.get("by", ())),),
        terms=(),
    )


def _notes(step: Mapping[str, Any]) -> Iterator[str]:
    if "when" in step:
        yield "only if a reading calls for it"
    if step.get("again"):
        yield "only after rework"
    if step.get("sign_off"):
        yield "mandatory sign-off"


def _recorded(step: Mapping[str, Any]) -> Iterator[str]:
    for field in step.get("fields", ()):
        options = " / ".join(str(each["label"]) for each in field.get("options", ()))
        unit = f" [{field['unit']}]" if field.get("unit") else ""
        yield f"{field['label']}{unit}{': ' + options if options else ''}"
    if not step.get("fields"):
        yield "that it was done, and when"
    lines = len(step.get("lines", ()))
    if lines:
        yield f"in {lines} line{'s' if lines > 1 else ''}"
    if step.get("series"):
        yield "as often as it is read"
    if step.get("photos"):
        yield f"photographs: {step['photos']}{' a line' if lines else ''}"


def _limits(checks: Any) -> Iterator[Limit]:
    for each in checks:
        yield Limit(
            text=str(each["text"]),
            raises=RAISES.get(each.get("raises", ""), ""),
            source=str(each.get("source", "")),
        )


def _point(
    raw: Mapping[str, Any], point: Mapping[str, Any], number: int, names: Names
) -> Row:
    notes = []
    if point.get("critical"):
        notes.append(f"signs off: {point['critical']}")
    if point.get("shuts"):
        notes.append(
            "before: " + ", ".join(_title(raw, each) for each in point["shuts"])
        )
    return Row(
        number=number,
        letter=LETTERS.get(point["class"], "?"),
        sort=f"{point['class']} point",
        title=str(point["title"]),
        notes=tuple(notes),
        caution=str(point.get("caution", "")),
        recorded=tuple(_title(raw, each) for each in point.get("covers", ())),
        limits=tuple(_limits(point.get("requires", ()))),
        source=str(point.get("source", "")),
        who=tuple(names.signer(each) for each in point["releases"]),
        terms=tuple(terms_of(raw, point)),
    )


def terms_of(raw: Mapping[str, Any], point: Mapping[str, Any]) -> Iterator[str]:
    """Yield who may not sign, how long a release lasts, and what ends it."""
    if point.get("independent", True):
        yield "not by whoever did the work"
    if point.get("other_organisation"):
        yield "not by the organisation that did the work"
    if point.get("life_ms"):
        yield f"stands {span(point['life_ms'])}"
    if point.get("until_minute") is not None:
        until = point["until_minute"]
        ends = (divmod(e, 60) for e in (until if isinstance(until, list) else [until]))
        yield "ends at " + " or ".join(f"{h:02d}:{m:02d}" for h, m in ends)
    if point.get("notice_ms"):
        yield f"notice {span(point['notice_ms'])}"
    if point.get("spoken_ms"):
        yield f"may be spoken, to be signed within {span(point['spoken_ms'])}"
    if "heard" in point:
        yield f"other arm heard or seen within {span(point['heard']['within_ms'])}"
    cards = {each["id"]: str(each["title"]) for each in raw.get("cards", ())}
    lapses = [cards.get(each, each).lower() for each in point.get("lapses", ())]
    if lapses:
        yield f"lapses on {', '.join(lapses)}"


def _clocks(raw: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    for clock in raw.get("clocks", ()):
        for ratio in clock["ratios"]:
            part = share(1_000_000 * ratio["num"] // ratio["den"])
            cap = f", at most {span(ratio['cap_ms'])}" if "cap_ms" in ratio else ""
            between = f"{_title(raw, clock['start'])} to {_title(raw, clock['until'])}"
            limit = f"{ratio['title']}: {part} of the life{cap}"
            yield str(clock["title"]), between, limit, str(ratio.get("source", ""))
    for hold in raw.get("holds", ()):
        before = ", ".join(_title(raw, each) for each in hold["before"])
        limit = f"not before {span(hold['ms'])} have passed"
        between = f"{_title(raw, hold['after'])} to {before}"
        yield str(hold["title"]), between, limit, str(hold.get("source", ""))


def _waits(
    raw: Mapping[str, Any], names: Names, elsewhere: Mapping[str, Any]
) -> Iterator[tuple[str, str]]:
    for each in raw.get("prerequisites", ()):
        other = elsewhere.get(each["subject"])
        name = each["milestone"]
        reached = _title(other, name) if other else name
        before = ", ".join(_title(raw, name) for name in each["before"])
        yield names.subject(each["subject"]), f"“{reached}” before “{before}”"


def _title(raw: Mapping[str, Any], name: str) -> str:
    parts = {**raw["steps"], **raw["points"]}
    milestones = {each["id"]: each["title"] for each in raw.get("milestones", ())}
    return str(parts[name]["title"] if name in parts else milestones.get(name, name))
