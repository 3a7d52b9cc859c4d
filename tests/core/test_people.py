"""Deputies, conditions, witnesses, spoken releases, shifts: who opens a gate, how."""

from typing import Any

import pytest

from tests.core.small import raw_sheet, small_sheet
from tests.core.story import PEOPLE, START_MS, Story, person

MIN = 60_000


def joint(amended: int = 0, **changes: Any) -> Story:
    """Give a prepared joint whose mixing point is changed as said."""
    points = raw_sheet()["points"]
    points["may_mix"] |= changes
    story = Story(small_sheet(points=points, amended=amended))
    story.people = {**PEOPLE, "resident": person("resident_engineer", "owner")}
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    return story


def status(story: Story, point: str = "may_mix", minute: float | None = None) -> str:
    found: str = story.state(minute)["points"][point]["status"]
    return found


def test_a_deputy_may_release_only_after_the_call_has_waited() -> None:
    deputies = [{"role": "resident_engineer", "after_ms": 30 * MIN}]
    wanted = [{"role": "inspector", "organisation": ["owner"], "deputies": deputies}]
    story = joint(releases=wanted)
    story.at(3).say("called", by="foreman", point="may_mix")
    story.at(20).release("may_mix", by="resident")
    assert status(story) == "called"
    story.at(33).release("may_mix", by="resident")
    assert status(story) == "released"


def test_a_deputy_without_a_call_may_not_release() -> None:
    deputies = [{"role": "resident_engineer", "after_ms": 0}]
    story = joint(releases=[{"role": "inspector", "deputies": deputies}])
    story.at(3).release("may_mix", by="resident")
    assert status(story) == "ready"


def test_a_point_wants_every_release_it_lists() -> None:
    story = joint(releases=[{"role": "inspector"}, {"role": "resident_engineer"}])
    story.at(3).release("may_mix")
    assert status(story) == "ready"
    story.at(4).release("may_mix", by="resident")
    assert status(story) == "released"


def test_one_of_the_doing_organisation_may_not_release() -> None:
    wanted = [{"role": "inspector"}, {"role": "erection_engineer"}]
    story = joint(releases=wanted[1:], other_organisation=True)
    story.at(3).release("may_mix", by="engineer")
    assert status(story) == "ready"
    story = joint(releases=wanted[:1], other_organisation=True)
    story.at(3).release("may_mix")
    assert status(story) == "released"


def test_a_condition_shuts_the_step_it_names_until_it_is_closed() -> None:
    story = joint()
    about = {"conditions": [{"text": "cover the spare kit", "before": "slack"}]}
    release = story.at(3).release("may_mix", about=about)
    state = story.state()
    assert state["points"]["may_mix"]["status"] == "released"
    assert state["points"]["may_mix"]["conditions"][0]["open"] == 1
    assert [r["code"] for r in state["steps"]["slack"]["refusals"]] == [
        "gate_shut",
        "condition_open",
    ]
    story.at(4).say(
        "condition_closed",
        by="foreman",
        point="may_mix",
        about={"target": release, "condition": 0, "text": "covered"},
    )
    state = story.state()
    assert state["points"]["may_mix"]["conditions"][0]["open"] == 0
    assert [r["code"] for r in state["steps"]["slack"]["refusals"]] == ["gate_shut"]


def test_a_condition_may_name_a_later_point() -> None:
    story = joint()
    about = {"conditions": [{"text": "second gauge", "before": "may_go"}]}
    story.at(3).release("may_mix", about=about)
    codes = [r["code"] for r in story.state()["points"]["may_go"]["refusals"]]
    assert "condition_open" in codes


def test_a_witness_point_may_be_passed_when_its_notice_has_run_out() -> None:
    witness = {"class": "witness", "notice_ms": 60 * MIN}
    story = joint(**witness)
    assert status(story) == "ready"
    refusals = story.state()["steps"]["mix"]["refusals"]
    assert [r["code"] for r in refusals] == ["notice_not_given"]
    story.at(10).say("notice", by="inspector", point="may_mix")
    [refusal] = story.state(69)["steps"]["mix"]["refusals"]
    assert refusal["code"] == "notice_running"
    assert refusal["facts"]["until"] == START_MS + 70 * MIN
    assert status(story, minute=70) == "waived"
    story.at(71).done("mix", line="k1")
    assert story.state()["steps"]["mix"]["lines"]["k1"]["status"] == "ok"


def test_an_unsent_call_starts_no_notice() -> None:
    story = joint(**{"class": "witness", "notice_ms": 60 * MIN})
    story.at(10).say("called", by="foreman", point="may_mix")
    assert status(story, minute=500) == "called"


def spoken(story: Story, **about: str) -> str:
    told = {"said_by": "inspector", "heard_by": "second", "text": "go on", **about}
    return story.say("spoken", by="foreman", point="may_mix", about=told)


def test_a_spoken_release_counts_only_where_the_plan_allows_it() -> None:
    story = joint()
    spoken(story.at(3))
    assert status(story) == "ready"
    story = joint(spoken_ms=4 * 60 * MIN)
    spoken(story.at(3))
    assert status(story) == "released"


def test_a_spoken_release_needs_somebody_else_who_heard_it() -> None:
    story = joint(spoken_ms=4 * 60 * MIN)
    spoken(story.at(3), heard_by="foreman")
    spoken(story.at(4), heard_by="inspector")
    assert status(story) == "ready"


def test_a_spoken_release_not_signed_in_time_is_a_nonconformance() -> None:
    story = joint(spoken_ms=4 * 60 * MIN)
    entry = spoken(story.at(3))
    assert story.state(243)["nonconformances"] == []
    [fault] = story.state(244)["nonconformances"]
    assert (fault["code"], fault["entry"]) == ("spoken_unsigned", entry)
    story.at(200).release("may_mix")
    assert story.state(244)["nonconformances"] == []


def signed(story: Story) -> tuple[str, dict[str, str], set[str]]:
    """Give a point's status, what was signed of what was said, and all flags."""
    state = story.state()
    point = state["points"]["may_mix"]
    flags = {each["code"] for each in state["flags"]}
    return point["status"], point.get("signed", {}), flags


def test_what_was_said_is_signed_though_a_new_release_would_not_count() -> None:
    story = joint(spoken_ms=4 * 60 * MIN, amended=2)
    said = spoken(story.at(3))
    story.at(5).done("mix", line="k1")
    story.at(6).say("stopped", by="foreman", about={"reason": "blocked"})
    signature = story.at(60).release("may_mix")
    status, found, flags = signed(story)
    assert (status, found) == ("released", {said: signature})
    assert not flags & {"release_void", "release_lapsed"}


def test_a_signature_under_what_was_said_lasts_no_longer_than_that() -> None:
    story = joint(spoken_ms=4 * 60 * MIN, amended=2)
    said = spoken(story.at(3))
    signature = story.at(20).release("may_mix")
    point = story.state()["points"]["may_mix"]
    assert (point["release"], point["signed"]) == ([said], {said: signature})
    assert point["until"] == START_MS + 33 * MIN
    assert status(story, minute=34) == "expired"


def test_a_signature_by_somebody_else_signs_nothing() -> None:
    story = joint(spoken_ms=4 * 60 * MIN, amended=2)
    spoken(story.at(3))
    story.at(6).say("stopped", by="foreman", about={"reason": "blocked"})
    story.at(60).release("may_mix", by="second")
    assert signed(story)[1:] == ({}, {"release_void"})


def test_a_release_for_the_shift_ends_with_the_shift() -> None:
    # The stories begin on 2027-01-15 at 08:00 UTC, 09:00 in their zone of +60 min.
    story = joint(life_ms=24 * 60 * MIN, until_minute=18 * 60)
    story.at(3).release("may_mix")
    state = story.state(4)["points"]["may_mix"]
    assert state["until"] == START_MS + 9 * 60 * MIN
    assert status(story, minute=9 * 60) == "released"
    assert status(story, minute=9 * 60 + 0.1) == "expired"


def test_a_line_lacks_its_photo_until_one_is_taken() -> None:
    steps = raw_sheet()["steps"]
    steps["wipe"]["photos"] = 1
    story = Story(small_sheet(steps=steps))
    story.at(1).done("wipe", values={"damp": 0})
    assert story.state()["steps"]["wipe"]["status"] == "partial"
    story.at(2).done("wipe", values={"damp": 0}, photos=["ab" * 32])
    assert story.state()["steps"]["wipe"]["status"] == "done"


@pytest.mark.parametrize(
    ("amended", "minute", "unlocked", "told"),
    [
        (1, 250, "pin", False),
        (2, 250, "pin", True),
        (1, 200, "shift", False),
        (2, 200, "shift", True),
        (2, 200, "pin", False),
    ],
)
def test_what_was_spoken_is_signed_by_pin_and_in_time(
    amended: int, minute: float, unlocked: str, told: bool
) -> None:
    story = joint(spoken_ms=4 * 60 * MIN, amended=amended)
    spoken(story.at(3))
    story.at(minute).say("release", by="inspector", point="may_mix", unlocked=unlocked)
    codes = [f["code"] for f in story.state(300)["nonconformances"]]
    assert ("spoken_unsigned" in codes) is told


@pytest.mark.parametrize(
    ("amended", "spoken_min", "by", "found"),
    [
        (2, 240, "inspector", {"release_lapsed"}),
        (2, 240, "engineer", {"release_void"}),
        (2, 0, "inspector", {"release_void"}),
        (1, 240, "engineer", set()),
    ],
)
def test_what_was_spoken_and_counts_no_more_is_flagged(
    amended: int, spoken_min: int, by: str, found: set[str]
) -> None:
    story = joint(spoken_ms=spoken_min * MIN, amended=amended)
    about = {"said_by": by, "heard_by": "second", "text": "Go"}
    story.at(3).say("spoken", by="foreman", point="may_mix", about=about)
    story.at(4).say("stopped", by="foreman", about={"reason": "rain"})
    flags = {each["code"] for each in story.state()["flags"]}
    assert {each for each in flags if each.startswith("release")} == found
