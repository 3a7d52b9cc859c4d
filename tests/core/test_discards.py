"""A line discarded: who may bring it back, and what its clock makes of that."""

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
