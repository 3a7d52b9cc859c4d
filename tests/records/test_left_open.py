"""A condition nobody closed before its attempt ended is told, and binds no more."""

import pytest

from fieldapp.records.points import left_open
from tests.core.small import small_sheet
from tests.core.story import Story

CONDITION = {"text": "cover the spare kit", "before": "slack"}


def conditioned() -> tuple[Story, str]:
    """Release a gate with a condition, and find a bar beyond its cap."""
    story = Story(small_sheet(amended=2))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    release = story.at(3).release("may_mix", about={"conditions": [CONDITION]})
    story.at(4).done("mix", line="k1")
    story.at(5).done("bars", line="b1r1", values={"force": 501})
    return story, release


def ended(story: Story) -> None:
    [fault] = story.state()["nonconformances"]
    about = {"target": fault["id"], "verdict": "rework", "reason": "x", "from": "wipe"}
    story.at(20).say("disposition", by="designer", unlocked="pin", about=about)


def left(story: Story) -> list[str]:
    return [each.id for each in left_open(story.state(), [*story.entries.values()])]


def test_what_an_ended_attempt_left_open_is_told_and_nothing_before() -> None:
    story, release = conditioned()
    assert left(story) == []
    ended(story)
    assert left(story) == [release]
    assert story.state()["points"]["may_mix"].get("conditions", []) == []


@pytest.mark.parametrize("minute", [10, 30])
def test_what_was_closed_is_not_left(minute: float) -> None:
    story, release = conditioned()
    about = {"target": release, "condition": 0, "text": "covered"}
    if minute < 20:
        story.at(minute).say("condition_closed", by="foreman", point="may_mix",
                             about=about)  # fmt: skip
    ended(story)
    if minute > 20:
        story.at(minute).say("condition_closed", by="foreman", point="may_mix",
                             about=about)  # fmt: skip
    assert left(story) == []
