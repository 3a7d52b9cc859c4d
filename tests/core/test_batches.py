"""Every kit has a clock of its own; one thrown away no longer runs over."""

from tests.core.small import HOUR_MS, raw_sheet, small_sheet
from tests.core.story import Story

POT = {
    "id": "pot",
    "title": "Pot life",
    "start": "mix",
    "per_line": True,
    "table": "open",
    "temps": [],
    "age_ms": HOUR_MS,
    "until": "spread",
    "ratios": [
        {
            "id": "face_by",
            "title": "",
            "num": 1,
            "den": 1,
            "cap_ms": HOUR_MS // 3,
            "raises": "nonconformance",
            "text": "",
        }
    ],
}


def joint(amended: int = 0) -> Story:
    raw = raw_sheet()
    lines = raw["steps"]["mix"]["lines"]
    raw["steps"]["spread"] = {"title": "Spread", "class": "raced", "lines": lines}
    raw["flow"].insert(raw["flow"].index("bars"), "spread")
    changes = {"steps": raw["steps"], "flow": raw["flow"], "amended": amended}
    return Story(small_sheet(**changes, clocks=[POT]))


def test_a_kit_must_be_on_the_face_within_its_cap() -> None:
    story = joint()
    story.at(1).done("mix", line="k1")
    assert story.state(21)["clocks"]["pot/k1"]["status"] == "running"
    assert story.state(21.1)["clocks"]["pot/k1"]["status"] == "over"
    story.at(20).done("spread", line="k1")
    assert story.state(99)["clocks"]["pot/k1"]["status"] == "met"


def test_a_discarded_kit_does_not_run_over() -> None:
    story = joint()
    story.at(1).done("mix", line="k1")
    story.at(9).say(
        "discarded", by="foreman", step="mix", line="k1", about={"reason": "lumps"}
    )
    state = story.state(99)
    assert state["clocks"]["pot/k1"]["run_ms"] == 8 * 60_000
    assert [f["code"] for f in state["nonconformances"]] == ["gate_shut"]


def thrown_away(amended: int, *, used: bool) -> list[str]:
    story = joint(amended)
    story.at(1).done("mix", line="k1")
    if used:
        story.at(30).done("spread", line="k1")
    story.at(40).say(
        "discarded", by="foreman", step="mix", line="k1", about={"reason": "spare"}
    )
    return [fault["code"] for fault in story.state(99)["nonconformances"]]


def test_a_spare_kit_thrown_away_unused_was_never_on_the_face_too_late() -> None:
    assert thrown_away(2, used=False) == ["gate_shut"]
    assert sorted(thrown_away(2, used=True)) == ["clock_over", "gate_shut"]
    assert sorted(thrown_away(1, used=False)) == ["clock_over", "gate_shut"]


def test_a_kit_whose_time_is_past_is_told_apart_from_one_that_came_too_late() -> None:
    story = joint(2)
    story.at(1).done("mix", line="k1")

    def running() -> list[int | None]:
        faults = story.state(30)["nonconformances"]
        return [f.get("running") for f in faults if f["code"] == "clock_over"]

    assert running() == [1]
    story.at(29).done("spread", line="k1")
    assert running() == [None]
