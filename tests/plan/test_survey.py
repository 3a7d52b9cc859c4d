"""The survey, the retained pot, corrections by casting, and how far bars may rise."""

from pathlib import Path
from typing import Any

import pytest

from tests.core.story import Story
from tests.plan.sample import (
    GOOD_FACES,
    SURVEY,
    compiled,
    copied,
    faults_of,
    fitted,
    spoil,
    story,
    surveyed,
    told,
)

PLAN = "plan/glued_joint.toml"


CANNOT = {
    "lot-c1": "item_wrong", "seg-w3": "item_unknown", "seg-w8": "item_expired",
}  # fmt: skip
"""What no correction may name, and why: W8 has been cast."""


def step(joint: Story, name: str, minute: float | None = None) -> dict[str, Any]:
    found: dict[str, Any] = joint.state(minute)["steps"][name]
    return found


def measured(**points: int) -> Story:
    """A joint with its six points, 0.1 mm less theory; changed ones by name."""
    joint = story()
    joint.at(1).done("dry-fit", by="tamsin", values={"fit": 1})
    changed = {name.replace("_", "-"): off for name, off in points.items()}
    for line, off in (SURVEY | changed).items():
        surveyed(joint.at(2), line, off)
    return joint


@pytest.mark.parametrize(
    ("off", "cautions", "failed"),
    [
        (50, [], []),
        (-50, [], []),
        (51, ["act"], []),
        (100, ["act"], []),
        (101, ["act"], ["stop"]),
        (-101, ["act"], ["stop"]),
    ],
)
def test_a_point_is_told_from_the_act_threshold_and_shuts_only_at_the_stop(
    off: int, cautions: list[str], failed: list[str]
) -> None:
    level = step(measured(level_lb=off), "survey")["lines"]["level-lb"]
    line = step(measured(line_b=off), "line-seen")["lines"]["line-b"]
    for point in (level, line):
        assert (point["cautions"], point["failed"]) == (cautions, failed)


def test_six_points_are_wanted_and_a_stop_shuts_the_mixing() -> None:
    joint = fitted()
    joint.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    joint.at(3).done("ready", by="tamsin", values={"gap": 1, "kit": 1})
    assert joint.state()["points"]["mixing"]["status"] == "ready"
    surveyed(joint.at(4), "level-lf", 101)
    lacks = {"code": "step_failed", "facts": {"step": "survey"}}
    assert joint.state()["points"]["mixing"]["refusals"] == [lacks]
    # Shimmed and surveyed again.
    surveyed(joint.at(5), "level-lf", 22)
    assert joint.state()["points"]["mixing"]["status"] == "ready"
    five = story()
    for line in list(SURVEY)[:5]:
        surveyed(five.at(2), line, 0)
    assert step(five, "survey")["missing"] == 0
    assert step(five, "line-seen")["missing"] == 1


def test_no_line_is_read_with_a_level_and_no_level_with_a_theodolite() -> None:
    joint = measured()
    values = {"off": 0, "instrument": "level-1"}
    joint.at(3).done("line-seen", by="tamsin", line="line-b", values=values)
    line = step(joint, "line-seen")["lines"]["line-b"]
    assert line["failed"] == ["item_wrong:instrument"]
    values = {"off": 0, "instrument": "theo-1"}
    joint.at(4).done("survey", by="tamsin", line="level-lf", values=values)
    level = step(joint, "survey")["lines"]["level-lf"]
    assert level["failed"] == ["item_wrong:instrument"]


def test_what_a_segment_has_turned_is_told_at_the_tip() -> None:
    # Front 1.2 and 0.8 mm up, at the joint 0.4 and 0.6: 1.0 less 0.5 is 0.5 mm turned.
    # Eight segments of 3 m follow W1: 1.0 + 8 x 0.5 = 5 mm. Line: -1.0 + 8 x -0.5.
    # Left above right: 0.4 mm in front, -0.2 at the joint, so 0.6 from end to end.
    assert step(measured(), "survey")["shows"] == {"twist": 6, "tip-level": 500}
    assert step(measured(), "line-seen")["shows"] == {"tip-line": -500}
    # 3.0 mm turned: 3.5 + 24 = 27.5 mm, past 25.
    steep = measured(level_lf=35, level_rf=35, level_lb=5, level_rb=5)
    assert step(steep, "survey")["cautions"] == ["tip-level"]
    assert step(steep, "survey")["failed"] == []


@pytest.mark.parametrize(
    ("minute", "state", "found"),
    [
        # 17.5 °C mixed: the certified pot life runs from 44 min at 10 °C to 22 at 20.
        (10, 1, ["early"]),
        (10, 2, []),
        (80, 1, []),
    ],
)
def test_a_pot_that_gels_before_its_certified_life_is_a_nonconformance(
    minute: float, state: int, found: list[str]
) -> None:
    joint = told("mixing")
    kit = {"lot": "lot-c1", "mixed": 175}
    joint.at(8).done("mix-cool", by="tamsin", line="kit-1", values=kit)
    joint.at(8.5).done("pot-kept", by="tamsin", values={"made": 1})
    values = {"state": state}
    joint.at(minute).done("pot-gelled", by="tamsin", line="kit-1", values=values)
    faults = [f for f in joint.state()["nonconformances"] if f["step"] == "pot-gelled"]
    assert [f["check"] for f in faults] == found
    assert all(f["blocks"] == ["weight", "life-signed"] for f in faults)


def test_another_pot_looked_at_later_hides_no_pot_that_gelled_early() -> None:
    joint = told("mixing")
    kit = {"lot": "lot-c1", "mixed": 175}
    for minute, line in ((8, "kit-1"), (9, "kit-2")):
        joint.at(minute).done("mix-cool", by="tamsin", line=line, values=kit)
    joint.at(9.5).done("pot-kept", by="tamsin", values={"made": 1})
    for minute, line, state in ((20, "kit-1", 1), (80, "kit-2", 2)):
        values = {"state": state}
        joint.at(minute).done("pot-gelled", by="tamsin", line=line, values=values)
        told_of = joint.state()["nonconformances"]
        assert [f["check"] for f in told_of if f["step"] == "pot-gelled"] == ["early"]


def test_a_pot_that_gelled_early_is_not_cleared_by_reading_it_soft_again() -> None:
    joint = told("mixing")
    kit = {"lot": "lot-c1", "mixed": 175}
    joint.at(8).done("mix-cool", by="tamsin", line="kit-1", values=kit)
    joint.at(9).done("pot-kept", by="tamsin", values={"made": 1})
    # Seen gelled after 12 minutes; looked at again when its 22 to 44 are long over.
    first = joint.at(20).done(
        "pot-gelled", by="tamsin", line="kit-1", values={"state": 1}
    )
    joint.at(80).done("pot-gelled", by="tamsin", line="kit-1", values={"state": 2})
    state = joint.state()
    assert [f["check"] for f in of_pot(state)] == ["early"]
    line = state["steps"]["pot-gelled"]["lines"]["kit-1"]
    assert (line["status"], line["failed"]) == ("failed", ["taken_back:state"])
    # Another pot was meant: the reading that was wrong is corrected, with why.
    joint.at(81).say(
        "correction",
        by="tamsin",
        step="pot-gelled",
        line="kit-1",
        values={"state": 2},
        about={"target": first, "reason": "it was the pot of another joint"},
    )
    state = joint.state()
    assert of_pot(state) == []
    assert state["steps"]["pot-gelled"]["lines"]["kit-1"]["failed"] == []


def of_pot(state: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the nonconformances of the pot."""
    return [f for f in state["nonconformances"] if f["step"] == "pot-gelled"]


def test_a_correction_by_casting_names_only_what_is_not_cast_yet() -> None:
    joint = fitted()
    asked: dict[str, Any] = {"segment": "seg-w9", "level": 30, "line": 0}
    joint.at(3).done("cast-asked", by="edric", line="asked", values=asked)
    assert step(joint, "cast-asked")["lines"]["asked"]["status"] == "ok"
    for name, code in CANNOT.items():
        values = asked | {"segment": name}
        joint.at(4).done("cast-asked", by="edric", line="asked", values=values)
        failed = step(joint, "cast-asked")["lines"]["asked"]["failed"]
        assert failed == [f"{code}:segment"]


def test_a_broken_bar_tells_what_all_others_at_their_caps_would_hold() -> None:
    joint = told("bars")
    pictures = compiled().sheets["j-w1"]["pictures"]
    (drawn,) = [one for one in pictures if one["binding"] == "joint_stress"]
    whole = joint.state()["values"]
    # Six bars, cap 507 kN each, against the 450 kN less seating that are locked in.
    assert whole[drawn["most"]] > whole["stress.mean"]
    joint.at(41).done("bar-lost", by="tamsin", line="b1")
    lost = joint.state()["values"]
    assert lost[drawn["most"]] == pytest.approx(whole[drawn["most"]] * 5 / 6, abs=1)
    most = [lost[state["most"]] for state in drawn["states"]]
    least = [lost[state["least"]] for state in drawn["states"]]
    assert all(high > low for high, low in zip(most, least, strict=True))


def test_a_faulty_survey_is_told(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, 'line = "level-rb" }]], unit', 'line = "level-xx" }]], unit')
    assert any("level-rb" in fault.allowed for fault in faults_of(folder))
