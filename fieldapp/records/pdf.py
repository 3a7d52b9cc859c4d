"""The one file that speaks to the PDF library: pages to PDF/A-3 with files attached.

Nothing is fetched: fonts come from the system, everything else is in the text handed
in, and a resource that is asked for all the same ends the printing. The same input
gives the same bytes. The libraries are loaded when first needed, so that a site
serves without them.
"""

import gc
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any
from zlib import ZLIB_RUNTIME_VERSION

from fieldapp.records.figures import as_datetime
from fieldapp.records.files import File
from fieldapp.records.lettering import set_words_whole
from fieldapp.records.tree import tree_of

NEEDED = (
    "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
    " fonts-dejavu-core fonts-dejavu-extra"
)
FAMILY, FONT = "DejaVu Sans Condensed", "-Condensed"
"""The typeface of paper, narrow so that a joint has three pages; its mark in a name."""
IMAGES = {"photo": "image/jpeg", "drawing": "image/svg+xml"}
_NOTES = re.compile(r"^(?:::(?:foot)?note-|@counter-style )[^}]*}\n", re.MULTILINE)
_JPEG = b"\xff\xd8\xff"
_STREAM, _ENDING = b"\nstream\n", b"\nendstream"
_UA = """<rdf:Description rdf:about=""
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" pdfuaid:part="1" />
<rdf:Description rdf:about=""
 xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
 xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>
"""


class PaperUnavailable(RuntimeError):
    """Paper cannot be set on this machine; the text says what to install."""


class PaperFault(RuntimeError):
    """A page asked for something from outside, or came out unfit to archive."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """What to set: the text, its style, the paper ("A4", "Letter"), the moment.

    images: what the text names by `photo:` and a key (JPEG) or `drawing:` (SVG).
    """

    html: str
    style: str
    size: str
    created_ms: int
    files: tuple[File, ...]
    images: Mapping[str, bytes] = field(default_factory=dict)


def set_pdf(pages: Pages) -> bytes:
    """Set pages as PDF/A-3a and PDF/UA-1 with their files attached.

    Errors: `PaperUnavailable` without the libraries, `PaperFault`.
    """
    library = paper_library()
    base = f'html {{ font-family: "{FAMILY}" }}'
    sheets = [
        _sheet(base),
        _sheet(pages.style),
        _sheet(f"@page {{ size: {pages.size} }}"),
    ]
    document = _page()(pages.html, _fetcher()(pages.images))
    with _collecting_later():
        pdf: bytes = document.write_pdf(
            stylesheets=sheets,
            attachments=_attachments(library, pages),
            pdf_variant="pdf/a-3a",
            finisher=_finish,
        )
    return pdf


@contextmanager
def _collecting_later() -> Iterator[None]:
    """Hold the collector of garbage back: it would walk every part of every page
    over and over, which took a fifth of the time.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


@lru_cache(maxsize=1)
def paper_library() -> Any:
    """Give the PDF library. Errors: `PaperUnavailable`."""
    try:
        import weasyprint
    except (ImportError, OSError) as fault:
        raise PaperUnavailable(
            f"records cannot be printed here: {fault}; install: {NEEDED}"
        ) from fault
    set_words_whole()
    return weasyprint


def setting() -> str:
    """Give the versions of what shapes and packs pages. Errors: `PaperUnavailable`."""
    library = paper_library()
    from weasyprint.text.ffi import pango

    return (
        f"WeasyPrint {library.__version__}, Pango {pango.pango_version()},"
        f" zlib {ZLIB_RUNTIME_VERSION}"
    )


@lru_cache(maxsize=1)
def _fetcher() -> Any:
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class HandedIn(URLFetcher):  # type: ignore[misc]
        """Give the pictures handed in; whatever else is asked for is a mistake."""

        def __init__(self, images: Mapping[str, bytes]) -> None:
            super().__init__(allowed_protocols=())
            self._images = images

        def fetch(self, url: str, headers: Any = None) -> Any:
            sort = url.partition(":")[0]
            if sort not in IMAGES or url not in self._images:
                raise FatalURLFetchingError(f"a record fetches nothing, not {url[:80]}")
            told = {"Content-Type": IMAGES[sort]}
            return URLFetcherResponse(url, self._images[url], told)

    return HandedIn


@lru_cache(maxsize=1)
def _page() -> Any:
    """Give the library's class for a text, with a parser and a style of its own.

    The library's style gives every element footnote and list marks, of which paper
    here has none: a quarter of the time went into them.
    """
    library = paper_library()
    from weasyprint.html import UA

    wrap = library.cssselect2.ElementWrapper.from_html_root
    lean = _NOTES.sub("", UA).replace("\n::marker", "\nli::marker")
    sheet = library.CSS(string=lean)

    class Page(library.HTML):  # type: ignore[misc, name-defined]
        """A text without notes; asked for its style by the library alone."""

        def __init__(self, text: str, fetcher: Any) -> None:
            self.base_url = None
            self.url_fetcher = fetcher
            self.media_type = "print"
            self.etree_element = tree_of(text)
            self.wrapper_element = wrap(self.etree_element, content_language=None)

        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
            return [sheet]

    return Page


@lru_cache(maxsize=8)
def _sheet(style: str) -> Any:
    return paper_library().CSS(string=style, url_fetcher=_fetcher()({}))


def _attachments(library: Any, pages: Pages) -> Sequence[Any]:
    # Without fixed times the bytes would differ from one printing to the next.
    fixed = as_datetime(pages.created_ms)
    return [
        library.Attachment(
            string=file.content,
            name=file.name,
            description=file.about,
            created=fixed,
            modified=fixed,
            relationship=file.relation,
        )
        # A name tree must be in order, and the library keeps the order given.
        for file in sorted(pages.files, key=lambda each: each.name)
    ]


def _finish(_document: Any, pdf: Any) -> None:
    fonts = [str(each["BaseFont"]) for each in pdf.objects if _is_font(each)]
    if not any(FONT in name for name in fonts):
        # Without it another typeface would be taken and the bytes would differ.
        raise PaperUnavailable(f"the typeface is missing; install: {NEEDED}")
    _say_accessible(pdf)
    # The library names every attached file twice.
    attached = pdf.catalog.get("AF", [])
    files = dict.fromkeys(attached)
    del attached[:]
    attached.extend(files)
    for part in pdf.objects:
        if getattr(part, "compress", False):
            _pack(part)


def _pack(stream: Any) -> None:
    """Compress a stream once: the library does it for the file and for its id.

    A photograph is packed already, and trying again would only cost time.
    """
    first = stream.stream[0] if stream.stream else b""
    if isinstance(first, bytes) and first.startswith(_JPEG):
        stream.compress = False
        return
    head, _, rest = stream.data.partition(_STREAM)
    assert rest.endswith(_ENDING), f"a stream of another form: {head[:80]!r}"
    stream.stream = [rest[: -len(_ENDING)]]
    stream.extra["Filter"] = "/FlateDecode"
    stream.compress = False


def _is_font(part: Any) -> bool:
    return isinstance(part, dict) and "BaseFont" in part


def _say_accessible(pdf: Any) -> None:
    """Say PDF/UA-1 in the same metadata that say PDF/A-3a.

    The library writes one of the two only, so the other is put in before the end.
    """
    number = int(pdf.catalog["Metadata"].split()[0])
    stream = pdf.objects[number]
    whole = b"".join(
        part if isinstance(part, bytes) else part.data for part in stream.stream
    )
    ending = b"</rdf:RDF>"
    if whole.count(ending) != 1:
        raise PaperFault("the metadata have another form than this version knows")
    stream.stream = [whole.replace(ending, _UA.encode() + ending)]
