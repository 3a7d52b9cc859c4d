"""An item used in a step may have to be one of those that were looked at before."""

import pytest

from tests.core.small import small_sheet
from tests.core.small import steps as small_steps
from tests.core.story import Story
from tests.core.test_items import Joint


def looked_at(*names: str) -> Joint:
    """Two kits mixed, of items that the wiping is to have looked at."""
    steps = small_steps()
    lot = {"id": "lot", "label": "", "kind": "item", "items": "lot", "need": False}
    steps["wipe"]["fields"] += [lot, {**lot, "id": "second"}]
    among = [["wipe", "lot"], ["wipe", "second"]]
    steps["mix"]["fields"] = [{**lot, "among": among}]
    story = Joint(small_sheet(steps=steps, amended=2))
    known = {"kind": "lot", "label": "Lot", "older": [], "numbers": {}}
    story.items = dict.fromkeys("abc", known)
    seen = dict(zip(("lot", "second"), names, strict=False))
    story.at(1).done("wipe", values={"damp": 0, **seen})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    for line, name in (("k1", "a"), ("k2", "b")):
        story.at(4).done("mix", line=line, values={"lot": name})
    return story


@pytest.mark.parametrize(
    ("names", "failed"),
    [
        ("ab", [[], []]),
        ("a", [[], ["item_foreign:lot"]]),
        ("c", [["item_foreign:lot"], ["item_foreign:lot"]]),
        # Where nothing was named yet, that is told of the step that should have.
        ("", [[], []]),
    ],
)
def test_what_was_not_looked_at_before_is_told_of_each_line(
    names: str, failed: list[list[str]]
) -> None:
    assert _foreign(looked_at(*names)) == failed


def test_what_is_looked_at_after_its_use_heals_nothing_and_a_slip_corrected_does() -> (
    None
):
    story = looked_at("a")
    told = story.state()["steps"]["wipe"]["lines"][""]["entry"]
    story.at(5).done("wipe", values={"damp": 0, "lot": "b"})
    assert _foreign(story) == [[], ["item_foreign:lot"]]
    story.at(6).say(
        "correction", by="foreman", step="wipe", values={"second": "b"},
        about={"target": told, "reason": "left out"},
    )  # fmt: skip
    assert _foreign(story) == [[], []]


def test_what_was_looked_at_and_discarded_was_not_looked_at() -> None:
    story = looked_at("a", "b")
    about = {"reason": "another joint"}
    story.at(5).say("discarded", by="foreman", step="wipe", about=about)
    story.at(6).done("wipe", values={"damp": 0, "lot": "c"})
    assert _foreign(story) == [[], []]
    story.at(7).done("mix", line="k2", values={"lot": "a"})
    assert _foreign(story) == [[], ["item_foreign:lot"]]


def _foreign(story: Story) -> list[list[str]]:
    lines = story.state()["steps"]["mix"]["lines"]
    return [lines[name].get("failed", []) for name in ("k1", "k2")]
