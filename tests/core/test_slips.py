"""A typed hour, a kit read again or discarded: what counts from the first all the same.

The slip is stated 72 min before it is signed at minute 80; nobody had built on it.
"""

from typing import Any

import pytest

from tests.core.story import MINUTE_MS, START_MS, Story
from tests.core.test_batches import joint

KIT: dict[str, Any] = {"step": "mix", "line": "k1"}
TYPED, SIGNED = 8, 80


def slipped(amended: int = 2) -> Story:
    story = joint(amended)
    story.at(SIGNED).done(**KIT, ago=SIGNED - TYPED)
    return story


def correct(story: Story, minute: float, **parts: Any) -> None:
    target = story.state()["steps"]["mix"]["lines"]["k1"]["entry"]
    at = START_MS + round(minute * MINUTE_MS)
    about = {"target": target, "reason": "typed wrong", "at": at}
    story.say("correction", **{"by": "foreman", **KIT, **parts}, about=about)


def began(story: Story) -> float:
    """Give the minute from which the kit counts, by its clock and by its line."""
    state = story.state(99)
    start = state["clocks"]["pot/k1"]["start"]
    assert start == state["steps"]["mix"]["lines"]["k1"]["at"]
    return float(start - START_MS) / MINUTE_MS


@pytest.mark.parametrize(
    ("amended", "minute", "counts"),
    [
        (2, 79, 79),
        (2, 5, 5),
        # What was recorded had been done by then.
        (2, 95, SIGNED),
        # A sheet from before this was amended.
        (1, 79, TYPED),
        (1, 5, 5),
    ],
)
def test_a_slip_of_the_hour_is_mended_at_once_to_no_time_after_its_signing(
    amended: int, minute: float, counts: float
) -> None:
    story = slipped(amended)
    correct(story.at(81), minute)
    assert began(story) == counts


def test_a_corrections_slip_is_mended_as_well_and_an_alarm_builds_nothing() -> None:
    story = slipped()
    correct(story.at(81), 5)
    story.at(82).say("acknowledged", by="foreman", about={"alarm": "pot-k1"})
    correct(story.at(83), 79)
    assert began(story) == 79


@pytest.mark.parametrize("who", ["own", "other", "phone"])
def test_an_hour_that_was_built_upon_is_stated_earlier_only(who: str) -> None:
    story, parts = slipped(), {"own": {}, "other": {"by": "engineer"}}.get(who)
    if who == "own":
        story.at(80.5).done("spread", line="k1")
    if parts is None:
        story.phone("b")
        story.sync()
        parts = {"on": "b"}
    correct(story.at(81), 79, **parts)
    assert began(story) == TYPED
    correct(story.at(82), 5, **parts)
    assert began(story) == 5


@pytest.mark.parametrize("by", ["foreman", "engineer"])
def test_what_is_read_again_starts_no_clock_later(by: str) -> None:
    story = joint(2)
    story.at(10).done(**KIT)
    story.at(60).done(**KIT, by=by)
    assert began(story) == 10


def test_what_is_read_again_with_its_hour_typed_mends_it() -> None:
    story = slipped()
    story.at(81).done(**KIT, ago=2)
    assert began(story) == 79


def test_a_kit_discarded_and_mixed_anew_counts_from_the_first() -> None:
    story = joint(2)
    story.at(10).done(**KIT)
    story.at(11).say("discarded", by="foreman", **KIT, about={"reason": "lumps"})
    story.at(30).done(**KIT)
    assert began(story) == 10


@pytest.mark.parametrize("again", ["read", "corrected"])
def test_no_hour_is_mended_across_a_discard(again: str) -> None:
    story = slipped()
    story.at(81).say("discarded", by="foreman", **KIT, about={"reason": "lumps"})
    story.at(82).done(**KIT)
    if again == "read":
        story.at(83).done(**KIT, ago=4)
    else:
        correct(story.at(83), 79)
    assert began(story) == TYPED


def test_what_starts_no_clock_is_as_old_as_it_was_read_last() -> None:
    story = joint(2)
    story.at(10).done("wipe", values={"damp": 0}, ago=5)
    story.at(40).done("wipe", values={"damp": 0}, ago=1)
    at = story.state()["steps"]["wipe"]["lines"][""]["at"]
    assert (at - START_MS) / MINUTE_MS == 39
