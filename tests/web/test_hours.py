"""A phone whose clock is a day ahead: the desk says so beside all that it signed.

The first entry was signed before the phone had heard the office's clock: of it the
office knows the least, since it was here before it was signed.
"""

from pathlib import Path

import pytest

from fieldapp.lookups import Folded
from fieldapp.records.hours import Received
from fieldapp.web.flags import received_of
from tests.people import INSPECTOR, SUBJECT
from tests.web.race import HOUR_MS, Race, race

AHEAD_MS = 23 * HOUR_MS
HEARD, LEAST = "clock 23 h 00 min ahead", "clock at least 23 h 00 min ahead"


@pytest.fixture
def site(tmp_path: Path) -> Race:
    made = race(tmp_path)
    made.phone.skew_ms = AHEAD_MS
    return made


def test_every_list_of_entries_says_whose_hours_lie_in_the_future(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).wiped(temp=210)
    site.at(2).say("called", point="go")
    text = site.at(12).read(f"/joints/{SUBJECT}")
    head, _, ledger = text.partition('id="entries"')
    assert f"Phone gang: {HEARD} of the office&#39;s when it signed 3 entries" in head
    assert ledger.count(LEAST) == 1
    assert ledger.count(HEARD) == 2
    assert HEARD in section(text, "work")
    evidence = site.read(f"/joints/{SUBJECT}/points/go")
    assert evidence.count(HEARD) == 2, "the reading that stands, and the call"
    assert HEARD in site.read("/register/g1")
    assert f"Phone gang: {HEARD} of the office&#39;s (3)" in site.read("/missing")


def test_a_wait_is_counted_by_the_offices_clock(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    today = site.at(11).read("/today")
    assert "waiting 10 min" in today
    assert "waiting 22 h" not in today
    assert HEARD in today
    assert "waiting 10 min" in site.read("/queue")
    assert "called 10 min ago" in site.read("/")


def test_a_refusal_and_what_was_decided_are_marked_too(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("refusal", by=INSPECTOR, point="go", about={"reason": "wet"})
    text = {"text": "Edge chipped", "step": "wipe"}
    site.at(2).say("nonconformance", about=text)
    page = site.at(5).read(f"/joints/{SUBJECT}")
    assert section(page, "turns").count(HEARD) == 2
    assert HEARD in section(site.read("/nonconformances"), "g-open")
    assert "waiting 2 min" in site.at(4).read("/today")


def test_hours_that_are_right_are_not_marked(site: Race) -> None:
    site.phone.skew_ms = 90_000
    site.at(0).wiped()
    site.at(1).wiped()
    page = site.at(2).read(f"/joints/{SUBJECT}")
    assert "ahead" not in page
    assert "behind" not in page


def test_a_clock_behind_is_told_once_the_office_was_heard(site: Race) -> None:
    site.phone.skew_ms = -AHEAD_MS
    site.at(0).wiped()
    site.at(1).wiped()
    page = site.at(2).read(f"/joints/{SUBJECT}")
    assert "clock 23 h 00 min behind the office&#39;s when it signed 1 entry" in page


def section(page: str, name: str) -> str:
    """Give a page from a heading's id to the end of its section."""
    return page.partition(f'id="{name}"')[2].partition("</section>")[0]


def test_when_entries_came_is_looked_up_once_a_page_however_many_there_are(
    site: Race, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []

    def counted(found: Folded) -> Received:
        asked.append(1)
        return received_of(found)

    for page in ("joint_page", "evidence_page", "register_page"):
        monkeypatch.setattr(f"fieldapp.web.{page}.received_of", counted)
    paths = ("/", f"/joints/{SUBJECT}/points/go", "/register/g1")

    def counts() -> list[int]:
        told = []
        for path in paths:
            asked.clear()
            site.read(path)
            told.append(len(asked))
        return told

    site.at(0).wiped()
    site.at(1).say("called", point="go")
    few = counts()
    for minute in range(2, 8):
        site.at(minute).wiped(temp=200 + minute)
        site.say("call_withdrawn", point="go", about={"reason": "wait"})
        site.say("called", point="go")
    assert counts() == few
