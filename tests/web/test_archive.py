"""The archive at the desk: what is listed, who may archive, and the bytes that stay."""

from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from werkzeug.test import TestResponse

from fieldapp.core.canonical import fingerprint
from fieldapp.store.archive import revisions_of
from fieldapp.store.database import connected
from fieldapp.web.archive import ONE_AT_A_TIME
from tests.desk import OFFICE_NAME, PAPER, READER_NAME, TOKEN, Desk, desk
from tests.people import FOREMAN, NOON, SUBJECT, put_in_force, sheet, wiped

pytestmark = PAPER
OTHER = "J2"
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
    assert made.post("/archive", {}, form="/sign-in").status_code == 403
    assert "form=" not in made.client.get("/archive").text


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
    with ONE_AT_A_TIME:
        assert here.client.get("/archive/dossier.pdf").status_code == 429


@pytest.fixture
def two(here: Desk) -> Desk:
    """Give the site a second subject, begun like the first."""
    other = sheet(subject=OTHER, title="Joint 2")
    phone = here.site.world.phones["gang"]
    with connected(here.site.wired.door.store):
        put_in_force(here.site.wired.door, sheet(), other)
        phone.write(
            "done", person=FOREMAN, now=NOON, subject=OTHER, step="wipe",
            sheet=fingerprint(other), values={"temp": 215},
        )  # fmt: skip
        here.site.world.sync(phone, NOON)
    return here


def several(here: Desk, **fields: str | list[str]) -> TestResponse:
    found = TOKEN.search(here.client.get("/archive").text)
    assert found
    return here.client.post("/archive", data={"csrf_token": found[1], **fields})


def revisions(here: Desk, subject: str) -> int:
    store = here.site.wired.door.store
    with connected(store):
        return len(revisions_of(store, subject))


def test_the_chosen_are_archived_each_with_its_own_statement(two: Desk) -> None:
    told = several(two, subject=[SUBJECT, OTHER, "none"]).text
    assert told.count("archived as revision 1") == 2
    assert "Everything begun is archived as it stands" in told
    store = two.site.wired.door.store
    with connected(store):
        said = [revisions_of(store, each)[0].said for each in (SUBJECT, OTHER)]
    assert [each["account"] for each in said] == [OFFICE_NAME] * 2
    again = several(two, subject=[SUBJECT]).text
    assert "nothing came since revision 1, which stands" in again
    assert revisions(two, SUBJECT) == 1


def test_what_there_is_no_time_for_is_told_and_still_chosen(
    two: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.web.archive.MOST_MS", 0)
    told = several(two, subject=[SUBJECT, OTHER]).text
    assert "1 not yet" in told
    assert [revisions(two, each) for each in (SUBJECT, OTHER)] == [1, 0]
    assert f'value="{OTHER}" form="several" checked' in told


def test_a_full_disk_is_told_and_ends_the_round(
    two: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.store.room.SPARE_BYTES", 2**62)
    told = several(two, subject=[SUBJECT, OTHER]).text
    assert "not archived: The disk of the office" in told
    assert "1 not yet" in told
    assert revisions(two, SUBJECT) == 0


def test_nothing_is_archived_that_was_not_chosen_or_not_by_its_form(two: Desk) -> None:
    assert "Nothing was chosen" in several(two).text
    assert "Nothing was chosen" in several(two, complete="1").text, "none is complete"
    assert two.client.post("/archive", data={"subject": SUBJECT}).status_code == 400
    with ONE_AT_A_TIME:
        assert several(two, subject=SUBJECT).status_code == 429
    assert revisions(two, SUBJECT) == 0


def test_what_was_archived_is_told_once_where_it_was_asked_for(two: Desk) -> None:
    told = (
        "archived as revision 1", "Revision 1 as PDF", FIRST,
        f"document tarn-{SUBJECT}", "no. 1 of the archive",
    )  # fmt: skip
    press(two)
    page = two.client.get(f"/joints/{SUBJECT}").text
    assert [each for each in told if each not in page] == []
    assert "as PDF</a>" in page
    again = two.client.get(f"/joints/{SUBJECT}").text
    assert "no. 1 of the archive" not in again, "told once, then listed"
    assert FIRST in again
    answer = two.post(f"/archive/{OTHER}", {"listed": "1"}, form="/archive")
    assert answer.headers["Location"] == "/archive"
    listed = two.client.get("/archive").text
    assert "no. 2 of the archive" in listed
    assert f"/archive/{OTHER}/revision-1.pdf" in listed
    # Pressed again on an old page: what stands is told, and nothing is made.
    two.post(f"/archive/{OTHER}", {"listed": "1"}, form="/archive")
    assert (
        "nothing came since revision 1, which stands" in two.client.get("/archive").text
    )
