"""How far a segment is drawn: what is true of it, not what is meant to be next."""

from typing import Any

import pytest

from tests.javascript import JavaScript

STAGES = "static/phone/stages.js"
AT = 1_700_000_000_000
MINUTE = 60_000


def sheet(subject: str, **more: Any) -> dict[str, Any]:
    """A joint of a plan that calls nothing as the sample site does."""
    return {
        "subject": subject,
        "kind": "seam",
        "flow": ["looked", "up", "there", "down", "pull", "ease", "let-go"],
        "points": {
            "up": {"class": "hold", "shuts": ["there"]},
            "ease": {"class": "hold", "shuts": ["let-go"]},
        },
        "clocks": [
            {"id": "glue", "start": "pull", "until": "tight"},
            {"id": "pot", "start": "pull", "until": "pull", "per_line": 1},
            {"id": "ahead", "until": "there", "other": {"undone": "down"}},
        ],
        **more,
    }


def told(*steps: str, **more: Any) -> dict[str, Any]:
    """Its state after some steps, a minute apart."""
    done = {
        name: {"status": "done", "lines": {"": {"at": AT + n * MINUTE}}}
        for n, name in enumerate(steps)
    }
    return {
        "verdict": "incomplete",
        "steps": done,
        "points": {"up": {"status": "ready"}, "ease": {"status": "waiting"}},
        "milestones": {},
        **more,
    }


TIGHT = {"milestones": {"tight": AT}}
RELEASED = {"points": {"up": {"status": "released"}}}


@pytest.mark.parametrize(
    ("state", "stage"),
    [
        (told(), "yard"),
        (told("looked"), "yard"),
        (told("looked", **RELEASED), "yard"),
        (told("looked", "there"), "hung"),
        (told("looked", "there", "down"), "yard"),
        (told("looked", "there", "down", "there"), "hung"),
        (told("looked", "there", "pull"), "hung"),
        (told("looked", "there", "pull", **TIGHT), "bonded"),
        (told("looked", "there", "pull", "let-go", **TIGHT), "carried"),
        (told(verdict="complete"), "carried"),
        (told("looked", verdict="rejected"), "yard"),
    ],
)
def test_a_segment_is_drawn_by_what_is_true(
    javascript: JavaScript, state: dict[str, Any], stage: str
) -> None:
    # The next one waits before its first gate for the weight, before another for more.
    waits = [
        {"subject": "one", "milestone": "let-go", "before": ["up", "ease"]},
        {"subject": "one", "milestone": "looked", "before": ["ease"]},
    ]
    subjects = [
        {"subject": "one", "sheet": sheet("one"), "state": state},
        {"subject": "two", "sheet": sheet("two", prerequisites=waits),
         "state": told()},
        {"subject": "three"},
    ]  # fmt: skip
    found = javascript.call("tests/js/phone_stages.js", "stages", subjects)
    assert found == {"one": stage, "two": "yard"}


def test_a_discarded_line_lifts_nothing(javascript: JavaScript) -> None:
    state = told("looked", "there")
    state["steps"]["there"]["lines"][""]["status"] = "discarded"
    one = {"sheet": sheet("one"), "state": state}
    assert javascript.call(STAGES, "stageOf", one) == "yard"
