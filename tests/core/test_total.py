"""The fold answers whatever it is given: odd entries, circles, long stories."""

import sys
from typing import Any

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.core.clocks import Knot, run_life
from fieldapp.core.view import allowed
from tests.core.big_joint import big_story
from tests.core.small import (
    between,
    check,
    number,
    raw_sheet,
    reading,
    small_sheet,
    steps,
)
from tests.core.story import PEOPLE, Story


def test_a_condition_shuts_a_step_no_gate_stands_before() -> None:
    story = Story(small_sheet())
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    asked = [{"text": "cover the bars", "before": "bars"}]
    story.at(3).release("may_mix", about={"conditions": asked})
    story.at(4).done("bars", line="b1r1", values={"force": 300})
    state = story.state()
    assert state["steps"]["bars"]["lines"]["b1r1"]["status"] == "anyway"
    assert [f["code"] for f in state["nonconformances"]] == ["gate_shut"]


def test_an_unknown_kind_may_say_anything() -> None:
    story = Story(small_sheet())
    odd: dict[str, Any] = {"target": [{"deep": 1}], "at": "noon", "conditions": 5}
    story.say("telemetry", by="foreman", about=odd, point="may_mix", step="wipe")
    assert [f["code"] for f in story.state()["flags"]] == ["unknown_kind"]


def test_a_discarded_reading_of_a_series_ends_its_own_clock() -> None:
    body = steps()
    body["mix"] = {"title": "", "class": "gated", "series": True, "fields": []}
    clock = {**raw_sheet()["clocks"][0], "per_line": True}
    story = Story(small_sheet(steps=body, clocks=[clock]))
    kit = story.at(1).done("mix")
    about = {"reason": "stiff"}
    story.at(3).say("discarded", by="foreman", step="mix", about=about)
    found = story.state(50)["clocks"][f"open/{kit}"]
    assert (found["ended"], found["run_ms"]) == (1, 120_000)


def test_one_organisation_may_be_named_alone_and_means_only_itself() -> None:
    wanted = [{"role": "inspector", "organisation": "owner"}]
    assert allowed({"people": PEOPLE}, "inspector", wanted)
    wanted = [{"role": "inspector", "organisation": "landowners"}]
    assert not allowed({"people": PEOPLE}, "inspector", wanted)


def test_a_milestone_that_waits_for_itself_is_never_reached() -> None:
    body = steps()
    must = {"word": "reached", "milestone": "pressed"}
    body["bars"]["checks"] = [{**check("after", must, "block"), "scope": "step"}]
    pressed = {**raw_sheet()["milestones"][0], "when": must}
    story = Story(small_sheet(steps=body, milestones=[pressed]))
    story.done("bars", line="b1r1", values={"force": 300})
    assert "pressed" not in story.state()["milestones"]


def test_a_reading_judged_by_the_release_it_undoes_counts_as_after_it() -> None:
    body = steps()
    since = {
        "word": "elapsed",
        "from": {"point": "may_mix"},
        "to": "now",
        "as": "use_by",
    }
    soon = check("soon", between(since, 0, 60_000), "nonconformance")
    body["face"]["checks"].append(soon)
    story = Story(small_sheet(steps=body))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    late = story.at(9).done("face", values={"hot": 200})
    assert story.state()["points"]["may_mix"]["lapsed_by"] == late


def test_a_deadline_too_far_to_be_written_exactly_is_capped() -> None:
    slow = {"temps": [100, 300], "rates": [1, 1], "certified": [100, 300]}
    life = run_life(slow, [Knot(0, 200)], 60_000)
    assert life.deadline_ms(20, 1) == 10**13


def test_more_lines_than_can_be_written_exactly_are_told_as_ten_thousand() -> None:
    body = steps()
    damp = [[10**12, reading("wipe", "damp")]]
    body["mix"]["least"] = {"word": "form", "constant": 0, "terms": damp}
    story = Story(small_sheet(steps=body))
    story.done("wipe", values={"damp": 10**12})
    assert story.state()["steps"]["mix"]["missing"] == 10_000
    assert canonical(story.state())


@pytest.fixture
def _shallow() -> Any:
    """Lower the limit of nested calls to half of what Python allows by itself."""
    before = sys.getrecursionlimit()
    depth = len(_frames())
    sys.setrecursionlimit(depth + 500)
    yield
    sys.setrecursionlimit(before)


@pytest.mark.usefixtures("_shallow")
def test_a_long_story_folds_without_deep_nesting() -> None:
    assert canonical(big_story().state())


@pytest.mark.usefixtures("_shallow")
def test_many_gates_opened_in_turn_do_not_nest() -> None:
    body = steps()
    body["mix"] = {"title": "", "class": "gated", "fields": [number("kg")]}
    body["mix"]["checks"] = [check("some", between(reading("mix", "kg"), 1), "block")]
    story = Story(small_sheet(steps=body))
    story.at(1).done("wipe", values={"damp": 0})
    for turn in range(60):
        story.at(2 + turn * 4).done("face", values={"hot": 200})
        story.release("may_mix")
        story.at(3 + turn * 4).done("mix", values={"kg": turn})
        story.say("called", by="foreman", point="may_go")
    assert canonical(story.state())


def _frames() -> list[Any]:
    found, frame = [], sys._getframe()
    while frame is not None:
        found.append(frame)
        frame = frame.f_back  # type: ignore[assignment]
    return found
