"""A line discarded: who may bring it back, and what its clock makes of that."""

import pytest

from tests.core.small import small_sheet
from tests.core.story import Story


def _bar_discarded(amended: int) -> Story:
    story = Story(small_sheet(amended=amended)).at(1)
    story.done("bars", line="b1r1", values={"force": 501})
    story.at(2).say(
        "discarded", by="foreman", step="bars", line="b1r1", about={"reason": "b2"}
    )
    return story


def _bar(story: Story) -> tuple[str, dict[str, int | str]]:
    line = story.state()["steps"]["bars"]["lines"]["b1r1"]
    return line["status"], line["values"]


def test_a_line_discarded_is_read_anew_by_whoever_saw_it_discarded() -> None:
    story = _bar_discarded(amended=2)
    story.at(3).done("bars", line="b1r1", values={"force": 300})
    assert _bar(story) == ("ok", {"force": 300})
    assert story.state()["nonconformances"] == []
    story.at(4).say(
        "discarded", by="foreman", step="bars", line="b1r1", about={"reason": "no"}
    )
    assert _bar(story)[0] == "discarded"
    story.at(5).done("bars", line="b1r1", values={"force": 310})
    assert _bar(story) == ("ok", {"force": 310})


def test_who_did_not_see_a_line_discarded_does_not_bring_it_back() -> None:
    story = _bar_discarded(amended=2)
    story.at(3).done("bars", on="b", line="b1r1", values={"force": 300})
    assert _bar(story)[0] == "discarded"


def test_sheets_from_before_leave_a_line_discarded_for_good() -> None:
    story = _bar_discarded(amended=1)
    story.at(3).done("bars", line="b1r1", values={"force": 300})
    assert _bar(story)[0] == "discarded"


def test_a_kit_discarded_and_read_anew_starts_its_clock_no_later() -> None:
    story = Story(small_sheet(amended=2)).at(1)
    story.say("anyway", by="foreman", step="mix", line="k1", about={"reason": "late"})
    story.at(3).say(
        "discarded", by="foreman", step="mix", line="k1", about={"reason": "lumps"}
    )
    story.at(5).say(
        "anyway", by="foreman", step="mix", line="k1", about={"reason": "late"}
    )
    assert story.state()["clocks"]["open"]["run_ms"] == 4 * 60_000


def test_what_another_person_had_seen_stays_told_after_a_discard() -> None:
    story = Story(small_sheet(amended=2)).at(1)
    entry = story.done("bars", line="b1r1", values={"force": 501})
    [fault] = story.state()["nonconformances"]
    story.at(2).say(
        "disposition",
        by="designer",
        unlocked="pin",
        about={"target": fault["id"], "verdict": "use_as_is", "reason": "strong"},
    )
    story.at(3).say(
        "discarded", by="foreman", step="bars", line="b1r1", about={"reason": "b2"}
    )
    story.at(4).done("bars", line="b1r1", values={"force": 300})
    [kept] = story.state()["nonconformances"]
    assert (kept["id"], kept["entry"]) == (fault["id"], entry)
    assert (kept["status"], kept["verdict"]) == ("disposed", "use_as_is")


def test_an_act_a_gate_forbade_stays_told_when_it_is_discarded_and_done_anew() -> None:
    story = Story(small_sheet(amended=2)).at(1)
    entry = story.done("mix", line="k1")
    story.at(2).say(
        "discarded", by="foreman", step="mix", line="k1", about={"reason": "lumps"}
    )
    story.at(3).done("wipe", values={"damp": 0})
    story.at(4).done("face", values={"hot": 200})
    story.at(5).release("may_mix")
    story.at(6).done("mix", line="k1")
    assert entry in [f["entry"] for f in story.state()["nonconformances"]]


@pytest.mark.parametrize(("amended", "began"), [(1, True), (2, False)])
def test_a_wait_does_not_begin_with_what_was_discarded(
    amended: int, began: bool
) -> None:
    story = Story(small_sheet(amended=amended)).at(1)
    story.say("anyway", by="foreman", step="mix", line="k1", about={"reason": "late"})
    about = {"text": "wet", "step": "mix"}
    fault = story.at(2).say("nonconformance", by="foreman", about=about)
    about = {"target": fault, "verdict": "rework", "from": "wipe", "reason": "wet"}
    attempt = story.at(3).say("disposition", by="designer", unlocked="pin", about=about)
    story.at(4).done("clean", attempt=attempt)
    assert "lockout" in story.state()["holds"]
    story.at(5).say(
        "discarded", by="foreman", step="clean", attempt=attempt, about={"reason": "no"}
    )
    assert ("lockout" in story.state()["holds"]) is began
