"""The calculation sheet as a PDF: set, tagged, and able to be worked out again."""

import json
from io import BytesIO

import pytest
from pypdf import PdfReader

from fieldapp.calc import catalogue
from tests.desk import PAPER, Desk, desk

pytestmark = PAPER
SHIM = "thickness_mm=1.6&depth_m=2.5&tip_distance_m=36"
HEADING = "heading.job=Gull+Ford&heading.subject=Joint+7&heading.prepared=A.+Kestrel"


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """Serve the desk once: no calculation leaves anything there."""
    made = desk(tmp_path_factory.mktemp("desk"))
    made.sign_in()
    return made


def sheet(page: Desk, name: str, query: str) -> PdfReader:
    answer = page.client.get(f"/calculations/{name}/sheet.pdf?{query}")
    assert answer.status_code == 200
    assert answer.mimetype == "application/pdf"
    assert f'filename="{name}.pdf"' in answer.headers["Content-Disposition"]
    return PdfReader(BytesIO(answer.data))


def text_of(pdf: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


def test_the_sheet_has_everything_a_checker_signs(page: Desk) -> None:
    pdf = sheet(page, "shim", f"{SHIM}&{HEADING}&source.depth_m=drawing+114")
    text = text_of(pdf)
    for words in ("Gull Ford", "Joint 7", "A. Kestrel", "drawing 114", "Inputs",
                  "Sketch", "Calculation", "θ = t / (1000 d)", "= 0.00064 rad",
                  "= 23.04 mm", "Result", "Range of validity", "Sources", "Version",
                  "Not engineering advice", "Signature", "page 1 of 1",
                  "UTC+02:00"):  # fmt: skip
        assert words in text, words


def test_the_sheet_carries_its_input_and_answer(page: Desk) -> None:
    attached = sheet(page, "shim", SHIM).attachments
    data = json.loads(attached["input.json"][0])
    assert data == {"thickness_mm": 1.6, "depth_m": 2.5, "tip_distance_m": 36}
    assert json.loads(attached["answer.json"][0]) == catalogue.run("shim", data)


def test_the_sheet_is_tagged_in_a_language_with_its_fonts(page: Desk) -> None:
    pdf = sheet(page, "shim", SHIM)
    root = pdf.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    for one in pdf.pages:
        for font in one["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            assert "/FontFile2" in inner["/FontDescriptor"].get_object() or (
                "/FontFile3" in inner["/FontDescriptor"].get_object()
            )


def test_the_longest_example_is_set_with_both_its_pictures(page: Desk) -> None:
    example = json.dumps(dict(catalogue.get("joint-stress").example))
    path = "/calculations/joint-stress"
    answer = page.post(path, {"press": "json", "input": example}, form=path)
    query = answer.location.partition("?")[2]
    pdf = sheet(page, "joint-stress", query)
    text = text_of(pdf)
    assert 2 <= len(pdf.pages) <= 6
    assert "Stress on the face, weight on the gear" in text
    assert "Stress on the face, weight on the bars" in text


@pytest.mark.parametrize("name", ["tendon", "joint-window", "extension-check"])
def test_nobody_signs_on_a_page_that_says_nothing_else(page: Desk, name: str) -> None:
    example = json.dumps(dict(catalogue.get(name).example))
    path = f"/calculations/{name}"
    answer = page.post(path, {"press": "json", "input": example}, form=path)
    pdf = sheet(page, name, answer.location.partition("?")[2])
    last = pdf.pages[-1].extract_text()
    for words in ("Range of validity", "Sources", "Version", "Signature"):
        assert words in last


def test_the_form_gives_the_sheet_too(page: Desk) -> None:
    fields = dict(part.split("=") for part in SHIM.split("&"))
    answer = page.post(
        "/calculations/shim", {**fields, "press": "pdf"}, form="/calculations/shim"
    )
    assert "23.04 mm" in text_of(PdfReader(BytesIO(answer.data)))


def test_bad_input_is_no_sheet_but_the_form_with_its_faults(page: Desk) -> None:
    answer = page.client.get("/calculations/shim/sheet.pdf?depth_m=deep")
    assert answer.status_code == 400
    assert "&#39;deep&#39; is not allowed" in answer.text
