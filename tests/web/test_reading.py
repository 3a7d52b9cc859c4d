"""Just started, the site is read in the background; pages wait for it and say so."""

from pathlib import Path
from threading import Event

import pytest

from fieldapp.commands.warm import begin_warming
from fieldapp.config import Running
from fieldapp.store.database import connected
from fieldapp.web import reading
from tests.desk import Desk, desk
from tests.people import put_in_force, sheet

WHOLE_SITE = ("/", "/today", "/queue", "/nonconformances", "/missing", "/register/",
              "/plan/", "/joints/J1")  # fmt: skip
PARTS = ("/people", "/calculations", "/protocol")
PATIENCE_S = 60.0


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.setattr(reading, "PATIENCE_S", 0.0)
    made = desk(tmp_path)
    made.sign_in()
    return made


def wired(page: Desk) -> Running:
    found: Running = page.app.extensions["fieldapp"]
    return found


def test_pages_of_the_whole_site_say_how_far_the_reading_is(page: Desk) -> None:
    warming = wired(page).warming
    warming.done.clear()
    warming.read, warming.total = 120, 320
    for path in WHOLE_SITE:
        answer = page.client.get(path)
        assert answer.status_code == 503, path
        assert "120 of 320 subjects read" in answer.text
        assert answer.headers["Refresh"] == answer.headers["Retry-After"] == "1"
    for path in PARTS:
        assert page.client.get(path, follow_redirects=True).status_code == 200, path
    warming.done.set()
    for path in WHOLE_SITE:
        assert page.client.get(path).status_code == 200, path


def test_a_page_after_the_reading_finds_everything_read(page: Desk) -> None:
    here = wired(page)
    with connected(here.door.store):
        put_in_force(here.door, sheet(), sheet(subject="J2", title="Joint 2"))
    begin_warming(here, Event()).join(PATIENCE_S)
    assert here.warming.done.is_set()
    assert (here.warming.read, here.warming.total) == (2, 2)
    kept = dict(here.reader.store.cache["kept"])
    assert set(kept) == {"J1", "J2"}
    page.client.get("/")
    assert all(here.reader.store.cache["kept"][name] is kept[name] for name in kept)


def test_reading_that_is_stopped_keeps_nobody_waiting(page: Desk) -> None:
    here, stopped = wired(page), Event()
    stopped.set()
    begin_warming(here, stopped).join(PATIENCE_S)
    assert here.warming.done.is_set()

    assert page.client.get("/").status_code == 200
