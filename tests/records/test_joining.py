"""Joined PDFs: pages, tags and typefaces of every part, and one archive's marks.

Clauses as in `test_archive.py`; what is asserted of a record there must hold of a
file that records were joined into.
"""

from functools import cache
from io import BytesIO
from typing import Any

import pikepdf

from fieldapp.records.joining import LINK, Attached, Part, join, page_digests
from fieldapp.records.pdf import Pages, set_pdf
from tests.records.paper import PAPER, opened, pages, printed, structure

pytestmark = PAPER
STORIES = ("good", "empty", "troubled")
FRONT = f"""<html lang="en"><head><title>A whole</title></head><body><h1>Front</h1>
<p><a href="{LINK}empty">the empty one</a></p></body></html>"""


@cache
def whole() -> bytes:
    """Join three records behind a front of one page."""
    front = set_pdf(Pages(html=FRONT, style="", size="A4", created_ms=0, files=()))
    file = Attached(
        name="good.pdf", type="application/pdf", about="A record", relation="Source",
        read=lambda: printed("good"),
    )  # fmt: skip
    parts = [Part(key=s, title=f"Story {s}", read=lambda s=s: printed(s))
             for s in STORIES]  # fmt: skip
    told = BytesIO()
    join(told, parts, lambda _: (front, [file]), "D:20270115090000Z")
    return told.getvalue()


def numbers(node: Any) -> list[tuple[int, Any]]:
    """Give the pairs of the tree that leads from a page's pieces to its tags."""
    found = [pair for kid in node.get("/Kids", []) for pair in numbers(kid)]
    told = list(node.get("/Nums", []))
    return found + [(int(k), v) for k, v in zip(told[::2], told[1::2], strict=True)]


def tags_in(pdf: bytes) -> list[str]:
    """Give the sort of every tag of a file."""
    held = opened(pdf)
    return [str(each.S) for each in structure(held)]


def test_every_page_is_there_and_draws_what_it_drew() -> None:
    own = [digest for story in STORIES for digest in page_digests(printed(story))]
    assert list(page_digests(whole()))[1:] == own
    assert len(set(own)) == len(own), "a digest tells pages apart"
    assert pages(whole())[1:] == [p for s in STORIES for p in pages(printed(s))]


def test_a_joined_file_says_it_is_pdf_a_3a_and_pdf_ua_1() -> None:
    pdf = opened(whole())
    assert not pdf.check_pdf_syntax()
    with pdf.open_metadata() as metadata:
        assert metadata["pdfaid:part"] == "3"
        assert metadata["pdfaid:conformance"] == "A"
        assert metadata["pdfuaid:part"] == "1"
    assert len(pdf.Root.OutputIntents) == 1
    assert len(pdf.trailer.ID) == 2
    assert pdf.Root.MarkInfo.Marked
    assert pdf.Root.Lang == "en"
    assert "/AcroForm" not in pdf.Root


def test_every_tag_and_every_text_for_figures_comes_along() -> None:
    told = tags_in(whole())
    own = [tag for story in STORIES for tag in tags_in(printed(story))]
    for tag in ("/Figure", "/TH", "/TD", "/H1", "/Span"):
        front = int(tag in ("/H1", "/Span"))
        assert told.count(tag) == own.count(tag) + front, tag
    pdf = opened(whole())
    figures = [each for each in structure(pdf) if each.S == "/Figure"]
    assert all(len(str(each.get("/Alt", ""))) > 20 for each in figures)
    assert told.count("/Document") == 1
    assert told.count("/Part") == len(STORIES)


def test_every_page_leads_to_tags_of_its_own() -> None:
    pdf = opened(whole())
    pairs = numbers(pdf.Root.StructTreeRoot.ParentTree)
    keys = [key for key, _ in pairs]
    assert len(keys) == len(set(keys))
    tags = dict(pairs)
    for page in pdf.pages:
        found = [each for each in tags[int(page.StructParents)] if each is not None]
        assert found
        assert all(each.Pg.objgen == page.obj.objgen for each in found if "/Pg" in each)


def test_heads_of_tables_are_named_once_over_the_whole() -> None:
    pdf = opened(whole())
    heads = [str(each.ID) for each in structure(pdf) if "/ID" in each]
    assert heads
    assert len(heads) == len(set(heads))


def test_every_typeface_is_embedded() -> None:
    pdf = opened(whole())
    fonts = [
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Dictionary)
        and each.get("/Type") == "/FontDescriptor"
    ]
    assert len(fonts) > len(STORIES)
    assert all("/FontFile2" in f or "/FontFile3" in f for f in fonts)


def test_the_front_leads_to_a_part_and_the_file_is_attached_as_it_is() -> None:
    pdf = opened(whole())
    (link,) = pdf.pages[0].obj.Annots
    assert link.A.D[0].objgen == pdf.pages[1 + len(pages(printed("good")))].obj.objgen
    assert str(link.Contents) == "To the record of Story empty"
    assert pdf.attachments["good.pdf"].get_file().read_bytes() == printed("good")
    assert [str(each.AFRelationship) for each in pdf.Root.AF] == ["/Source"]
    with pdf.open_outline() as outline:
        assert [each.title for each in outline.root] == [f"Story {s}" for s in STORIES]
