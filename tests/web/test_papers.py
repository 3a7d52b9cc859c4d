"""Paper from the desk: each PDF under its address, on the size of sheet asked for."""

from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from tests.desk import PAPER, Desk, desk
from tests.people import SUBJECT

pytestmark = PAPER
ADDRESSES = (
    f"/papers/{SUBJECT}/record.pdf",
    f"/papers/{SUBJECT}/blank.pdf",
    "/papers/plans/tie.pdf",
    "/papers/labels.pdf",
)


@pytest.fixture
def here(tmp_path: Path) -> Desk:
    made = desk(tmp_path / "data")
    made.sign_in()
    return made


def test_every_paper_is_a_pdf_of_the_size_asked_for(here: Desk) -> None:
    for address in ADDRESSES:
        answer = here.client.get(address, query_string={"paper": "letter"})
        assert answer.status_code == 200, address
        assert answer.mimetype == "application/pdf"
        assert "attachment" in answer.headers["Content-Disposition"]
        with pikepdf.open(BytesIO(answer.data)) as pdf:
            sides = sorted(int(float(side)) for side in pdf.pages[0].MediaBox[2:])
        assert sides == [612, 792], address


def test_what_is_not_there_is_not_found(here: Desk) -> None:
    for address in (
        "/papers/none/record.pdf", "/papers/none/blank.pdf", "/papers/plans/none.pdf",
        "/papers/plans/tie.pdf?subject=none", "/papers/labels.pdf?item=none",
        f"/papers/{SUBJECT}/blank.pdf?paper=a3",
    ):  # fmt: skip
        assert here.client.get(address).status_code == 404, address


def test_nobody_prints_without_signing_in(tmp_path: Path) -> None:
    made = desk(tmp_path / "data")
    for address in ADDRESSES:
        assert made.client.get(address).status_code == 302, address
