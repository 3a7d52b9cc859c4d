"""A line two phones contradict each other about, once a later one of it was read."""

from typing import Any

import pytest

from tests.core.small import reading, small_sheet
from tests.core.small import steps as small_steps
from tests.core.story import Story


def force(how: str) -> dict[str, Any]:
    value = reading("bars", "force")
    return {"word": "reduce", "how": how, "step": "bars", "item": "b1",
            "value": value}  # fmt: skip


def told(amended: int, how: str, *, last: bool) -> int | None:
    """Give the force told of a bar of which phones read two forces in one round."""
    steps = small_steps()
    steps["bars"]["shows"] = [
        {"id": "kn", "scope": "step", "label": "", "unit": "", "places": 0,
         "value": force(how)}
    ]  # fmt: skip
    story = Story(small_sheet(steps=steps, amended=amended))
    story.phone("b")
    for phone, value in (("a", 100), ("b", 125)):
        story.at(1).done("bars", line="b1r1", values={"force": value}, on=phone)
    story.sync()
    if last:
        story.at(2).done("bars", line="b1r2", values={"force": 310})
    state = story.state()["steps"]["bars"]
    assert state["lines"]["b1r1"]["status"] == "disputed"
    assert state["status"] == "disputed"
    shown: int | None = state["shows"].get("kn")
    return shown


@pytest.mark.parametrize(
    ("amended", "how", "last", "shown"),
    [
        (2, "last", True, 310),
        (2, "last", False, None),
        (2, "first", True, None),
        (2, "max", True, None),
        (1, "last", True, None),
    ],
)
def test_a_round_read_since_stands_whatever_is_said_of_an_earlier_one(
    amended: int, how: str, last: bool, shown: int | None
) -> None:
    assert told(amended, how, last=last) == shown
