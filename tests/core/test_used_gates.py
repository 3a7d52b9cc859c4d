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
