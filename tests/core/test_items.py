"""Items of the register: fit for use, traced, and corrected certificates."""

from typing import Any

import pytest

from fieldapp.core.fold import fold
from fieldapp.core.register import register
from tests.core.small import reading, small_sheet
from tests.core.small import steps as small_steps
from tests.core.story import START_MS, Story

MIN = 60_000
OLD, NEW = "0a" * 32, "0b" * 32


class Joint(Story):
    """A story whose register can be set."""

    items: dict[str, Any]

    def standing(self) -> dict[str, Any]:
        """Give the standing with the items known."""
        return {**Story.standing(self), "items": self.items}


def joint(amended: int = 0, **item: Any) -> Joint:
    steps = small_steps()
    jack = {"id": "jack", "label": "", "kind": "item", "items": "jack", "need": True}
    steps["wipe"]["fields"].append(jack)
    steps["bars"]["fields"].append(jack)
    force = {
        "word": "form",
        "constant": {"word": "field", "step": "bars", "field": "jack", "name": "zero"},
        "terms": [
            [
                {"word": "field", "step": "bars", "field": "jack", "name": "slope"},
                reading("bars", "force"),
            ]
        ],
        "divisor": 10,
    }
    steps["bars"]["shows"] = [
        {"id": "kn", "scope": "line", "label": "", "unit": "", "places": 0,
         "value": force}
    ]  # fmt: skip
    asked = {"amended": amended} if amended else {}
    story = Joint(small_sheet(steps=steps, **asked))
    jack = {"kind": "jack", "label": "Jack", "numbers": {"slope": 20, "zero": 5}}
    story.items = {"j": {**jack, "entry": NEW, "older": [], **item}}
    return story


def faults(story: Story) -> list[tuple[str, str]]:
    return [(f["code"], f["check"]) for f in story.state()["nonconformances"]]


def test_a_certificates_numbers_arrive_with_the_jack() -> None:
    story = joint()
    story.done("bars", line="b1r1", values={"force": 100, "jack": "j"})
    # (5 + 20 * 100) / 10 = 200.5, half away from zero: 201.
    line = story.state()["steps"]["bars"]["lines"]["b1r1"]
    assert line["shows"] == {"kn": 201}


@pytest.mark.parametrize(
    ("item", "name", "code"),
    [
        ({"expires": START_MS + MIN - 1}, "j", "item_expired"),
        ({"kind": "thermometer"}, "j", "item_wrong"),
        ({}, "nobody-knows", "item_unknown"),
        ({"numbers": {"uses_max": 3}, "uses": 3}, "j", "item_overused"),
    ],
)
def test_an_unfit_item_fails_before_a_gate_and_is_a_nonconformance_in_the_race(
    item: dict[str, Any], name: str, code: str
) -> None:
    story = joint(**item)
    story.at(1).done("wipe", values={"damp": 0, "jack": name})
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "failed"
    assert state["steps"]["wipe"]["lines"][""]["failed"] == [f"{code}:jack"]
    assert faults(story) == []
    story.at(1).done("bars", line="b1r1", values={"force": 1, "jack": name})
    assert story.state()["steps"]["bars"]["lines"]["b1r1"]["status"] == "ok"
    assert faults(story) == [(code, "jack")]


def test_an_item_is_fit_up_to_the_moment_it_expires() -> None:
    story = joint(expires=START_MS + MIN, uses=2, numbers={"uses_max": 3})
    story.at(1).done("wipe", values={"damp": 0, "jack": "j"})
    assert story.state()["steps"]["wipe"]["status"] == "done"


def test_a_corrected_certificate_touches_only_who_relied_on_the_old_one() -> None:
    story = joint(older=[OLD])
    values = {"force": 1, "jack": "j"}
    story.at(1).done("bars", line="b1r1", values=values, needs=[OLD])
    story.at(2).done("bars", line="b2r1", values=values, needs=[NEW])
    state = story.state()
    [fault] = state["nonconformances"]
    assert (fault["code"], fault["line"]) == ("item_corrected", "b1r1")


def test_a_corrected_certificate_raises_one_for_all_lines_and_shuts_what_comes() -> (
    None
):
    story = joint(older=[OLD])
    story.at(1).done("wipe", values={"damp": 0, "jack": "j"}, needs=[OLD])
    for minute, line in enumerate(("b2r1", "b1r1"), 2):
        values = {"force": 300, "jack": "j"}
        story.at(minute).done("bars", line=line, values=values, needs=[OLD])
    [fault] = [
        each for each in story.state()["nonconformances"] if each["check"] == "jack"
    ]
    # The first of them in order, not by name; the gates after wiping and after bars.
    assert (fault["step"], fault["code"]) == ("wipe", "item_corrected")
    assert fault["blocks"] == ["may_mix", "may_go"]


def test_the_register_keeps_what_replaced_what_and_takes_the_stricter_of_two() -> None:
    story = Story(small_sheet())

    def registered(on: str, **about: Any) -> str:
        told = {"item": "j", "kind": "jack", "label": "Jack", **about}
        return story.say("registered", by="foreman", on=on, about=told, values={"z": 1})

    first = registered("a", expires=2_000)
    second = registered("a", expires=3_000, replaces=first)
    found = register(story.entries.values())["j"]
    assert (found["entry"], found["expires"], found["older"]) == (
        second,
        3_000,
        [first],
    )
    third = registered("b", expires=1_000, replaces=first)
    found = register(reversed(story.entries.values()))["j"]
    assert (found["entry"], found["older"]) == (third, sorted([first, second]))


def test_items_stay_out_of_a_fold_that_does_not_know_them() -> None:
    story = joint()
    story.done("bars", line="b1r1", values={"force": 100, "jack": "j"})
    state = fold(story.sheet, story.entries.values(), Story.standing(story), {"at": 0})
    assert state["steps"]["bars"]["lines"]["b1r1"]["shows"] == {}


def test_a_lot_that_ran_out_after_it_was_chosen_shuts_the_gate() -> None:
    story = joint(amended=1, expires=START_MS + 5 * MIN)
    story.at(1).done("wipe", values={"damp": 0, "jack": "j"})
    story.at(2).done("face", values={"hot": 200})
    assert _why(story.at(5)) == []
    assert _why(story.at(6)) == [("item_ran_out", {"step": "wipe"})]


def test_a_sheet_from_before_asks_only_when_it_was_read() -> None:
    story = joint(expires=START_MS + 5 * MIN)
    story.at(1).done("wipe", values={"damp": 0, "jack": "j"})
    story.at(2).done("face", values={"hot": 200})
    assert _why(story.at(6)) == []


def test_what_was_decided_about_a_late_item_opens_what_it_shut() -> None:
    story = joint(amended=2, expires=START_MS)
    story.at(1).done("wipe", values={"damp": 0, "jack": "j"})
    story.at(2).done("face", values={"hot": 200})
    [refused] = _why(story)
    assert refused == ("step_failed", {"step": "wipe"})
    story.at(3).say("called", by="foreman", point="may_mix")
    [fault] = story.state()["nonconformances"]
    about = {"target": fault["id"], "verdict": "use_as_is", "reason": "checked since"}
    story.at(4).say("disposition", by="designer", unlocked="pin", about=about)
    assert _why(story.at(5)) == []


def test_what_was_used_in_the_race_may_run_out_afterwards() -> None:
    story = joint(amended=2, expires=START_MS + 5 * MIN)
    for line in ("b1r1", "b2r1", "b1r2", "b2r2"):
        story.at(4).done("bars", line=line, values={"force": 300, "jack": "j"})
    refusals = story.at(6).state()["points"]["may_go"]["refusals"]
    assert "item_ran_out" not in {each["code"] for each in refusals}


def _why(story: Story) -> list[tuple[str, dict[str, Any]]]:
    refusals = story.state()["points"]["may_mix"]["refusals"]
    return [(each["code"], each["facts"]) for each in refusals]


def twice(**item: Any) -> Joint:
    """Two bars of a gated step, both told to be the same thing."""
    steps = small_steps()
    bar = {"id": "bar", "label": "", "kind": "item", "items": "bar", "need": True}
    steps["mix"]["fields"] = [{**bar, **item}]
    story = Joint(small_sheet(steps=steps, amended=2))
    numbers = {} if item else {"uses_max": 9}
    known = {"kind": "bar", "label": "Bar", "older": [], "numbers": numbers}
    story.items = {"j": known, "i": known}
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    for line in ("k1", "k2"):
        story.at(4).done("mix", line=line, values={"bar": "j"})
    return story


@pytest.mark.parametrize("item", [{}, {"once": 1}])
def test_one_thing_at_two_places_fails_the_step_and_is_told_with_both(
    item: dict[str, int],
) -> None:
    state = twice(**item).state()
    assert state["steps"]["mix"]["status"] == "failed"
    told = [each["facts"] for each in state["points"]["may_go"]["refusals"]]
    assert {"step": "mix", "item": "j", "lines": "k1,k2"} in told
    assert state["nonconformances"] == []


def test_reading_one_place_again_in_time_leaves_nothing() -> None:
    story = twice()
    story.at(5).done("mix", line="k2", values={"bar": "i"})
    state = story.state()
    assert (state["steps"]["mix"]["status"], state["nonconformances"]) == ("done", [])


def test_built_on_it_shuts_the_next_gate_until_decided_and_a_correction_heals_it() -> (
    None
):
    story = twice()
    story.at(5).say("called", by="foreman", point="may_go")
    [fault] = story.state()["nonconformances"]
    assert (fault["code"], fault["blocks"]) == ("item_twice", ["may_go"])
    assert (fault["item"], fault["lines"]) == ("j", "k1,k2")
    second = story.state()["steps"]["mix"]["lines"]["k2"]["entry"]
    about = {"target": second, "reason": "label read again"}
    story.at(6).say(
        "correction", by="foreman", step="mix", line="k2", values={"bar": "i"},
        about=about,
    )  # fmt: skip
    state = story.state()
    assert (state["steps"]["mix"]["status"], state["nonconformances"]) == ("done", [])
