"""Gates are judged on what the signer had seen; releases lapse and expire as said."""

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.core.sheet import part_hashes, prepare
from tests.core.small import HOUR_MS, LIFE, raw_sheet, small_sheet
from tests.core.story import START_MS, Story


@pytest.fixture
def prepared() -> Story:
    """Give a joint whose faces are wiped and read, at minute 2."""
    story = Story(small_sheet())
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    return story


def codes(refusals: list) -> list[str]:
    return [each["code"] for each in refusals]


def test_mixing_waits_for_every_covered_step() -> None:
    state = Story(small_sheet()).state()
    assert state["points"]["may_mix"]["status"] == "waiting"
    assert codes(state["points"]["may_mix"]["refusals"]) == ["step_open", "step_open"]
    assert codes(state["steps"]["mix"]["refusals"]) == ["gate_shut"]


def test_a_release_opens_the_gate(prepared: Story) -> None:
    prepared.at(3).release("may_mix")
    state = prepared.state()
    assert state["points"]["may_mix"]["status"] == "released"
    assert state["steps"]["mix"]["status"] == "open"


def test_a_release_without_pin_does_not_count(prepared: Story) -> None:
    entry = prepared.at(3).say("release", by="inspector", point="may_mix")
    state = prepared.state()
    assert state["points"]["may_mix"]["status"] == "ready"
    flagged = {(f["entry"], f["code"]) for f in state["flags"]}
    assert {(entry, "release_void"), (entry, "without_pin")} <= flagged


def test_a_release_by_the_wrong_role_does_not_count(prepared: Story) -> None:
    prepared.at(3).release("may_mix", by="engineer")
    assert prepared.state()["points"]["may_mix"]["status"] == "ready"


def test_whoever_did_part_of_the_work_cannot_release_it() -> None:
    story = Story(small_sheet())
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", by="inspector", values={"hot": 200})
    story.at(3).release("may_mix")
    assert story.state()["points"]["may_mix"]["status"] == "ready"


def test_the_declared_crew_cannot_release_its_own_joint(prepared: Story) -> None:
    prepared.at(2.5).say("crew", by="foreman", about={"people": ["inspector"]})
    prepared.at(3).release("may_mix")
    assert prepared.state()["points"]["may_mix"]["status"] == "ready"


def test_a_release_given_too_early_never_counts() -> None:
    story = Story(small_sheet())
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).release("may_mix")
    story.at(3).done("face", values={"hot": 200})
    assert story.state()["points"]["may_mix"]["status"] == "ready"


def test_a_release_expires_after_its_life_but_not_a_minute_before(
    prepared: Story,
) -> None:
    prepared.at(3).release("may_mix")
    assert prepared.state(33)["points"]["may_mix"]["status"] == "released"
    assert prepared.state(33.01)["points"]["may_mix"]["status"] == "expired"
    assert codes(prepared.state(33.01)["steps"]["mix"]["refusals"]) == ["gate_expired"]


def test_an_act_in_time_stays_done_when_the_release_has_expired(
    prepared: Story,
) -> None:
    prepared.at(3).release("may_mix")
    prepared.at(33).done("mix", line="k1")
    state = prepared.state(500)
    assert state["points"]["may_mix"]["status"] == "released"
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "ok"


def test_an_act_after_expiry_is_a_nonconformance_and_never_done(
    prepared: Story,
) -> None:
    prepared.at(3).release("may_mix")
    entry = prepared.at(33.5).done("mix", line="k1")
    state = prepared.state()
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "anyway"
    [fault] = state["nonconformances"]
    assert (fault["code"], fault["entry"]) == ("gate_shut", entry)
    assert fault["blocks"] == ["may_go"]


def test_the_mixing_gate_stands_before_the_first_kit_only(prepared: Story) -> None:
    prepared.at(3).release("may_mix")
    prepared.at(5).done("mix", line="k1")
    prepared.at(60).done("mix", line="k2")
    state = prepared.state(60)
    assert state["steps"]["mix"]["lines"]["k2"]["status"] == "ok"


def test_a_gate_that_nobody_released_is_not_released_by_what_follows() -> None:
    story = Story(small_sheet(amended=2))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(5).done("mix", line="k1")
    story.at(6).done("mix", line="k2")
    state = story.state(7)
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "anyway"
    assert state["points"]["may_mix"]["status"] != "released"


def test_a_correction_of_a_value_in_its_past_makes_a_release_lapse(
    prepared: Story,
) -> None:
    face = prepared.at(2.5).done("face", values={"hot": 210})
    prepared.at(3).release("may_mix")
    correction = prepared.at(4).say(
        "correction",
        by="foreman",
        step="face",
        values={"hot": 220},
        about={"target": face, "reason": "misread"},
    )
    point = prepared.state()["points"]["may_mix"]
    assert (point["status"], point["lapsed_by"]) == ("lapsed", correction)


def test_lapsing_reopens_only_what_comes_after(prepared: Story) -> None:
    face = prepared.at(2.5).done("face", values={"hot": 210})
    prepared.at(3).release("may_mix")
    prepared.at(4).done("mix", line="k1")
    prepared.at(5).say(
        "correction",
        by="foreman",
        step="face",
        values={"hot": 220},
        about={"target": face, "reason": "misread"},
    )
    state = prepared.state()
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "ok"
    assert state["points"]["may_mix"]["status"] == "released"


def test_a_line_on_a_second_phone_it_had_not_seen_makes_a_release_lapse(
    prepared: Story,
) -> None:
    prepared.sync("a", "b")
    prepared.phone("b").known = set(prepared.phone("a").known)
    prepared.at(3).release("may_mix", on="a")
    prepared.at(3).done("wipe", by="second", on="b", values={"damp": 1})
    point = prepared.state()["points"]["may_mix"]
    assert point["status"] == "lapsed"


def test_a_fresh_reading_inside_its_window_does_not_lapse_a_release(
    prepared: Story,
) -> None:
    prepared.at(3).release("may_mix")
    prepared.at(4).done("face", values={"hot": 230})
    assert prepared.state()["points"]["may_mix"]["status"] == "released"


def test_a_face_leaving_its_window_lapses_a_release(prepared: Story) -> None:
    prepared.at(3).release("may_mix")
    prepared.at(4).done("face", values={"hot": 401})
    assert prepared.state()["points"]["may_mix"]["status"] == "lapsed"


def test_rain_lapses_the_mixing_release_and_another_card_does_not(
    prepared: Story,
) -> None:
    prepared.at(3).release("may_mix")
    prepared.at(4).say("stopped", by="foreman", about={"reason": "blocked"})
    assert prepared.state()["points"]["may_mix"]["status"] == "released"
    prepared.at(5).say("stopped", by="foreman", about={"reason": "rain"})
    assert prepared.state()["points"]["may_mix"]["status"] == "lapsed"


def test_of_a_release_and_a_refusal_side_by_side_the_refusal_stands(
    prepared: Story,
) -> None:
    prepared.phone("b").known = set(prepared.phone("a").known)
    prepared.at(3).release("may_mix", on="a")
    refusal = prepared.at(3).say(
        "refusal",
        by="inspector",
        on="b",
        point="may_mix",
        unlocked="pin",
        about={"reason": "dust"},
    )
    point = prepared.state()["points"]["may_mix"]
    assert (point["status"], point["refused_by"]) == ("refused", refusal)
    prepared.sync()
    prepared.at(4).release("may_mix", on="a")
    assert prepared.state()["points"]["may_mix"]["status"] == "released"


def test_the_next_gate_needs_contact_pressure_and_every_bar(prepared: Story) -> None:
    prepared.at(3).release("may_mix")
    for minute, kit in ((5, "k1"), (6, "k2")):
        prepared.at(minute).done("mix", line=kit)
    for line, force in (("b1r1", 300), ("b2r1", 300), ("b1r2", 300)):
        prepared.at(10).done("bars", line=line, values={"force": force})
    state = prepared.state()
    assert "pressed" in state["milestones"]
    assert codes(state["points"]["may_go"]["refusals"]) == ["step_partial"]
    prepared.at(11).done("bars", line="b2r2", values={"force": 299})
    assert codes(prepared.state()["points"]["may_go"]["refusals"]) == ["requirement"]


def test_a_release_must_name_the_other_subjects_milestone_it_relied_on() -> None:
    needed = [{"subject": "J0", "milestone": "may_go", "before": ["may_mix"]}]
    story = Story(small_sheet(prerequisites=needed))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    assert codes(story.state()["points"]["may_mix"]["refusals"]) == ["other_subject"]
    story.milestones["J0"] = {"may_go": "ab" * 32}
    assert story.state()["points"]["may_mix"]["status"] == "ready"
    story.at(3).release("may_mix")
    assert story.state()["points"]["may_mix"]["status"] == "ready"
    story.at(4).release("may_mix", needs=["ab" * 32])
    assert story.state()["points"]["may_mix"]["status"] == "released"


def test_stop_shuts_the_gates_until_somebody_says_it_is_safe(prepared: Story) -> None:
    prepared.at(3).say("stopped", by="foreman", about={"reason": "blocked"})
    assert codes(prepared.state()["points"]["may_mix"]["refusals"]) == ["stopped"]
    prepared.at(4).say("made_safe", by="foreman", about={"how": "held"})
    assert prepared.state()["points"]["may_mix"]["status"] == "ready"


def test_a_call_can_be_withdrawn(prepared: Story) -> None:
    prepared.at(3).say("called", by="foreman", point="may_mix")
    assert prepared.state()["points"]["may_mix"]["status"] == "called"
    prepared.at(4).say(
        "call_withdrawn", by="foreman", point="may_mix", about={"reason": "wind"}
    )
    assert prepared.state()["points"]["may_mix"]["status"] == "ready"


def test_an_entry_under_a_sheet_whose_step_reads_the_same_still_counts() -> None:
    old = small_sheet()
    story = Story(old)
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    raw = raw_sheet(revision=2)
    raw["steps"]["face"]["title"] = "Face temperature, shaded"
    older = {old.hash: part_hashes(old.raw)}
    story.sheet = prepare(raw, {fingerprint(LIFE): LIFE}, older)
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "done"
    assert state["steps"]["face"]["status"] == "open"
    assert [f["code"] for f in state["flags"]] == ["other_sheet"]


def test_a_hold_shuts_the_mixing_gate_until_it_is_over(prepared: Story) -> None:
    raw = raw_sheet()
    raw["steps"]["clean"].pop("again")
    story = Story(small_sheet(steps=raw["steps"]))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).done("clean")
    day = 24 * 60
    [refusal] = story.state(3 + day - 0.01)["points"]["may_mix"]["refusals"]
    assert refusal["code"] == "hold_running"
    assert refusal["facts"]["until"] == START_MS + 3 * 60_000 + 24 * HOUR_MS
    assert story.state(3 + day)["points"]["may_mix"]["refusals"] == []


def test_a_refusal_by_the_wrong_role_changes_nothing(prepared: Story) -> None:
    prepared.at(3).say(
        "refusal",
        by="foreman",
        point="may_mix",
        unlocked="pin",
        about={"reason": "no"},
    )
    assert prepared.state()["points"]["may_mix"]["status"] == "ready"
