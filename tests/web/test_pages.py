"""The desk's pages: what they say, and that they never break."""

import re
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from fieldapp.app import create_app
from fieldapp.config import Settings, open_door, running
from fieldapp.intake.plans import issue_ordered
from fieldapp.play.world import World
from fieldapp.records.pdf import PaperUnavailable
from fieldapp.store.database import StoreUnavailable, connected
from fieldapp.store.devices import find_code
from tests.desk import PAPER, READER_NAME, Desk, desk
from tests.people import (
    FOREMAN,
    INSPECTOR,
    NOON,
    SUBJECT,
    Stage,
    put_in_force,
    sheet,
    wiped,
)

UNSAFE = re.compile(r"<script(?![^>]*\bsrc=)|\son\w+=|\sstyle=|<style|javascript:")


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    made = desk(tmp_path)
    made.sign_in()
    return made


def record(page: Desk, temp: int = 215) -> None:
    phone = page.site.phone("gang", FOREMAN, INSPECTOR)
    wiped(phone, temp=temp)
    with connected(page.site.wired.door.store):
        page.site.world.sync(phone, NOON)


def test_the_list_names_each_joint_with_its_state_in_words(page: Desk) -> None:
    text = page.client.get("/").text
    assert "Joint 1" in text
    assert "not begun" in text
    assert "Wipe the face" in text
    assert "0 of 2" in text


def test_the_search_finds_by_id_or_title_and_says_when_nothing_is_found(
    page: Desk,
) -> None:
    for wanted in ("j1", "JOINT", " joint 1 "):
        assert "Wipe the face" in page.client.get("/", query_string={"q": wanted}).text
    text = page.client.get("/?q=%3Cb%3Enothing").text
    assert "No subject has" in text
    assert "&lt;b&gt;nothing" in text


def test_one_joint_shows_steps_points_readings_and_the_ledgers_entries(
    page: Desk,
) -> None:
    record(page)
    text = page.client.get(f"/joints/{SUBJECT}").text
    for words in ("Wipe the face", "21.5 °C", "Ida Fell", "Mixing", "may be called",
                  "done", "gang", "A joint for tests"):  # fmt: skip
        assert words in text
    assert "2026-05-28 22:26 +02:00" in text  # NOON at 120 minutes east
    assert ">Index </span>4</th>" in text


def test_a_failed_reading_is_told_by_the_sheets_own_words(page: Desk) -> None:
    record(page, temp=49)
    text = page.client.get(f"/joints/{SUBJECT}").text
    assert text.count("The face is 5.0 °C or warmer") >= 2
    assert "out of limits" in text
    assert "1 open" in page.client.get("/").text


def test_what_a_gate_waits_for_is_told_by_titles_not_ids(page: Desk) -> None:
    text = page.client.get(f"/joints/{SUBJECT}").text
    assert "Wipe the face is not recorded yet." in text
    assert "Mixing is not released." in text


@PAPER
def test_the_record_is_given_as_a_pdf_to_keep(page: Desk) -> None:
    record(page)
    answer = page.client.get(f"/joints/{SUBJECT}/record.pdf")
    assert answer.mimetype == "application/pdf"
    assert answer.data.startswith(b"%PDF-")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="J1.pdf"'
    text = "".join(one.extract_text() for one in PdfReader(BytesIO(answer.data)).pages)
    assert "Joint 1" in text
    assert "21.5" in text


def test_a_machine_that_sets_no_paper_says_what_it_needs(
    page: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_args: object) -> None:
        raise PaperUnavailable("install libpango")

    monkeypatch.setattr("fieldapp.records.gather.record_pdf", fail)
    answer = page.client.get(f"/joints/{SUBJECT}/record.pdf")
    assert answer.status_code == 503
    assert "install libpango" in answer.text


def test_text_of_people_is_never_markup(page: Desk) -> None:
    phone = page.site.phone("gang", FOREMAN)
    about = {"text": "<img src=x onerror=alert(1)>"}
    phone.write("note", person=FOREMAN, now=NOON, subject=SUBJECT, about=about)
    with connected(page.site.wired.door.store):
        page.site.world.sync(phone, NOON)
    text = page.client.get(f"/joints/{SUBJECT}").text
    assert "&lt;img src=x" in text
    assert "<img src=x" not in text


def test_a_revised_sheet_keeps_what_reads_the_same(page: Desk) -> None:
    record(page)
    with connected(page.site.wired.door.store):
        put_in_force(page.site.wired.door, sheet(revision=2, title="Joint one"))
        issue_ordered(page.site.wired.door, [SUBJECT], NOON)
    text = page.client.get(f"/joints/{SUBJECT}").text
    assert "Joint one" in text
    assert "revision 2" in " ".join(text.split())
    assert "21.5 °C" in text


def test_people_are_listed_with_their_keys(page: Desk) -> None:
    page.site.phone("gang", FOREMAN)
    text = page.client.get("/people").text
    assert "Ida Fell" in text
    assert "Omar Beck" in text
    assert "Gang foreman" in text
    assert "Builders" in text
    assert text.count(">active<") == 1


def test_an_office_account_makes_a_code_that_is_shown_once(page: Desk) -> None:
    answer = page.post(f"/people/{FOREMAN}/code", {}, form="/people")
    assert answer.status_code == 200
    found = re.search(r'class="code">([A-Z0-9]{4}-[A-Z0-9]{4})<', answer.text)
    assert found is not None
    assert answer.headers["Cache-Control"] == "no-store"
    store = page.site.wired.door.store
    with connected(store):
        code = find_code(store, found[1])
    assert code is not None
    assert code.person == FOREMAN
    assert found[1] not in page.client.get("/people").text


def test_an_account_without_the_right_makes_no_code(tmp_path: Path) -> None:
    page = desk(tmp_path)
    page.sign_in(READER_NAME)
    assert "New code" not in page.client.get("/people").text
    answer = page.post(f"/people/{FOREMAN}/code", {}, form="/people")
    assert answer.status_code == 403


def test_a_code_wants_the_forms_token_and_a_person_of_the_plan(page: Desk) -> None:
    assert page.client.post(f"/people/{FOREMAN}/code").status_code == 400
    assert page.post("/people/nobody/code", {}, form="/people").status_code == 404


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [("GET", "/nothing", 404), ("GET", "/joints/none", 404), ("POST", "/", 405),
     ("GET", "/joints/%00", 404), ("GET", "/joints/..%2f..%2fetc", 404),
     ("PUT", "/people", 405), ("GET", "/joints/none/record.pdf", 404),
     ("GET", f"/people/{FOREMAN}/code", 405), ("GET", "/phone/core/../app.py", 404),
     ("GET", "/phone/core/%2e%2e/%2e%2e/pyproject.toml", 404),
     ("GET", "/phone/nowhere/x.js", 404)],
)  # fmt: skip
def test_a_wrong_address_gets_a_friendly_page(
    page: Desk, method: str, path: str, status: int
) -> None:
    answer = page.client.open(path, method=method)
    assert answer.status_code == status
    assert "To the list of the work" in answer.text


def test_a_form_that_is_too_large_is_413(page: Desk) -> None:
    answer = page.client.post("/sign-in", data={"name": "x" * (2 * 1024 * 1024)})
    assert answer.status_code == 413
    assert "too large" in answer.text


def test_our_own_mistake_is_500_without_our_insides(
    page: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_args: object) -> None:
        raise RuntimeError("the insides")

    monkeypatch.setattr("fieldapp.web.joints.overview", fail)
    answer = page.client.get("/")
    assert answer.status_code == 500
    assert "insides" not in answer.text
    assert "To the list of the work" in answer.text


def test_a_disk_that_fails_is_503(page: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_args: object) -> None:
        raise StoreUnavailable("disk I/O error")

    monkeypatch.setattr("fieldapp.web.joints.overview", fail)
    assert page.client.get("/").status_code == 503


@pytest.mark.parametrize("host", ["evil.example", "localhost.evil.example", "["])
def test_another_host_name_is_not_answered(page: Desk, host: str) -> None:
    answer = page.client.get("/", headers={"Host": host})
    assert answer.status_code == 400
    assert "sign" not in answer.text.lower()


@pytest.mark.parametrize(
    "path", ["/", f"/joints/{SUBJECT}", "/people", "/sign-in", "/nothing"]
)
def test_no_page_needs_script_or_carries_any_inline(page: Desk, path: str) -> None:
    record(page)
    answer = page.client.get(path)
    assert UNSAFE.findall(answer.text) == []
    assert "<script" not in answer.text
    policy = answer.headers["Content-Security-Policy"]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Cache-Control"] == "no-store"


def test_before_a_site_is_loaded_the_list_says_what_to_do(tmp_path: Path) -> None:
    door = open_door(tmp_path)
    site = Stage(
        data=tmp_path, wired=running(door, lambda: NOON), world=World(door=door)
    )
    app = create_app(Settings(data=tmp_path), clock=lambda: NOON)
    empty = Desk(app=app, client=app.test_client(), site=site)
    empty.sign_in()
    assert "fieldapp load" in empty.client.get("/").text
    assert empty.client.get("/people").status_code == 200


def test_a_fault_is_told_to_people_in_words_and_to_programs_by_code(page: Desk) -> None:
    shown = page.client.get("/nothing").text
    assert "<h1>Nothing is here</h1>" in shown
    assert "Not Found" not in shown
    answer = page.client.post("/api/ping")
    assert (answer.status_code, answer.json["error"]["code"]) == (405, "not_allowed")
