"""What outlasts an attempt, and waits nobody can time, at the desk."""

from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.lookups import overview
from fieldapp.store.database import connected
from tests.people import INSPECTOR, SUBJECT, put_in_force
from tests.web.race import (
    ENGINEER,
    LIFE,
    MINUTE_MS,
    PICTURE,
    Race,
    amend,
    race,
    race_sheet,
)

PART = {"id": "part", "title": "Part clean by", "num": 1, "den": 1,
        "text": "Later the faces stick."}  # fmt: skip
CLEAN = {"title": "Parted and cleaned", "class": "gated", "by": ["foreman"],
         "fields": [], "again": 1}  # fmt: skip


def reworked(data: Path) -> tuple[Race, dict[str, Any]]:
    """Mix one kit at minute 4, then order the joint to be begun again at minute 10."""
    site = race(data)
    plain = race_sheet()
    [clock] = plain["clocks"]
    sheet = race_sheet(
        amended=2,
        flow=["clean", *plain["flow"]],
        steps={**plain["steps"], "clean": CLEAN},
        clocks=[clock | {"ratios": [*clock["ratios"], PART]}],
    )
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, sheet, people=[ENGINEER], tables=[LIFE], **PICTURE)
    told = {"sheet": fingerprint(sheet)}
    site.at(0).wiped(**told)
    site.at(1).say("release", by=INSPECTOR, point="go", **told)
    site.at(4).say("done", step="mix", line="k1", **told)
    about = {"text": "a kit was not mixed", "step": "mix"}
    raised = site.at(9).say("nonconformance", about=about, **told)
    about = {
        "target": raised,
        "verdict": "rework",
        "from": "clean",
        "reason": "begin again",
    }
    attempt = site.at(10).say("disposition", by=INSPECTOR, about=about, **told)
    return site, {**told, "attempt": attempt}


def test_part_clean_by_stays_in_sight_until_it_is_parted(tmp_path: Path) -> None:
    site, told = reworked(tmp_path)
    site.at(14)
    # A life of 4,000 s from minute 4 on ends at 70:40; at minute 14, 56 whole minutes.
    for path in (f"/joints/{SUBJECT}", "/today"):
        text = site.read(path)
        assert "Part clean by" in text, path
        assert "56 min left" in text, path
        assert "until recorded: Parted and cleaned" in text, path
    assert "Later the faces stick." in site.read(f"/joints/{SUBJECT}")
    today = site.read("/today")
    assert "Ended attempt: Part clean by" in today, "among what bites"
    site.at(75)
    assert "4 min ago" in site.read(f"/joints/{SUBJECT}")
    assert "4 min ago" in site.read("/today"), "past, and not yet parted"
    site.at(76).say("done", step="clean", **told)
    assert "Part clean by" not in site.read("/today")
    text = site.read(f"/joints/{SUBJECT}")
    assert "until recorded" not in text
    assert text.count("Part clean by") == 1, "told once, among what ended"


def test_the_clocks_of_an_attempt_that_ended_are_told_as_they_ended(
    tmp_path: Path,
) -> None:
    site, told = reworked(tmp_path)
    text = site.at(14).read(f"/joints/{SUBJECT}")
    assert '<h3 class="ended">Attempt 1 ' in text
    assert "rework was ordered, " in text
    # Half of 4,000 s from minute 4 on ends at 37:20; at minute 10, 27 whole minutes.
    assert "27 min in hand when rework was ordered" in text
    site.at(76).say("done", step="clean", **told)
    text = site.read(f"/joints/{SUBJECT}")
    assert "5 min late</li>" in text, "parted 5 min 20 s after the life ended"


def test_a_clock_that_was_met_says_what_was_in_hand(tmp_path: Path) -> None:
    site = race(tmp_path)
    sheet = race_sheet(amended=2, holds=[])
    door = site.desk.site.wired.door
    with connected(door.store):
        put_in_force(door, sheet, people=[ENGINEER], tables=[LIFE], **PICTURE)
    issued = {"sheet": fingerprint(sheet)}
    site.at(0).wiped(**issued)
    site.at(1).say("release", by=INSPECTOR, point="go", **issued)
    for line in ("k1", "k2"):
        site.at(4).say("done", step="mix", line=line, **issued)
    site.at(5).say("release", by="elin", point="look", **issued)
    site.at(10).say("done", step="close", **issued)
    text = site.at(50).read(f"/joints/{SUBJECT}")
    assert "27 min in hand</li>" in text, "as it was when the joint was shut"
    assert '<h3 class="ended">Attempt' not in text


def test_what_is_kept_of_it_is_no_older_than_its_minute(tmp_path: Path) -> None:
    site, _ = reworked(tmp_path)
    wired = site.desk.site.wired
    with connected(wired.door.store):
        for minute in (14, 16, 73):
            now = site.at(minute).desk.site.now
            kept = [each.state for each in overview(wired.reader, now)]
            wired.door.store.cache.pop("kept", None)
            assert kept == [each.state for each in overview(wired.reader, now)]


@pytest.mark.parametrize("path", ["/today", f"/joints/{SUBJECT}"])
def test_a_wait_without_an_hour_stands_beside_the_clocks(
    tmp_path: Path, path: str
) -> None:
    site = race(tmp_path)
    issued = amend(site)
    site.at(10).say("note", about={"text": "Begun"}, **issued)
    site.phone.restart(site.desk.site.now)
    site.phone.skew_ms, site.phone.offset_ms = -600 * MINUTE_MS, None
    site.at(15).say("done", step="close", **issued)
    text = site.at(20).read(path)
    assert "Curing" in text
    assert "not known when it began" in text
