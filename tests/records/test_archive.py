"""The PDF as an archive wants it: PDF/A-3a, PDF/UA-1, and the evidence inside.

No full validator can be installed as a package, so each demand is asserted: ISO
19005-3 (PDF/A-3) clauses 6.1.3, 6.2.3, 6.2.11.4, 6.2.8, 6.6 and 6.8, and ISO 14289-1
(PDF/UA-1) clauses 5 and 7.3 (clause numbers from memory).
"""

import json
import subprocess
import sys

import pikepdf
import pytest

from fieldapp.core.canonical import sha256_hex
from fieldapp.records.files import ENTRIES, LIST, SHEET
from fieldapp.records.record import record_pdf
from fieldapp.records.verify import unpack
from tests.records.paper import PAPER, evidence, opened, printed, structure

STORIES = ["good", "empty", "troubled", "over_time"]

pytestmark = PAPER


@pytest.mark.parametrize("story", STORIES)
def test_a_record_says_it_is_pdf_a_3a_and_pdf_ua_1(story: str) -> None:
    pdf = opened(printed(story))
    with pdf.open_metadata() as metadata:
        assert metadata["pdfaid:part"] == "3"
        assert metadata["pdfaid:conformance"] == "A"
        assert metadata["pdfuaid:part"] == "1"
    xmp = pdf.Root.Metadata.read_bytes()
    assert xmp.count(b"<rdf:RDF") == 1
    assert b"pdfaExtension:schemas" in xmp, "PDF/A wants foreign schemas described"
    assert pdf.Root.MarkInfo.Marked
    assert pdf.Root.Lang == "en"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle


def test_a_record_has_one_output_intent_an_id_and_no_encryption() -> None:
    pdf = opened(printed("good"))
    assert len(pdf.Root.OutputIntents) == 1
    assert len(pdf.trailer.ID) == 2
    assert not pdf.is_encrypted
    assert "/OpenAction" not in pdf.Root
    assert "/AcroForm" not in pdf.Root


@pytest.mark.parametrize("story", STORIES)
def test_every_typeface_is_embedded_and_is_dejavu(story: str) -> None:
    pdf = opened(printed(story))
    fonts = [
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Dictionary)
        and each.get("/Type") == "/FontDescriptor"
    ]
    assert fonts
    assert all("/FontFile2" in f or "/FontFile3" in f for f in fonts)
    assert all("DejaVu" in str(font.FontName) for font in fonts)


def test_no_picture_is_interpolated() -> None:
    pdf = opened(printed("good"))
    images = [
        each
        for each in pdf.objects
        if isinstance(each, pikepdf.Stream) and each.get("/Subtype") == "/Image"
    ]
    assert not any(image.get("/Interpolate", False) for image in images)


@pytest.mark.parametrize("story", STORIES)
def test_every_figure_has_words_for_who_cannot_see_it(story: str) -> None:
    pdf = opened(printed(story))
    figures = [each for each in structure(pdf) if each.S == "/Figure"]
    assert figures
    assert all(len(str(each.get("/Alt", ""))) > 20 for each in figures)


def test_the_joints_pictures_are_told_in_figures() -> None:
    told = [str(e.Alt) for e in structure(opened(printed("good"))) if e.S == "/Figure"]
    assert len(told) == 7
    wanted = ["Elevation", "Open time", "Pot life", "Stress over", "Force and", "film"]
    for words in wanted:
        assert any(words in each for each in told), words


def test_tables_have_heads_and_headings_are_tagged() -> None:
    tags = {str(each.S) for each in structure(opened(printed("good")))}
    assert {"/H1", "/H2", "/H3", "/Table", "/TH", "/TD", "/P", "/Figure"} <= tags


def test_the_evidence_is_attached_with_its_relationship_and_a_fixed_date() -> None:
    pdf = opened(printed("good"))
    files = list(pdf.Root.AF)
    names = [str(each.UF) for each in files]
    assert names == sorted(set(names)), "a name tree is in order"
    assert {LIST, ENTRIES, SHEET, "tables.json", "office.jsonl"} <= set(names)
    assert {str(each.AFRelationship) for each in files} == {"/Source", "/Data"}
    dates = {str(each.EF.F.Params.ModDate) for each in files}
    assert dates == {"D:20270115090000Z"}, "as of minute 60 of the story"


def test_attached_files_are_the_bytes_that_were_signed() -> None:
    files = unpack(printed("good"))
    rows = [json.loads(line) for line in files[ENTRIES].splitlines()]
    assert [row["body"] for row in rows] == [e.body for e in evidence("good").entries]
    listed = json.loads(files[LIST])["files"]
    for name in set(files) - {LIST}:
        assert listed[name] == sha256_hex(files[name])


def test_the_same_evidence_gives_the_same_bytes() -> None:
    assert record_pdf(evidence("good")) == printed("good")


def test_another_process_sets_the_same_bytes() -> None:
    script = (
        "import sys\n"
        "from fieldapp.records.files import read_files\n"
        "from fieldapp.records.record import record_pdf\n"
        "from fieldapp.records.verify import unpack\n"
        "pdf = sys.stdin.buffer.read()\n"
        "again = record_pdf(read_files(unpack(pdf)))\n"
        "sys.exit(0 if again == pdf else 1)\n"
    )
    pdf = printed("good")
    done = subprocess.run([sys.executable, "-c", script], input=pdf, check=False)
    assert done.returncode == 0
