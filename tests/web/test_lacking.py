"""What keeps a subject from complete is said with who may give it, on every list."""

import re
from pathlib import Path

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.store.database import connected
from tests.people import INSPECTOR, SUBJECT, put_in_force
from tests.web.race import ENGINEER, LIFE, PICTURE, Race, race, race_sheet

DECIDES = "to be decided by Engineer"


@pytest.fixture
def site(tmp_path: Path) -> Race:
    return race(tmp_path)


def row(page: str, name: str) -> str:
    """Give the row of a list that is about a subject, without its marks of HTML."""
    found = next(each for each in page.split("<tr>") if f"/joints/{name}" in each)
    told = found.partition("</tr>")[0]
    return " ".join(re.sub(r"<[^>]*>", " ", told).split())


def begun(site: Race) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")


def all_recorded(site: Race) -> dict[str, str]:
    """Record all of a sheet in which nothing waits for its own end; gives its hash."""
    sheet = race_sheet(holds=[], amended=2, dispose=[{"role": "engineer"}])
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, sheet, people=[ENGINEER], tables=[LIFE], **PICTURE)
    issued = {"sheet": fingerprint(sheet)}
    site.at(0).wiped(**issued)
    site.at(2).say("release", by=INSPECTOR, point="go", **issued)
    for kit in ("k1", "k2"):
        site.at(3).say("done", step="mix", line=kit, **issued)
    site.at(4).say("release", by=ENGINEER["id"], point="look", **issued)
    site.at(5).say("done", step="close", **issued)
    return issued


def test_an_incomplete_subject_says_in_the_archive_what_it_lacks(site: Race) -> None:
    begun(site)
    told = row(site.read("/archive"), SUBJECT)
    assert "incomplete" in told
    assert "Mixing: called" in told
    assert "to be signed by Inspector (Tarn Board)" in told
    assert "1 more of Joint 1" in told


def test_a_nonconformance_that_is_left_says_who_decides(site: Race) -> None:
    issued = all_recorded(site)
    assert "nothing open" in row(site.at(6).read("/"), SUBJECT)
    chipped = {"text": "Edge chipped", "step": "wipe"}
    site.say("nonconformance", about=chipped, **issued)
    for path in ("/archive", "/"):
        told = row(site.read(path), SUBJECT)
        assert DECIDES in told, path
        assert "nothing open" not in told
    assert "incomplete: 1 nonconformance open" in row(site.read("/archive"), SUBJECT)
    assert f"nonconformance open; {DECIDES}" in site.read("/missing")


def test_what_is_complete_lacks_nothing(site: Race) -> None:
    all_recorded(site)
    told = row(site.at(6).read("/archive"), SUBJECT)
    assert "complete" in told
    assert "to be" not in told


def test_where_the_plan_names_nobody_who_decides_nobody_is_said_to(site: Race) -> None:
    sheet = race_sheet(dispose=[])
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, sheet, people=[ENGINEER], tables=[LIFE], **PICTURE)
    issued = {"sheet": fingerprint(sheet)}
    site.at(0).wiped(**issued)
    site.at(1).say(
        "nonconformance", about={"text": "Chipped", "step": "wipe"}, **issued
    )
    told = site.at(2).read("/missing")
    assert "nonconformance open" in told
    assert "decided" not in told
    assert "May decide: nobody." in site.read("/nonconformances")
