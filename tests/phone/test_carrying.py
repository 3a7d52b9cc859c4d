"""Carrying entries to the office and back: nothing is lost, nothing arrives twice."""

import http.server
import shutil
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

from playwright.sync_api import Playwright

from tests.phone.gang import JOINT, PINS, TITLE, Gang
from tests.phone.handset import Handset
from tests.phone.ledger import arrived, wait_for_arrival
from tests.phone.office import Office


def _ids(office: Office) -> set[str]:
    return {entry.id for entry in arrived(office, JOINT)}


def _waiting(phone: Handset) -> list[Any]:
    return [row for row in phone.storage("entries") if row.get("waiting")]


def test_an_office_that_answers_with_errors_takes_nothing_off_the_outbox(
    gang: Gang, office_of_gang: Office
) -> None:
    before = _ids(office_of_gang)
    gang.prepare_surfaces()
    made = {row["id"] for row in _waiting(gang.phone)}
    asked = threading.Event()
    with _broken_office(office_of_gang.port, asked.set):
        gang.phone.tap("#marks")
        gang.phone.tap("#dock .main")
        assert asked.wait(60)
        gang.phone.page.wait_for_timeout(500)
    assert {row["id"] for row in _waiting(gang.phone)} == made
    office_of_gang.start()
    gang.phone.tap("#dock .main")
    gang.phone.sees("all at the office")
    assert _ids(office_of_gang) - before == made


def test_an_entry_the_office_cannot_read_is_kept_and_shown_and_holds_up_nobody(
    gang: Gang, office_of_gang: Office
) -> None:
    before = _ids(office_of_gang)
    gang.prepare_surfaces()
    good = {row["id"] for row in _waiting(gang.phone)}
    gang.phone.page.evaluate(_SPOIL)
    office_of_gang.start()
    gang.phone.tap("#marks")
    gang.phone.tap("#dock .main")
    gang.phone.sees("all at the office")
    gang.phone.sees("Not accepted")
    gang.phone.sees("From other phones, not believed")
    others = gang.phone.page.locator("[data-other]")
    assert others.count() == 1
    assert "from stranger" in others.inner_text()
    assert "this phone does not know yet" in others.inner_text()
    own = gang.phone.page.locator("#screen p.bad")
    assert own.count() == 1
    assert "cannot be read there" in own.inner_text()
    assert _ids(office_of_gang) - before == good
    spoiled = [row for row in gang.phone.storage("entries") if row.get("fault")]
    assert {row["id"] for row in spoiled} == {"f" * 64, "e" * 64}


def test_an_office_that_forgot_is_found_out_and_offered_everything_again(
    gang: Gang, office_of_gang: Office, tmp_path: Path
) -> None:
    office, phone, old = office_of_gang, gang.phone, tmp_path / "old"
    copy = tmp_path / "copy.backup"
    office.command("backup", str(copy))
    shutil.copytree(office.data, old)
    before = _ids(office)
    gang.prepare_surfaces()
    office.start()
    phone.try_office()
    phone.sees("all at the office")
    made = _ids(office) - before
    assert len(made) == 2
    office.kill()

    shutil.rmtree(office.data)
    shutil.copytree(old, office.data)
    assert _ids(office) == before
    office.start()
    phone.tap("#marks")
    phone.tap("#dock .main")
    wait_for_arrival(office, JOINT, before | made)
    phone.sees("does not contain what this phone saw", "#history-alarm")
    phone.page.reload()
    phone.tap("#marks")
    phone.sees("does not contain what this phone saw", "#history-alarm")
    phone.tap("button:has-text('has been told')")
    phone.page.locator("#history-alarm").wait_for(state="detached")
    office.kill()

    office.command("restore", str(copy), "--over")
    assert _ids(office) == before
    office.start()
    phone.tap("#dock .main")
    wait_for_arrival(office, JOINT, before | made)
    phone.sees("began again from a copy", "#history-alarm")


def test_another_phone_hears_what_this_one_said(
    gang: Gang, office_of_gang: Office, playwright: Playwright, tmp_path: Path
) -> None:
    office_of_gang.start()
    gang.prepare_surfaces()
    gang.phone.sees("all at the office")
    (tmp_path / "other").mkdir()
    other = Handset(
        playwright=playwright, profile=tmp_path / "other", url=office_of_gang.url
    )
    try:
        other.start().enrol(office_of_gang.code("ruan"), PINS["leofric"])
        other.sees("Ruan Selwick")
        Gang(other).open_joint()
        other.sees(TITLE, "#head")
        other.sees("done", '[data-step="faces"]')
        other.sees("ready to call", '[data-point="mixing"]')
        assert other.faults == []
    finally:
        other.kill()


def test_a_phone_that_the_office_no_longer_knows_comes_back_by_itself(
    gang: Gang, office_of_gang: Office
) -> None:
    gang.prepare_surfaces()
    gang.phone.page.evaluate(_FORGET_TOKEN)
    assert len(_waiting(gang.phone)) == 2
    office_of_gang.start()
    gang.phone.try_office()
    gang.phone.sees("all at the office")
    assert _waiting(gang.phone) == []


_SPOIL = """async () => {
  const { transact } = await import("/phone/device/database.js");
  await transact(["entries"], "readwrite", (store) => {
    store("entries").put({ id: "f".repeat(64), bytes: "{ not an entry", sig: "x",
      subject: "", device: "gang", seq: 999, made: 1, waiting: 1, mine: 1 });
    // What another phone showed, signed by somebody nobody told this phone of.
    store("entries").put({ id: "e".repeat(64), bytes: "{}", sig: "x", subject: "",
      device: "stranger", seq: 1, made: 1, fault: "unknown_key" });
  });
}"""
_FORGET_TOKEN = """async () => {
  const { getMeta, putMeta } = await import("/phone/device/database.js");
  await putMeta("identity", { ...(await getMeta("identity")), token: "gone" });
}"""


class _broken_office:  # noqa: N801  # reads as a phrase where it is used
    """Something on the office's port that answers every question with an error."""

    def __init__(self, port: int, asked: Callable[[], None]) -> None:
        class Handler(http.server.BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                asked()
                self.send_error(500)

            do_POST = do_GET  # noqa: N815  # the name http.server wants

            def log_message(self, *_words: object) -> None:
                pass

        self._server = http.server.ThreadingHTTPServer(("127.0.0.1", port), Handler)
        self._thread = threading.Thread(target=self._server.serve_forever)

    def __enter__(self) -> None:
        self._thread.start()

    def __exit__(self, *_fault: object) -> None:
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()
