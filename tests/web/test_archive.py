"""The archive at the desk: what is listed, who may archive, and the bytes that stay."""

from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from fieldapp.store.database import connected
from fieldapp.web.archive import DOSSIER
from tests.desk import PAPER, READER_NAME, Desk, desk
from tests.people import FOREMAN, NOON, SUBJECT, wiped

pytestmark = PAPER
FIRST = f"/archive/{SUBJECT}/revision-1.pdf"


@pytest.fixture
def here(tmp_path: Path) -> Desk:
    made = desk(tmp_path / "data")
    made.site.phone()
    record(made, 215)
    made.sign_in()
    return made


def record(here: Desk, temp: int) -> None:
    phone = here.site.world.phones["gang"]
    with connected(here.site.wired.door.store):
        wiped(phone, temp=temp)
        here.site.world.sync(phone, NOON)


def press(here: Desk) -> int:
    answer = here.post(f"/archive/{SUBJECT}", {}, form="/archive")
    return answer.status_code


def test_a_begun_subject_is_listed_until_it_is_archived(here: Desk) -> None:
    assert "not archived" in here.client.get("/archive").text
    assert press(here) == 302
    assert (
        "Everything begun is archived as it stands" in here.client.get("/archive").text
    )
    page = here.client.get(f"/joints/{SUBJECT}").text
    assert "revision 1 says all there is" in page
    assert "Ida Fell" in page


def test_what_comes_later_makes_it_out_of_date_and_leaves_the_bytes(
    here: Desk,
) -> None:
    press(here)
    before = here.client.get(FIRST)
    assert before.mimetype == "application/pdf"
    record(here, 220)
    told = "out of date: 1 entry since revision 1"
    assert told in here.client.get("/archive").text
    assert told in here.client.get(f"/joints/{SUBJECT}").text
    press(here)
    assert here.client.get(FIRST).data == before.data
    assert here.client.get(FIRST.replace("-1", "-2")).status_code == 200


def test_only_an_office_account_archives_and_only_by_its_form(tmp_path: Path) -> None:
    made = desk(tmp_path / "data")
    assert made.client.get("/archive").status_code == 302
    made.sign_in(READER_NAME)
    assert made.client.get("/archive").status_code == 200
    assert made.post(f"/archive/{SUBJECT}", {}, form="/sign-in").status_code == 403
    assert made.client.post(f"/archive/{SUBJECT}").status_code == 400


def test_what_is_not_there_is_not_found(here: Desk) -> None:
    for number in ("0", "1", "9" * 30):
        asked = here.client.get(FIRST.replace("-1", f"-{number}"))
        assert asked.status_code == 404, number
    assert here.post("/archive/none", {}, form="/archive").status_code == 404
    assert FOREMAN not in here.client.get("/archive").text


def test_a_dossier_is_one_file_with_the_archived_bytes(here: Desk) -> None:
    press(here)
    assert "The whole site" in here.client.get("/archive").text
    answer = here.client.get("/archive/dossier.pdf", query_string={"paper": "letter"})
    assert answer.mimetype == "application/pdf"
    kept = here.client.get(FIRST).data
    with pikepdf.open(BytesIO(answer.data)) as pdf:
        name = f"{SUBJECT}-revision-1.pdf"
        assert pdf.attachments[name].get_file().read_bytes() == kept
        assert len(pdf.pages) > 2
    for wrong in ({"pier": "none"}, {"paper": "a3"}):
        asked = here.client.get("/archive/dossier.pdf", query_string=wrong)
        assert asked.status_code == 404, wrong
    with DOSSIER:
        assert here.client.get("/archive/dossier.pdf").status_code == 429
