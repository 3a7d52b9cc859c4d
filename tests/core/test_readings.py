"""Readings: retaken, corrected, disputed, discarded; failures are never laundered."""

import pytest

from fieldapp.core.canonical import fingerprint
from fieldapp.core.sheet import prepare
from tests.core.small import LIFE, number, raw_sheet, small_sheet
from tests.core.story import Story


@pytest.fixture
def story() -> Story:
    """Give an empty joint at minute 1."""
    return Story(small_sheet()).at(1)


def test_a_failed_reading_can_be_retaken_by_its_author_on_the_same_phone(
    story: Story,
) -> None:
    first = story.done("wipe", values={"damp": 1})
    assert story.state()["steps"]["wipe"]["status"] == "failed"
    second = story.at(2).done("wipe", values={"damp": 0})
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "done"
    assert state["steps"]["wipe"]["lines"][""]["entries"] == [first, second]
    assert state["nonconformances"] == []


@pytest.mark.parametrize("kind", ["called", "release"])
def test_after_a_call_or_a_release_a_failed_reading_needs_a_disposition(
    story: Story, kind: str
) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say(kind, by="foreman", point="may_mix")
    story.at(3).done("wipe", values={"damp": 0})
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "done"
    [fault] = state["nonconformances"]
    assert (fault["step"], fault["blocks"]) == ("wipe", ["may_mix"])


def test_a_failed_reading_seen_by_another_person_is_locked(story: Story) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say("note", by="second", about={"text": "saw it"})
    [fault] = story.state()["nonconformances"]
    assert fault["check"] == "dry"


def test_a_correction_cannot_launder_a_failure(story: Story) -> None:
    wet = story.done("wipe", values={"damp": 1})
    story.at(2).say("called", by="foreman", point="may_mix")
    story.at(3).say(
        "correction",
        by="foreman",
        step="wipe",
        values={"damp": 0},
        about={"target": wet, "reason": "typed wrong"},
    )
    state = story.state()
    assert state["steps"]["wipe"]["lines"][""]["values"] == {"damp": 0}
    [fault] = state["nonconformances"]
    assert fault["entry"] == wet


def test_a_disposition_as_is_opens_the_gate_under_concession(story: Story) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say("called", by="foreman", point="may_mix")
    [fault] = story.state()["nonconformances"]
    story.at(3).done("face", values={"hot": 200})
    story.at(4).say(
        "disposition",
        by="designer",
        unlocked="pin",
        about={"target": fault["id"], "verdict": "use_as_is", "reason": "dried since"},
    )
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "done"
    assert state["nonconformances"][0]["status"] == "disposed"
    assert state["points"]["may_mix"]["refusals"] == []


def test_a_disposition_by_the_builder_does_not_count(story: Story) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say("called", by="foreman", point="may_mix")
    [fault] = story.state()["nonconformances"]
    story.at(3).say(
        "disposition",
        by="engineer",
        unlocked="pin",
        about={"target": fault["id"], "verdict": "use_as_is", "reason": "fine"},
    )
    assert story.state()["nonconformances"][0]["status"] == "open"
    story.at(4).say(
        "proposal",
        by="engineer",
        about={"target": fault["id"], "verdict": "use_as_is", "reason": "fine"},
    )
    assert story.state()["nonconformances"][0]["status"] == "proposed"


def test_a_repair_opens_the_gate_only_when_closed(story: Story) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say("called", by="foreman", point="may_mix")
    [fault] = story.state()["nonconformances"]
    about = {"target": fault["id"], "verdict": "repair", "reason": "dry the face"}
    story.at(3).say("disposition", by="designer", unlocked="pin", about=about)
    assert story.state()["nonconformances"][0]["blocks"] == ["may_mix"]
    story.at(4).say(
        "closing",
        by="designer",
        unlocked="pin",
        about={"target": fault["id"], "text": "dried"},
    )
    assert story.state()["nonconformances"][0]["blocks"] == []


def test_of_two_decisions_side_by_side_the_stricter_stands(story: Story) -> None:
    story.done("wipe", values={"damp": 1})
    story.at(2).say("called", by="foreman", point="may_mix")
    [fault] = story.state()["nonconformances"]
    story.phone("b").known = set(story.phone("a").known)
    for phone, verdict in (("a", "use_as_is"), ("b", "reject")):
        about = {"target": fault["id"], "verdict": verdict, "reason": "so"}
        story.at(3).say(
            "disposition", by="designer", on=phone, unlocked="pin", about=about
        )
    state = story.state()
    assert state["nonconformances"][0]["verdict"] == "reject"
    assert state["verdict"] == "rejected"


def test_two_phones_reading_one_line_differently_leave_it_disputed(
    story: Story,
) -> None:
    story.done("wipe", on="a", values={"damp": 0})
    story.done("wipe", by="second", on="b", values={"damp": 1})
    assert story.state()["steps"]["wipe"]["status"] == "disputed"
    story.sync()
    story.at(2).done("wipe", on="a", values={"damp": 0})
    assert story.state()["steps"]["wipe"]["status"] == "done"


@pytest.mark.parametrize("minute", range(8))
def test_what_fails_of_two_readings_side_by_side_is_told_whichever_comes_first(
    minute: int,
) -> None:
    # The minute changes the names of the entries, and with them their order.
    story = Story(small_sheet(amended=2)).at(minute)
    story.done("wipe", on="a", values={"damp": 0})
    wet = story.done("wipe", by="second", on="b", values={"damp": 1})
    [fault] = story.state()["nonconformances"]
    assert (fault["check"], fault["entry"]) == ("dry", wet)
    story.sync()
    story.at(minute + 1).done("wipe", on="a", values={"damp": 0})
    assert [each["entry"] for each in story.state()["nonconformances"]] == [wet]


def test_a_slip_mended_in_time_stays_mended_when_the_line_is_read_once_more() -> None:
    story = Story(small_sheet(amended=2)).at(1)
    story.done("wipe", values={"damp": 1})
    story.at(2).done("wipe", values={"damp": 0})
    story.at(3).say("called", by="foreman", point="may_mix")
    story.at(4).done("wipe", values={"damp": 0})
    assert story.state()["nonconformances"] == []


def test_what_does_not_go_back_is_told_while_a_line_is_disputed_too() -> None:
    options = [{"value": 0}, {"value": 2}, {"value": 1, "stays": 1}]
    raw = raw_sheet(amended=2)
    wipe = raw["steps"]["wipe"]
    wipe["fields"] = [number("damp") | {"kind": "choice", "options": options}]
    wipe["checks"][0]["must"]["set"] = [0, 2]
    wipe["checks"][0]["raises"] = "nonconformance"
    story = Story(prepare(raw, {fingerprint(LIFE): LIFE})).at(1)
    told = story.done("wipe", on="a", values={"damp": 1})
    story.at(2).done("wipe", on="a", values={"damp": 0})
    story.done("wipe", by="second", on="b", values={"damp": 2})
    state = story.state()
    assert state["steps"]["wipe"]["status"] == "disputed"
    assert [each["entry"] for each in state["nonconformances"]] == [told]
    story.sync().at(3).done("wipe", on="a", values={"damp": 0})
    assert [each["entry"] for each in story.state()["nonconformances"]] == [told]


def test_two_phones_reading_the_same_agree(story: Story) -> None:
    story.done("wipe", on="a", values={"damp": 0})
    story.done("wipe", by="second", on="b", values={"damp": 0})
    assert story.state()["steps"]["wipe"]["status"] == "done"


def test_two_corrections_side_by_side_make_a_value_disputed_and_its_users_unmet(
    story: Story,
) -> None:
    for line in ("b1r1", "b2r1", "b1r2"):
        story.done("bars", line=line, values={"force": 300})
    last = story.done("bars", line="b2r2", values={"force": 300})
    assert story.state()["values"] == {"total": 600}
    story.phone("b").known = set(story.phone("a").known)
    for phone, force in (("a", 310), ("b", 320)):
        story.at(2).say(
            "correction",
            by="foreman",
            on=phone,
            step="bars",
            values={"force": force},
            about={"target": last, "reason": "gauge"},
        )
    state = story.state()
    assert state["steps"]["bars"]["lines"]["b2r2"]["status"] == "disputed"
    assert state["values"] == {}


def test_a_correction_of_a_reading_already_retaken_changes_nothing(
    story: Story,
) -> None:
    old = story.done("bars", line="b1r2", values={"force": 100})
    story.at(2).done("bars", line="b1r2", values={"force": 200})
    story.at(3).say(
        "correction",
        by="foreman",
        step="bars",
        values={"force": 111},
        about={"target": old, "reason": "late thought"},
    )
    line = story.state()["steps"]["bars"]["lines"]["b1r2"]
    assert line["values"] == {"force": 200}


def test_a_discarded_kit_no_longer_counts_but_still_started_the_clock(
    story: Story,
) -> None:
    story.say("anyway", by="foreman", step="mix", line="k1", about={"reason": "late"})
    story.at(3).say(
        "discarded", by="foreman", step="mix", line="k1", about={"reason": "lumps"}
    )
    story.at(5).done("mix", line="k2")
    state = story.state()
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "discarded"
    assert state["steps"]["mix"]["missing"] == 1
    assert state["clocks"]["open"]["run_ms"] == 4 * 60_000


def test_raced_work_is_always_recordable_and_over_a_cap_it_shuts_the_next_gate(
    story: Story,
) -> None:
    story.done("bars", line="b1r1", values={"force": 501})
    state = story.state()
    assert state["steps"]["bars"]["refusals"] == []
    [fault] = state["nonconformances"]
    assert (fault["check"], fault["blocks"]) == ("cap", ["may_go"])
    assert "out_of_order" in {f["code"] for f in state["flags"]}


def test_what_happened_although_the_gate_was_shut_is_kept_as_a_nonconformance(
    story: Story,
) -> None:
    entry = story.say(
        "anyway", by="foreman", step="mix", line="k1", about={"reason": "misheard"}
    )
    state = story.state()
    assert state["steps"]["mix"]["lines"]["k1"]["status"] == "anyway"
    assert state["clocks"]["open"]["status"] == "running"
    assert [f["entry"] for f in state["nonconformances"]] == [entry]


def test_a_face_back_in_its_window_needs_no_disposition(story: Story) -> None:
    story.done("wipe", values={"damp": 0})
    story.done("face", values={"hot": 401})
    story.at(2).say("note", by="second", about={"text": "too hot"})
    assert story.state()["steps"]["face"]["status"] == "failed"
    story.at(3).done("face", values={"hot": 390})
    state = story.state()
    assert state["steps"]["face"]["status"] == "done"
    assert state["nonconformances"] == []


def test_a_bar_that_breaks_later_does_not_undo_contact_pressure() -> None:
    raw = raw_sheet()
    raw["steps"]["lost"] = {
        "title": "Bar lost",
        "class": "make_safe",
        "least": 0,
        "lines": [
            {"id": "b1", "label": "", "item": "b1", "round": 1, "need": False,
             "numbers": {}}
        ],
    }  # fmt: skip
    raw["flow"].insert(raw["flow"].index("bars") + 1, "lost")
    lost = {"word": "reduce", "how": "count", "step": "lost", "item": "b1"}
    raw["values"]["total"]["terms"].append([-300, lost])
    parts = {name: raw[name] for name in ("steps", "flow", "values")}
    story = Story(small_sheet(**parts)).at(1)
    for line in ("b1r1", "b2r1", "b1r2", "b2r2"):
        story.done("bars", line=line, values={"force": 300})
    pressed = story.state()["milestones"]["pressed"]
    story.at(2).done("lost", line="b1")
    state = story.state()
    assert state["values"] == {"total": 300}
    assert state["milestones"]["pressed"] == pressed
