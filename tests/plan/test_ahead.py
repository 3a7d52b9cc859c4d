"""How long one arm may be ahead of the other: counted, on the arm that is behind."""

from pathlib import Path
from typing import Any

from fieldapp.plan import compile_site, read_site
from tests.core.story import MINUTE_MS, START_MS, Story
from tests.plan.sample import LEAD, PHOTO, compiled, copied, faults_of, spoil, story

PLAN = "plan/glued_joint.toml"
LIMIT = 72 * 60
HUNG = {"tied": 1}


def behind(**minutes: int) -> Story:
    """E1, whose other arm did these steps at these minutes."""
    joint = story("j-e1")
    joint.moments = {"j-w1": {name.replace("_", "-"): m for name, m in minutes.items()}}
    return joint


def clock(joint: Story) -> dict[str, Any]:
    found: dict[str, Any] = joint.state()["clocks"].get("one-arm", {})
    return found


def over(joint: Story) -> list[tuple[str, list[str]]]:
    return [
        (each["code"], each["blocks"])
        for each in joint.state()["nonconformances"]
        if each.get("check") == "by"
    ]


def test_the_arm_that_is_behind_says_since_when_and_until_when() -> None:
    joint = behind(hung_up=30).at(100)
    found = clock(joint)
    assert found["status"] == "running"
    assert found["start"] == START_MS + 30 * MINUTE_MS
    assert found["deadlines"] == {"by": START_MS + (30 + LIMIT) * MINUTE_MS}
    assert found["left"] == {"by": (LIMIT - 70) * MINUTE_MS}


def test_an_arm_that_is_not_known_to_be_ahead_starts_nothing() -> None:
    assert clock(behind().at(100)) == {}
    # Set down again over there, it is not ahead any more.
    assert clock(behind(hung_up=30, set_down=60).at(100)) == {}


def test_hung_in_time_it_is_met_and_too_late_it_shuts_the_next_weight() -> None:
    for late, status in ((0, "met"), (1, "over")):
        joint = behind(hung_up=30).at(30 + LIMIT + late)
        joint.done("hung-up", by="tamsin", values=HUNG)
        # What is over stays so, however long ago it was.
        joint.at(30 + 9 * LIMIT)
        assert clock(joint)["status"] == status
        assert over(joint) == [("clock_over", ["weight"])] * late


def test_never_the_lift_that_would_put_it_right() -> None:
    joint = behind(hung_up=0).at(LIMIT + 60)
    assert over(joint) == [("clock_over", ["weight"])]
    points = joint.state()["points"]
    assert [
        r for r in points["lift"]["refusals"] if r["code"] == "nonconformance"
    ] == []
    assert [r["code"] for r in points["weight"]["refusals"]].count("nonconformance")


def test_who_hung_first_was_never_behind_until_it_is_set_down_again() -> None:
    joint = behind(hung_up=500).at(100)
    joint.done("hung-up", by="tamsin", values=HUNG)
    assert clock(joint.at(900)) == {}
    joint.at(1000).done("set-down", by="tamsin", line="down")
    found = clock(joint.at(1100))
    assert found["status"] == "running"
    assert found["start"] == START_MS + 1000 * MINUTE_MS
    joint.at(1200).done("hung-up", by="tamsin", values=HUNG)
    assert clock(joint)["status"] == "met"
    assert clock(joint)["run_ms"] == 200 * MINUTE_MS


def test_the_plan_says_how_many_segments_and_how_long(tmp_path: Path) -> None:
    others = {
        name: [c.get("other", {}).get("subject") for c in sheet["clocks"]]
        for name, sheet in compiled().sheets.items()
        if sheet["kind"] == "glued-joint"
    }
    assert "j-e3" in others["j-w3"]
    assert "j-w3" in others["j-e3"]
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, "segments = 1", "segments = 2")
    sheets = compile_site(read_site(folder)).sheets
    # With two allowed to be ahead, place 1 waits for place 2 beyond the pier.
    (found,) = [c["other"] for c in sheets["j-w1"]["clocks"] if "other" in c]
    assert found["subject"] == "j-e2"
    assert [c for c in sheets["j-w2"]["clocks"] if "other" in c] == []


def test_a_faulty_limit_is_told(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, "life_min = 4320\n", "")
    spoil(folder, PLAN, 'hung = "hung-up"', 'hung = "hung"')
    found = {fault.where for fault in faults_of(folder)}
    assert found == {"clocks.one-arm.life_min", "clocks.one-arm.other_arm.hung"}


SEEN = {"text": "Nothing hangs there"}
HEARD = "ab" * 32
"""An entry of the other arm, as a release would name it."""


def ready_to_lift(**parts: Any) -> Story:
    """W1, looked over and tried, all of it before minute one."""
    joint = story("j-w1")
    for number, (step, values) in enumerate(LEAD.items(), 1):
        joint.at(number / 100).done(step, by="tamsin", values=values, photos=[PHOTO])
    joint.heard = {"j-e1": {HEARD: parts["heard"]}} if "heard" in parts else {}
    return joint.at(1)


def lift(joint: Story, minute: float | None = None) -> list[str]:
    """Give why the lift is not allowed."""
    point = joint.state(minute)["points"]["lift"]
    return [each["code"] for each in point["refusals"]]


def test_a_lift_is_not_allowed_on_an_arm_that_was_never_heard() -> None:
    joint = ready_to_lift()
    assert lift(joint) == ["never_heard"]
    assert "heard" not in joint.state()["points"]["lift"]
    joint.at(2).say("sighting", by="tamsin", about=SEEN)
    assert lift(joint) == []
    assert joint.state()["points"]["lift"]["heard"] == START_MS + 2 * MINUTE_MS


def test_what_was_heard_or_seen_over_an_hour_ago_allows_nothing() -> None:
    joint = ready_to_lift(heard=-55)
    assert lift(joint, 5) == []
    assert lift(joint, 5.1) == ["heard_long_ago"]
    (found,) = joint.state(5.1)["points"]["lift"]["refusals"]
    assert found["facts"]["at"] == START_MS - 55 * MINUTE_MS
    joint.at(6).say("sighting", by="brannoc", about=SEEN)
    assert lift(joint, 30) == []


def test_a_release_rests_on_what_it_named_not_on_what_came_later() -> None:
    joint = ready_to_lift(heard=0)
    joint.at(2).release("lift", by="brannoc", needs=[HEARD])
    joint.at(3).release("lift", by="edric")
    # The engineer's names nothing heard: it never counts, whatever is heard since.
    joint.heard["j-e1"]["cd" * 32] = 3.5
    joint.at(4)
    assert joint.state()["points"]["lift"]["status"] == "ready"
    assert [f["code"] for f in joint.state()["flags"]] == ["release_void"]
    joint.release("lift", by="edric", needs=["cd" * 32])
    assert joint.state()["points"]["lift"]["status"] == "released"
    # What it rested on grows old; the release stands until its shift ends.
    assert joint.state(200)["points"]["lift"]["status"] == "released"


def test_the_plan_says_which_places_of_the_other_arm_and_how_lately(
    tmp_path: Path,
) -> None:
    asked = {
        name: sheet["points"]["lift"].get("heard", {})
        for name, sheet in compiled().sheets.items()
        if sheet["kind"] == "glued-joint"
    }
    assert asked["j-w3"]["subjects"] == ["j-e2", "j-e3", "j-e4"]
    assert asked["j-e1"]["subjects"] == ["j-w1", "j-w2"]
    assert asked["j-w3"]["within_ms"] == 60 * MINUTE_MS
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, "places = 1, within_min = 60", "places = 0, within_min = 0")
    assert {fault.where for fault in faults_of(folder)} == {
        "points.lift.other_arm.within_min"
    }
