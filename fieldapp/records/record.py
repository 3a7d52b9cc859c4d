"""A record as a PDF: evidence in, bytes out, the same bytes for the same evidence."""

from fieldapp import __version__
from fieldapp.records.evidence import Evidence
from fieldapp.records.figures import iso_utc
from fieldapp.records.files import files_of
from fieldapp.records.pages import look, page_html, style
from fieldapp.records.pdf import Pages, set_pdf, setting
from fieldapp.records.pictures.svg import images_of
from fieldapp.records.view import RecordView, record_view

TEMPLATE, STYLE = "record.html", "record.css"
NARROWER = {
    "Letter": "@page { margin: 9mm 11mm 8mm 15mm } @page :first { margin-top: 7mm }"
    " html { font-size: 7.2pt; line-height: 1.12 } h2 { margin-top: 1.1mm }"
    " .annex { margin-top: 1mm } .annex section + section { margin-top: 0.4mm }"
    " .head { min-height: 15mm } .verdict { margin-top: 0.2mm; padding: 0.6mm 3mm }"
    " .summary, .counts { margin-top: 0.6mm } .points .point th { padding-top: 0.2mm }"
    " .annex .limits-list, .annex .rests { font-size: 6.3pt; line-height: 1.06 }"
    " .annex p, .keys { font-size: 6.5pt } .photo img { height: 16.5mm }"
    " .grid th, .grid td { padding-top: 0.1mm; padding-bottom: 0.1mm }"
}
"""A sheet of Letter is shorter and wider than one of A4: less margin above and below
keeps a joint on as many pages.
"""


def record_pdf(evidence: Evidence) -> bytes:
    """Set the record of one subject.

    Errors: `PaperUnavailable` where the machine lacks the libraries, `PaperFault`,
    and those of `open_evidence` for evidence that cannot be read.
    """
    view = record_view(evidence)
    pages = Pages(
        html=record_html(view),
        style=style(STYLE) + NARROWER.get(evidence.title.page, ""),
        size=evidence.title.page,
        created_ms=evidence.as_of,
        files=files_of(evidence, view.state, set_by()),
        images=_images(evidence, view),
    )
    return set_pdf(pages)


def _images(evidence: Evidence, view: RecordView) -> dict[str, bytes]:
    photos = {f"photo:{name}": copy for name, copy in evidence.photos.items()}
    return {**photos, **images_of(view.drawings)}


def set_by() -> str:
    """Give what sets the pages: only the same again must give the same bytes.

    Errors: `PaperUnavailable`.
    """
    return f"fieldapp {__version__}, pages {look()}, {setting()}"


def record_html(view: RecordView) -> str:
    """Give the pages as HTML, for setting and for tests."""
    return page_html(TEMPLATE, record=view, created=iso_utc(view.created))
