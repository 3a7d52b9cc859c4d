"""How far a subject is, its elevation, and what may go up next on an arm."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.lookups import Folded, folded
from fieldapp.store.database import connected
from fieldapp.web.elevation import elevation
from fieldapp.web.joint_groups import group
from fieldapp.web.stages import awaited_milestones, live_mark, stage
from tests.people import INSPECTOR, NOON, SUBJECT, put_in_force
from tests.web.race import (
    ENGINEER,
    LIFE,
    MINUTE_MS,
    OTHER,
    PICTURE,
    Race,
    amend,
    race,
    race_sheet,
)


def segment(at: int, joint: str, order: int = 1) -> dict[str, Any]:
    return {"id": joint, "title": joint, "order": order, "at": at, "length": 3_000,
            "depth": 2_000, "level": 45_000, "joint": joint}  # fmt: skip


def pier(west: list[dict[str, Any]], east: list[dict[str, Any]]) -> dict[str, Any]:
    arms = [{"id": "west", "side": -1, "segments": west},
            {"id": "east", "side": 1, "segments": east}]  # fmt: skip
    return {"id": "p", "title": "Pier P", "at": 0, "level": 45_000, "half": 2_500,
            "arms": arms}  # fmt: skip


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Race]:
    made = race(tmp_path)
    store = made.desk.site.wired.door
    hangs = [pier([], [segment(2_500, SUBJECT), segment(5_500, OTHER, 2)])]
    with connected(store.store):
        put_in_force(store, race_sheet(), race_sheet(OTHER), people=[ENGINEER],
                     tables=[LIFE], **(PICTURE | {"piers": hangs}))  # fmt: skip
        yield made


def found(site: Race, minute: int) -> Folded:
    now = NOON + minute * MINUTE_MS
    told = folded(site.desk.site.wired.reader, SUBJECT, now)
    assert told is not None
    return told


def told(site: Race, minute: int) -> tuple[int, str, str, str]:
    here = found(site, minute)
    how_far = stage(here, "shut")
    mark = live_mark(here, how_far, NOON + minute * MINUTE_MS)
    return how_far["level"], how_far["word"], mark["icon"], mark["word"]


def test_a_joint_goes_from_not_begun_past_its_gate_to_what_others_wait_for(
    site: Race,
) -> None:
    assert told(site, 0) == (0, "not begun", "○", "not begun")
    site.at(0).wiped()
    assert told(site, 0) == (1, "begun", "◐", "begun")
    site.at(1).say("called", point="go")
    assert told(site, 12) == (1, "begun", "☎", "called 11 min ago")
    site.at(13).say("release", by=INSPECTOR, point="go")
    assert told(site, 13) == (2, "past Mixing", "◐", "past Mixing")
    site.at(14).say("done", step="mix", line="k1")
    site.at(15).say("done", step="mix", line="k2")
    # Half of 4,000 s from minute 14 on ends at 47:20: 31 whole minutes from 16 on.
    assert told(site, 16) == (2, "past Mixing", "◷", "Life of the mix: 31 min left")
    # Were others to wait for the mixing, they might build on it now.
    assert stage(found(site, 16), "mix") == {"level": 3, "word": "Mix"}


def test_a_stop_or_an_open_nonconformance_is_shown_before_anything_else(
    site: Race,
) -> None:
    site.at(0).wiped(temp=49)
    assert told(site, 1)[2:] == ("✕", "nonconformance open")
    site.at(2).say("stopped", about={"reason": "rain"})
    assert told(site, 3)[2:] == ("■", "stopped")


def test_the_milestone_others_of_a_kind_wait_for_is_read_from_their_sheets(
    site: Race,
) -> None:
    wired = site.desk.site.wired
    both = [folded(wired.reader, each, NOON) for each in (SUBJECT, OTHER)]
    assert awaited_milestones(each for each in both if each) == {"tie": "shut"}


def test_what_is_counted_of_an_arm_is_what_the_next_asks_before_it_begins(
    site: Race,
) -> None:
    """What is asked later, though named first, counts no joint out."""
    waits = [
        {"subject": SUBJECT, "milestone": "look", "before": ["look"]},
        {"subject": SUBJECT, "milestone": "mix", "before": ["go"]},
    ]
    door = site.desk.site.wired.door
    hangs = [pier([], [segment(2_500, SUBJECT), segment(5_500, OTHER, 2)])]
    put_in_force(door, race_sheet(), race_sheet(OTHER, prerequisites=waits),
                 people=[ENGINEER], tables=[LIFE],
                 **(PICTURE | {"piers": hangs}))  # fmt: skip
    site.at(0).wiped()
    site.at(1).say("release", by=INSPECTOR, point="go")
    site.at(2).say("done", step="mix", line="k1")
    assert "Mix: 0 of 2" in site.read("/today")
    site.at(3).say("done", step="mix", line="k2")
    text = site.read("/today")
    assert "Mix: 1 of 2" in text
    assert "Mix: east 1 of 2" in site.read("/")
    # It carries, and what the next will ask of it later is still at work.
    behind = text[text.index('data-label="Before it, not finished"') :]
    assert "Joint 1" in behind[: behind.index("</td>")]


def test_the_elevation_draws_each_arm_away_from_its_pier() -> None:
    hangs = pier([segment(-2_500, "w1")], [segment(2_500, "e1")])
    row = {"stage": {"level": 3}, "mark": {"live": ""}}
    drawn = elevation({"piers": [hangs]}, {"w1": row})
    west, east = drawn[0]["arms"]
    # 65 mm are one unit: half the pier 38, a segment 46, together 84.
    assert (west["width"], west["side"], east["side"]) == (84, "left", "right")
    assert west["segments"][0]["face"] == 46
    assert west["segments"][0]["outline"].startswith("46,58 0,58")
    assert east["segments"][0]["face"] == 38
    assert east["segments"][0]["outline"].startswith("38,58 84,58")
    assert (west["carrying"], east["carrying"]) == (1, 0)
    assert east["segments"][0]["row"] is None


def test_names_too_long_for_their_boxes_keep_what_tells_them_apart() -> None:
    def named(*names: str) -> list[str]:
        parts = [segment(2_500, name) | {"id": name} for name in names]
        arms = elevation({"piers": [pier([], parts)]}, {})[0]["arms"]
        return [each["name"] for each in arms[0]["segments"]]

    # A box of 46 units has room for five letters of 8.
    assert named("W1", "3W13") == ["W1", "3W13"]
    assert named("s-b12-e1", "s-b12-e11") == ["1", "11"]
    assert named("Northernmost-east-1", "Southern-east-12") == ["…st-1", "…t-12"]
    assert named("Northernmost-1") == ["1"]


def test_words_of_a_live_joint_never_leave_the_drawing() -> None:
    hangs = pier([], [segment(2_500, "e1"), segment(5_500, "e2")])
    row = {"stage": {"level": 1}, "mark": {"live": "called 12 min ago"}}
    first, last = elevation({"piers": [hangs]}, {"e1": row, "e2": row})[0]["arms"][0][
        "segments"
    ]
    assert last["anchor"] == "end"
    assert first["anchor"] == "end", "17 letters of 9 do not fit in 69 units"


def test_a_site_without_piers_has_no_elevation() -> None:
    assert elevation({"piers": []}, {}) == []


def test_the_site_page_draws_every_joint_as_a_link_with_its_state_in_words(
    site: Race,
) -> None:
    site.at(0).wiped()
    site.at(1).say("called", point="go")
    text = site.at(6).read("/")
    assert 'aria-label="Joint 1: called 5 min ago"' in text
    assert 'aria-label="Joint 2: not begun"' in text
    assert "past Mixing" in text, "the legend uses the plan's own words"
    assert ">△</b> complete under concession" in text
    assert "Joint shut: east 0 of 2" in text


def test_today_says_what_may_go_up_next_and_why_not(site: Race) -> None:
    text = site.read("/today")
    assert "Pier P east" in text
    assert "To record: Wipe the face" in text
    site.at(0).wiped()
    text = site.read("/today")
    assert "may be called" in text
    # Said of what lacks nothing else: it must not read as if it were signed.
    assert "still to be signed by Inspector (Tarn Board)" in text
    site.at(1).say("release", by=INSPECTOR, point="go")
    # The next on the arm is another only once something went through.
    site.at(2).say("done", step="mix", line="k1")
    text = site.read("/today")
    assert "Joint 1 must have Joint shut first." in text
    assert "Joint shut: 0 of 2" in text


def rows(*levels: int) -> list[dict[str, Any]]:
    return [
        {"stage": {"level": level}, "stopped": None, "undecided": 0} for level in levels
    ]


def test_a_long_list_folds_away_what_is_finished_and_what_is_not_begun() -> None:
    made = group("Ties", [*rows(4, 4, 0, 0, 1, 2), rows(4)[0] | {"undecided": 1}])
    assert [len(made[part]) for part in ("rows", "whole", "ahead")] == [3, 2, 2]
    assert len(group("Ties", rows(4, 0))["rows"]) == 2


def next_up(site: Race, minute: int) -> tuple[str, str, str]:
    """Give the answer's mark, what may go up and why not, as the page says."""
    text = site.at(minute).read("/today")
    answer = text.partition("May go up next</a>")[2].partition("</li>")[0]
    row = text.partition('id="next"')[2].partition("</section>")[0]
    return answer, row.partition('data-label="Now"')[2], row


def test_what_is_released_and_not_begun_leads_what_may_go_up_next(site: Race) -> None:
    site.at(0).wiped()
    assert "may be called" in next_up(site, 1)[0]
    site.at(2).say("release", by=INSPECTOR, point="go")
    answer, now, row = next_up(site, 3)
    # Noon of the tests is 22:26:40 there, and a release lasts 30 minutes.
    assert "may be lifted, until 22:58" in answer
    assert "Joint 1" in answer
    assert "may be lifted, until 22:58" in now
    assert "nothing" in row.partition("Before it, not finished")[2]
    site.say("done", step="mix", line="k1")
    answer, _, row = next_up(site, 4)
    assert "may be lifted" not in answer
    assert "Joint 2" in answer


def test_a_release_that_is_shut_since_lifts_nothing(site: Race) -> None:
    amended = amend(site)
    hangs = [pier([], [segment(2_500, SUBJECT), segment(5_500, OTHER, 2)])]
    store = site.desk.site.wired.door
    put_in_force(store, race_sheet(amended=2), race_sheet(OTHER), people=[ENGINEER],
                 tables=[LIFE], **(PICTURE | {"piers": hangs}))  # fmt: skip
    site.at(0).wiped(**amended)
    site.at(2).say("release", by=INSPECTOR, point="go", **amended)
    site.at(3).say("nonconformance", about={"text": "a sling is cut"}, **amended)
    answer, _, row = next_up(site, 4)
    assert "released, shut since" in answer
    assert "An open nonconformance shuts this gate: a sling is cut" in row


def test_a_release_whose_readings_are_old_by_now_does_not_say_lift(site: Race) -> None:
    span = {"word": "elapsed", "from": {"step": "wipe"}, "to": "now", "as": "use_by"}
    young = {"word": "between", "value": span, "high": 20 * MINUTE_MS}
    points = race_sheet()["points"]
    requires = [*points["go"]["requires"],
                {"id": "young", "text": "Wiped of late.", "must": young}]  # fmt: skip
    made = race_sheet(points=points | {"go": points["go"] | {"requires": requires}})
    hangs = [pier([], [segment(2_500, SUBJECT), segment(5_500, OTHER, 2)])]
    put_in_force(
        site.desk.site.wired.door, made, race_sheet(OTHER), people=[ENGINEER],
        tables=[LIFE], **(PICTURE | {"piers": hangs}),
    )  # fmt: skip
    sheet = {"sheet": fingerprint(made)}
    site.at(0).wiped(**sheet)
    site.at(2).say("release", by=INSPECTOR, point="go", **sheet)
    assert "may be lifted, until 22:58" in next_up(site, 20)[0]
    answer, now, row = next_up(site, 21)
    assert "may be lifted" not in answer + now
    assert "released, to be read again" in answer
    assert "Wipe the face: read 22:26, older by now than 20 min" in row
