"""The label sheet: one printed label a registered item, with a code to be scanned.

A label names what it is, its certificate and its last day in words, so that it serves
without a phone too. It says nothing of whether the item may be used: the phone does.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fieldapp.lookups import Reader, site_picture
from fieldapp.lookups.marks import ITEM, mark_text
from fieldapp.lookups.register import Registered, register_of
from fieldapp.records.codes import code
from fieldapp.records.figures import iso_utc, long_day
from fieldapp.records.names import Names
from fieldapp.records.pages import DEFAULT_SIZE, page_html, page_size, style
from fieldapp.records.pdf import Pages, set_pdf
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.svg import images_of

CODE_MM = 27.0
NO_BREAK = "\N{NO-BREAK SPACE}"


class UnknownItem(ValueError):
    """An item that the register does not have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label as printed; `code` says `text`; out: taken out of use."""

    title: str
    id: str
    kind: str
    certificate: str
    until: str
    out: bool
    text: str
    code: Drawing


def print_labels(
    reader: Reader, now: int, wanted: Sequence[str] = (), size: str = ""
) -> bytes:
    """Give labels of the named items, or of all, as a PDF.

    Errors: `UnknownItem`, `UnknownSize`, and those of `set_pdf`.
    """
    site = site_picture(reader.store) or {}
    paper = page_size(size or site.get("paper", DEFAULT_SIZE))
    found = [each for each in register_of(reader) if not wanted or each.id in wanted]
    missing = sorted(set(wanted) - {each.id for each in found})
    if missing:
        raise UnknownItem(f"not in the register: {', '.join(missing)}")
    names = Names(site=site)
    made = labels(found, str(site.get("id", "")), names)
    return labels_pdf(made, names, now, paper)


def labels_pdf(made: Sequence[Label], names: Names, now: int, paper: str) -> bytes:
    """Set labels in a grid to be cut. Errors: those of `set_pdf`."""
    pages = Pages(
        html=page_html(
            "labels.html", labels=made, site=names.title, created=iso_utc(now)
        ),
        style=style("labels.css"),
        size=paper,
        created_ms=now,
        files=(),
        images=images_of(each.code for each in made),
    )
    return set_pdf(pages)


def labels(items: Iterable[Registered], site: str, names: Names) -> tuple[Label, ...]:
    """Word the labels of items, in their order."""
    return tuple(_label(each, site, names) for each in items)


def _label(item: Registered, site: str, names: Names) -> Label:
    text = mark_text(ITEM, site, item.id)
    ends = "No last day"
    if item.expires is not None:
        # A day is read in one piece, on one line.
        day = long_day(item.expires - 1, names.zone).replace(" ", NO_BREAK)
        planned = names.is_planned(item.kind)
        ends = f"Planned for {day}" if planned else f"Good until the end of {day}"
    if item.out is not None:
        day = long_day(item.out.at, names.zone).replace(" ", NO_BREAK)
        ends = f"Taken out of use on {day}: {item.out.about.get('text', '')}"
    return Label(
        title=item.label,
        id=item.id,
        kind=names.item_kind(item.kind),
        certificate=item.certificate,
        until=ends,
        out=item.out is not None,
        text=text,
        code=code(text, CODE_MM, f"Code of {item.label}: {text}"),
    )
