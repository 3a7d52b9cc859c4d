"""What comes after a gate was used: it shuts the next one, and ends no release."""

from tests.core.small import small_sheet
from tests.core.story import Story


def test_what_arises_after_its_gate_was_used_shuts_the_next() -> None:
    story = Story(small_sheet(amended=2))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    story.at(4).done("mix", line="k1")
    story.at(5).say(
        "correction",
        by="foreman",
        step="wipe",
        values={"damp": 1},
        about={"target": next(iter(story.entries)), "reason": "damp after all"},
    )
    story.at(6).say("note", by="second", about={"text": "seen"})
    [fault] = story.state()["nonconformances"]
    assert (fault["step"], fault["blocks"]) == ("wipe", ["may_go"])


def test_a_reading_of_the_race_ends_no_release_that_was_used() -> None:
    def flagged(amended: int) -> set[str]:
        story = Story(small_sheet(amended=amended))
        story.at(1).done("wipe", values={"damp": 0})
        story.at(2).done("face", values={"hot": 200})
        story.at(3).release("may_mix")
        story.at(4).done("mix", line="k1")
        story.at(5).done("face", values={"hot": 401})
        return {each["code"] for each in story.state()["flags"]}

    assert "release_lapsed" not in flagged(2)
    assert "release_lapsed" in flagged(1)


def going(amended: int = 2) -> Story:
    """Give a joint pressed in time, its last gate released and nothing let off yet."""
    story = Story(small_sheet(amended=amended))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    story.at(4).done("mix", line="k1")
    story.at(5).done("mix", line="k2")
    for line in ("b1r1", "b2r1", "b1r2", "b2r2"):
        story.at(9).done("bars", line=line, values={"force": 300})
    story.at(11).release("may_go", by="engineer")
    return story


def refused(story: Story, step: str) -> list[str]:
    return [each["code"] for each in story.state()["steps"][step]["refusals"]]


def reported(story: Story) -> str:
    return story.at(12).say("nonconformance", by="second", about={"text": "A crack"})


def test_what_is_reported_shuts_a_released_gate_that_let_nothing_through() -> None:
    story = going()
    assert refused(story, "slack") == []
    fault = reported(story)
    [told] = story.state()["nonconformances"]
    assert told["blocks"] == ["may_mix", "may_go"] or told["blocks"] == ["may_go"]
    assert refused(story, "slack") == ["nonconformance"]
    act = story.at(13).done("slack")
    forbidden = [
        f for f in story.state()["nonconformances"] if f["code"] == "gate_shut"
    ]
    assert [f["entry"] for f in forbidden] == [act]
    about = {"target": fault, "verdict": "use_as_is", "reason": "a hair"}
    story.at(14).say("disposition", by="designer", unlocked="pin", about=about)
    again = going()
    fault = reported(again)
    about["target"] = fault
    again.at(14).say("disposition", by="designer", unlocked="pin", about=about)
    assert refused(again, "slack") == []


def test_what_is_half_done_is_not_held_up_and_older_sheets_read_as_before() -> None:
    story = going()
    story.at(11.5).done("slack")
    reported(story)
    assert refused(story, "slack") == []
    before = going(amended=1)
    reported(before)
    assert refused(before, "slack") == []
