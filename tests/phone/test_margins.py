"""By how much a race was won, or lost: by the deadline that came nearest, named."""

from typing import Any

import pytest

from tests.javascript import JavaScript

MARGINS = "static/phone/margins.js"
MINUTE = 60_000
HOUR = 60 * MINUTE
END = 1_796_000_000_000


def ratio(name: str, title: str, raises: str = "nonconformance") -> dict[str, Any]:
    return {"id": name, "title": title, "raises": raises}


DUCT = {
    "id": "in-duct",
    "until": "grouted",
    "ratios": [ratio("by", "Grout by (damp)"), ratio("by-dry", "Grout by (dry)")],
}
TENSION = {
    "id": "in-tension",
    "until": "grouted",
    "ratios": [ratio("by", "Grout by"), {"id": "part", "title": "Part clean by"}],
}
TESTED = {
    "id": "tested",
    "until": "grouted",
    "renewed": True,
    "ratios": [ratio("again", "Test again by", "caution")],
}


def told(javascript: JavaScript, left: dict[str, dict[str, int]], **more: Any) -> Any:
    """Give what is told once all three have ended, of what each had left."""
    late = {name: min(each.values()) < 0 for name, each in left.items()}
    clocks = {
        name: {"ended": 1, "status": "over" if late[name] else "met", "left": each}
        for name, each in left.items()
    }
    sheet = {"clocks": [DUCT, TENSION, TESTED]}
    state = {"clocks": clocks | more, "milestones": {"grouted": {"at": END}}}
    found = javascript.call(MARGINS, "nearestEnds", sheet, state)
    return [(one["tone"], one["left"], one["title"]) for one in found]


DAYS = 238 * HOUR
OVER = -(10**13)


@pytest.mark.parametrize(
    ("left", "said"),
    [
        # What counts in other air has nothing left, and nothing to say.
        (
            {"in-duct": {"by": 23 * HOUR}, "in-tension": {"by": DAYS, "part": 1}},
            [("green", 23 * HOUR, "Grout by (damp)")],
        ),
        (
            {"in-duct": {"by": 300 * HOUR}, "in-tension": {"by": DAYS}},
            [("green", DAYS, "Grout by")],
        ),
        (
            {"in-duct": {"by": -2 * HOUR}, "in-tension": {"by": DAYS}},
            [("red", -2 * HOUR, "Grout by (damp)")],
        ),
        (
            {"in-tension": {"by": DAYS}, "tested": {"again": 40 * MINUTE}},
            [("green", 40 * MINUTE, "Test again by")],
        ),
        (
            {"in-tension": {"by": DAYS}, "tested": {"again": -3 * MINUTE}},
            [("yellow", -3 * MINUTE, "Test again by")],
        ),
        # Nobody knows the hour: its nonconformance says so, and no margin is told.
        ({"in-duct": {"by": OVER}, "in-tension": {"by": DAYS}}, []),
    ],
)
def test_the_margin_told_is_that_of_the_deadline_that_came_nearest(
    javascript: JavaScript,
    left: dict[str, dict[str, int]],
    said: list[tuple[str, int, str]],
) -> None:
    assert told(javascript, left) == said


def test_what_was_thrown_away_in_time_missed_nothing(javascript: JavaScript) -> None:
    thrown = {"ended": 1, "status": "met", "left": {"by": -HOUR}}
    assert told(javascript, {"in-tension": {"by": HOUR}}, **{"in-duct": thrown}) == [
        ("green", HOUR, "Grout by")
    ]
