"""The server looks at its own books: what was written by hand is said at the desk."""

from pathlib import Path
from threading import Event

import pytest

from fieldapp.commands.watch import found_wrong, watch
from fieldapp.store.ledger import Signed
from tests.desk import Desk, desk
from tests.people import wiped
from tests.simulation.forger import slip_in

PATIENCE_S = 60.0


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    made = desk(tmp_path)
    made.sign_in()
    return made


def forge(page: Desk) -> None:
    phone = page.site.phone()
    wiped(phone)
    good = phone.outbox[-1]
    other = wiped(phone, temp=216)
    assert other.id
    forged = Signed(body=phone.outbox[-1].body, sig=good.sig)
    slip_in(page.site.data / "site.db", forged)


def test_sound_books_say_nothing_and_forged_ones_are_told_on_every_page(
    page: Desk,
) -> None:
    assert found_wrong(page.site.data) == []
    assert "do not hold" not in page.client.get("/").text
    forge(page)
    troubles = page.app.extensions["fieldapp"].troubles
    stopped = Event()
    thread = watch(page.site.data, troubles, stopped, first_s=0.0)
    for _ in range(int(PATIENCE_S / 0.1)):
        if troubles:
            break
        stopped.wait(0.1)
    stopped.set()
    thread.join(PATIENCE_S)
    assert any("signature" in each for each in troubles)
    for path in ("/", "/today", "/people"):
        text = page.client.get(path).text
        assert "The books do not hold" in text
        assert "signature" in text


def test_books_that_cannot_be_checked_are_told_too(tmp_path: Path) -> None:
    assert "could not be checked" in found_wrong(tmp_path / "nowhere")[0]
