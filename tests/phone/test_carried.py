"""What a line takes over from the one before: the same thing, and no other."""

from typing import Any

from tests.javascript import UNDEFINED, JavaScript

CARRY = "static/phone/carry.js"
TOOL = {"id": "tool", "kind": "item", "items": "tool", "same": 1}
LINES = [
    {"id": "level-1", "group": "level"},
    {"id": "level-2", "group": "level"},
    {"id": "line-1", "group": "line"},
]


def taken_over(
    javascript: JavaScript, line: str, *, stopped_at: int | None = None, **parts: Any
) -> Any:
    """Give what a line takes over once the first was read with the level, at 5."""
    read = {"level-1": {"at": 5, "values": {"tool": "level"}}}
    stops = [] if stopped_at is None else [{"kind": "stopped", "at": stopped_at}]
    opened = {
        "sheet": {
            "items": {"level": {"kind": "tool"}},
            "steps": {"survey": {"lines": LINES, **parts}},
        },
        "state": {"steps": {"survey": {"lines": read}}},
        "entries": stops,
    }
    return javascript.call(CARRY, "carriedOver", opened, "survey", line, TOOL)


def test_an_instrument_is_taken_over_among_the_lines_it_serves(
    javascript: JavaScript,
) -> None:
    assert taken_over(javascript, "level-2") == "level"
    assert taken_over(javascript, "line-1") is UNDEFINED, "a level measures no line"


def test_without_groups_every_line_takes_over(javascript: JavaScript) -> None:
    bare = [{"id": each["id"]} for each in LINES]
    assert taken_over(javascript, "line-1", lines=bare) == "level"


def test_after_a_stop_nothing_is_taken_over(javascript: JavaScript) -> None:
    assert taken_over(javascript, "level-2", stopped_at=6) is UNDEFINED
    assert taken_over(javascript, "level-2", stopped_at=4) == "level"
