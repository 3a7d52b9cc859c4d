"""The sample site's history, played as the demonstration plays it, adds up as told."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fieldapp.commands.load import compiled_site, put_in_force
from fieldapp.config import Running, open_door, running
from fieldapp.lookups import folded, overview
from fieldapp.lookups.register import register_of
from fieldapp.play.history import brought_to, read_history, replay
from fieldapp.play.plan_signing import sign_waiting_plan
from fieldapp.play.world import World
from fieldapp.records.attempts import ended
from fieldapp.store.database import connected
from fieldapp.web.bites import bites
from fieldapp.web.desk import Desk, words_for
from fieldapp.web.names import site_names
from fieldapp.web.story import opened_of, turns

SAMPLE = Path(__file__).resolve().parents[1] / "sample_site"
NOW_MS = 1_900_000_000_000
HOUR_MS, DAY_MS = 3_600_000, 86_400_000
WANTED = {
    "j-w1": "complete",
    "j-e1": "complete",
    "j-w2": "complete",
    "j-e2": "complete",
    "j-w3": "concession",
    "j-e3": "complete",
    "j-w4": "incomplete",
    "j3-w1": "incomplete",
    "t-1L": "complete",
    "t-1R": "complete",
    "t-2L": "incomplete",
    "t-2R": "incomplete",
    "t-3L": "incomplete",
    "t-3R": "incomplete",
    "g2-1": "complete",
    "x-w1": "complete",
    "x-e1": "complete",
    "x-w2": "complete",
    "x-e2": "complete",
}
AIR = {"t-1L": ["by-mild"], "t-2L": ["by"], "t-3L": ["by-mild"]}
"""The ratio of the strand's days that counts: 64, 78 and 58 % of humidity."""
States = dict[str, dict[str, Any]]


@pytest.fixture(scope="module")
def states(wired: Running) -> States:
    """Give the state of every subject by id."""
    return {each.sheet.subject: each.state for each in overview(wired.reader, NOW_MS)}


@pytest.fixture(scope="module")
def told(wired: Running) -> list[dict[str, Any]]:
    """Give the turns that the late joint took, as the desk tells them."""
    found, names = folded(wired.reader, "j-e2", NOW_MS), site_names(wired.reader)
    assert found is not None
    words = words_for(wired.reader, names, found)
    return turns(opened_of(wired.reader, found, NOW_MS), found, names, words)


@pytest.fixture(scope="module", name="wired")
def played(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """Play the history once."""
    door = open_door(tmp_path_factory.mktemp("history"))
    stories = brought_to(read_history(SAMPLE / "history"), NOW_MS)
    with connected(door.store):
        put_in_force(door, compiled_site(SAMPLE), stories[0].start - 1)
        wired = running(door, lambda: NOW_MS)
        world = World(door=door)
        list(sign_waiting_plan(world, stories[0].start - 1))
        list(replay(world, wired.reader, stories))
        yield wired


def test_each_story_says_what_it_shows() -> None:
    stories = read_history(SAMPLE / "history")
    assert len({story.shows for story in stories}) == len(stories)
    assert all(len(story.shows.split()) > 5 for story in stories)


def test_every_subject_of_the_history_stands_where_its_story_leaves_it(
    states: States,
) -> None:
    assert {name: states[name]["verdict"] for name in WANTED} == WANTED
    begun = {
        name
        for name, state in states.items()
        if any(step["lines"] for step in state["steps"].values())
    }
    # The day's own sheets and nothing else has been touched.
    assert begun == set(WANTED)


def test_the_late_joint_was_parted_and_done_again(states: States) -> None:
    late = states["j-e2"]
    assert late["attempts"] == 2
    checks = {each["check"]: each["verdict"] for each in late["nonconformances"]}
    assert checks == {"pressure": "rework", "over": "rework"}


def test_the_story_of_the_late_joint_tells_its_parting_and_all_that_was_decided(
    told: list[dict[str, Any]],
) -> None:
    said = [(each["mark"]["word"], each["where"]) for each in told]
    parted = said.index(("recorded", "Joint parted and cleaned"))
    decided = next(n for n, (word, _) in enumerate(said) if word == "decided")
    assert parted < decided, "it was parted before somebody said that it was"
    what = " ".join(told[decided]["what"])
    assert "No contact pressure by 70 % of the open time" in what
    assert "The open time was over" in what


def test_pressure_that_never_came_is_not_told_as_come_late(wired: Running) -> None:
    found = folded(wired.reader, "j-e2", NOW_MS)
    assert found is not None
    (first,) = ended(opened_of(wired.reader, found, NOW_MS))
    (clock,) = [each for each in first.clocks if each.id.startswith("open-")]
    assert clock.until == "joint parted and cleaned"
    late = [each.kept for each in clock.deadlines if each.id in ("pressure", "over")]
    assert all(each.startswith("not met, over for ") for each in late), late


def test_one_misread_extension_was_corrected_and_shows(states: States) -> None:
    flags = [each["code"] for each in states["j-w2"]["flags"]]
    assert flags.count("correction") == 1
    assert (
        states["j-w2"]["steps"]["bars"]["lines"]["b4-r3"]["values"]["extension"] == 11
    )


def test_the_condition_of_a_release_was_closed(states: States) -> None:
    (condition,) = states["j-w2"]["points"]["weight"]["conditions"]
    assert condition["before"] == "cured"
    assert condition["open"] == 0


def test_a_bar_that_broke_was_replaced_under_a_concession(states: States) -> None:
    joint = states["j-w3"]
    assert joint["steps"]["bar-lost"]["lines"]["b4"]["status"] == "discarded"
    assert joint["steps"]["bars-in"]["lines"]["b4"]["values"]["bar"] == "bar-25"
    (fault,) = joint["nonconformances"]
    assert (fault["code"], fault["verdict"]) == ("by_hand", "use_as_is")


def test_no_bar_hangs_in_two_joints_at_once(states: States) -> None:
    threaded = sorted(
        (line["at"], line["values"]["bar"], name)
        for name, state in states.items()
        for line in state["steps"].get("bars-in", {"lines": {}})["lines"].values()
    )
    back = {
        name.replace("x-", "j-"): line["at"]
        for name, state in states.items()
        for line in state["steps"].get("bars-back", {"lines": {}})["lines"].values()
    }
    hangs: dict[str, str] = {}
    for at, bar, joint in threaded:
        before = hangs.get(bar)
        assert before is None or back[before] < at, (bar, before, joint)
        hangs[bar] = joint
    assert len(threaded) > len(hangs), "bars are used again"
    # Whoever goes on at E4 finds as many free as a joint takes; bar 04 is scrap.
    free = sorted(bar for bar, joint in hangs.items() if joint in back)
    assert free == ["bar-04", *(f"bar-{number}" for number in range(19, 25))]


def test_a_survey_past_its_act_threshold_shut_nothing_and_asked_for_a_correction(
    states: States,
) -> None:
    steps = states["j-e3"]["steps"]
    assert steps["survey"]["lines"]["level-lf"]["cautions"] == ["act"]
    assert steps["survey"]["cautions"] == ["tip-level"]
    asked = steps["cast-asked"]["lines"]["asked"]
    assert (asked["values"]["segment"], asked["status"]) == ("seg-e8", "ok")


def test_no_story_contradicts_its_own_times(states: States) -> None:
    flags = {
        name: [f["code"] for f in state["flags"]] for name, state in states.items()
    }
    assert "correction" in flags["j-w2"], "flags are there to be read"
    assert [name for name, codes in flags.items() if "time_contradicts" in codes] == []


def test_every_lift_rested_on_what_was_seen_of_the_other_arm(states: States) -> None:
    lifts = {name: states[name]["points"]["lift"] for name in ("j-w3", "j3-w1")}
    assert all("heard" in lift for lift in lifts.values())
    # The days of strand follow the air it lay in.
    by_air = {name: list(states[name]["clocks"]["in-duct"]["left"]) for name in AIR}
    assert by_air == AIR


def test_the_second_tendons_run_out_of_days(states: States) -> None:
    left = states["t-2L"]["clocks"]["in-duct"]["left"]["by"]
    assert 0 < left < 2 * DAY_MS
    assert states["t-1L"]["clocks"]["in-duct"]["status"] == "met"


def test_the_arm_that_is_behind_says_until_when_it_may_be(states: States) -> None:
    hung = states["j-w4"]["steps"]["hung-up"]["lines"][""]["at"]
    behind = states["j-e4"]["clocks"]["one-arm"]
    assert (behind["start"], behind["status"]) == (hung, "running")
    assert behind["deadlines"]["by"] == hung + 3 * DAY_MS
    # Each waits for the other's moments, neither for the other: both are told.
    assert "one-arm" not in states["j-w4"]["clocks"]
    assert states["j-e3"]["clocks"]["one-arm"]["status"] == "met"


def test_two_gates_wait_now(states: States) -> None:
    assert states["j-w4"]["points"]["mixing"]["status"] == "called"
    lift = states["j3-w1"]["points"]["lift"]
    assert lift["status"] == "called"
    assert len(lift["release"]) == 1


def test_a_scrapped_bar_and_a_casting_day_harm_nobody(wired: Running) -> None:
    register = register_of(wired.reader)
    known = {each.id: each for each in register}

    def bitten(name: str) -> set[str]:
        now = known[name].expires
        assert now is not None
        names = site_names(wired.reader)
        here = Desk(reader=wired.reader, now=now + HOUR_MS, names=names, folded=())
        return {row["item"] for row in bites(here, register)}

    assert known["bar-04"].out is not None
    assert "bar-04" not in bitten("bar-04")
    assert "seg-w8" not in bitten("seg-w8")
    assert "jack-a" in bitten("jack-a")
