"""Over time: the clock raises it, the designer decides, a second attempt begins."""

import pytest

from tests.core.small import STEPS, small_sheet
from tests.core.story import START_MS, Story

DAY = 24 * 60


def press(story: Story, minute: float) -> None:
    for line in ("b1r1", "b2r1", "b1r2", "b2r2"):
        story.at(minute).done("bars", line=line, values={"force": 300}, **again(story))


def again(story: Story) -> dict[str, str]:
    attempt = story.state().get("attempt")
    return {"attempt": attempt} if attempt else {}


@pytest.fixture
def over_time() -> Story:
    """Give a joint pressed 43 minutes after its first kit; 42 are allowed."""
    story = Story(small_sheet())
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    story.at(5).done("mix", line="k1")
    story.at(6).done("mix", line="k2")
    press(story, 48)
    return story


def rework(story: Story) -> str:
    [fault] = [f for f in story.state()["nonconformances"] if f["blocks"]]
    about = {"target": fault["id"], "verdict": "rework", "reason": "part it"}
    return story.at(60).say(
        "disposition",
        by="designer",
        unlocked="pin",
        about={**about, "from": "wipe"},
    )


def test_pressure_after_seventy_per_cent_of_the_life_shuts_the_next_gate(
    over_time: Story,
) -> None:
    state = over_time.state()
    assert state["clocks"]["open"]["status"] == "over"
    [fault] = state["nonconformances"]
    assert (fault["code"], fault["check"]) == ("clock_over", "press_by")
    assert fault["blocks"] == ["may_go"]


def test_pressure_within_seventy_per_cent_is_met() -> None:
    story = Story(small_sheet())
    story.at(1).done("face", values={"hot": 200})
    story.at(5).say(
        "anyway", by="foreman", step="mix", line="k1", about={"reason": "test"}
    )
    press(story, 46.9)
    clock = story.state()["clocks"]["open"]
    assert (clock["status"], clock["run_ms"]) == ("met", 41.9 * 60_000)


def test_an_over_time_that_is_still_running_is_raised_while_it_runs() -> None:
    story = Story(small_sheet())
    story.at(1).done("face", values={"hot": 200})
    story.at(5).done("mix", line="k1")
    assert story.state(46.9)["clocks"]["open"]["status"] == "running"
    assert story.state(47.1)["clocks"]["open"]["status"] == "over"


def test_rework_opens_a_second_attempt_that_starts_empty(over_time: Story) -> None:
    attempt = rework(over_time)
    state = over_time.state()
    assert (state["attempts"], state["attempt"]) == (2, attempt)
    assert state["steps"]["wipe"]["status"] == "open"
    assert state["steps"]["clean"]["status"] == "open"
    assert state["clocks"] == {}
    [fault] = state["nonconformances"]
    assert (fault["status"], fault["verdict"], fault["blocks"]) == (
        "disposed",
        "rework",
        [],
    )


def test_the_lock_out_runs_from_the_cleaning_before_the_second_mixing(
    over_time: Story,
) -> None:
    attempt = rework(over_time)
    over_time.at(70).done("clean", attempt=attempt)
    day_later = 70 + DAY
    over_time.at(day_later - 5).done("wipe", values={"damp": 0}, attempt=attempt)
    over_time.at(day_later - 4).done("face", values={"hot": 200}, attempt=attempt)
    point = over_time.state(day_later - 1)["points"]["may_mix"]
    assert [r["code"] for r in point["refusals"]] == ["hold_running"]
    assert point["refusals"][0]["facts"]["until"] == START_MS + day_later * 60_000
    over_time.at(day_later + 1).release("may_mix", attempt=attempt)
    over_time.at(day_later + 2).done("mix", line="k1", attempt=attempt)
    over_time.at(day_later + 3).done("mix", line="k2", attempt=attempt)
    press(over_time, day_later + 20)
    over_time.at(day_later + 25).release("may_go", by="engineer", attempt=attempt)
    over_time.at(day_later + 26).done("slack", attempt=attempt)
    assert over_time.state()["verdict"] == "complete"


def test_an_entry_of_the_first_attempt_does_not_count_in_the_second(
    over_time: Story,
) -> None:
    rework(over_time)
    late = over_time.at(61).done("wipe", values={"damp": 0})
    state = over_time.state()
    assert state["steps"]["wipe"]["status"] == "open"
    assert late not in state["steps"]["wipe"]["lines"]


def test_only_a_new_attempt_starts_a_new_clock(over_time: Story) -> None:
    over_time.at(49).done("mix", line="k3")
    assert over_time.state()["clocks"]["open"]["start"] == START_MS + 5 * 60_000


def test_two_reworks_side_by_side_keep_the_one_that_redoes_more(
    over_time: Story,
) -> None:
    [fault] = over_time.state()["nonconformances"]
    over_time.phone("b").known = set(over_time.phone("a").known)
    ids = {}
    for phone, first in (("a", "bars"), ("b", "wipe")):
        about = {"target": fault["id"], "verdict": "rework", "reason": "redo"}
        ids[first] = over_time.at(60).say(
            "disposition",
            by="designer",
            on=phone,
            unlocked="pin",
            about={**about, "from": first},
        )
    state = over_time.state()
    assert state["attempt"] == ids["wipe"]


def test_work_before_the_step_reworked_from_still_counts(over_time: Story) -> None:
    [fault] = over_time.state()["nonconformances"]
    about = {"target": fault["id"], "verdict": "rework", "reason": "bars again"}
    over_time.at(60).say(
        "disposition", by="designer", unlocked="pin", about={**about, "from": "bars"}
    )
    state = over_time.state()
    assert state["steps"]["mix"]["status"] == "done"
    assert state["steps"]["bars"]["status"] == "open"


def test_under_concession_an_over_time_joint_can_be_finished(over_time: Story) -> None:
    [fault] = over_time.state()["nonconformances"]
    about = {"target": fault["id"], "verdict": "use_as_is", "reason": "cores taken"}
    over_time.at(60).say("disposition", by="designer", unlocked="pin", about=about)
    over_time.at(61).release("may_go", by="engineer")
    over_time.at(62).done("slack")
    assert over_time.state()["verdict"] == "concession"


def test_work_of_a_second_attempt_does_not_lapse_the_firsts_release(
    over_time: Story,
) -> None:
    attempt = rework(over_time)
    over_time.at(70).done("wipe", values={"damp": 0}, attempt=attempt)
    assert "release_lapsed" not in {f["code"] for f in over_time.state()["flags"]}


@pytest.mark.parametrize(("amended", "status"), [(1, "disposed"), (2, "open")])
def test_rework_decides_nothing_of_what_was_reported_of_no_step(
    over_time: Story, amended: int, status: str
) -> None:
    story = Story(small_sheet(amended=amended))
    crack = story.at(0.5).say(
        "nonconformance", by="foreman", about={"text": "A crack in the web"}
    )
    story.at(1).say(
        "anyway", by="foreman", step="mix", line="k1", about={"reason": "x"}
    )
    [late] = [f for f in story.at(60).state()["nonconformances"]
              if f["code"] == "clock_over"]  # fmt: skip
    about = {"target": late["id"], "verdict": "rework", "from": "wipe", "reason": "off"}
    story.say("disposition", by="designer", unlocked="pin", about=about)
    state = story.state()
    assert state["attempts"] == 2
    told = {f["id"]: f for f in state["nonconformances"]}[crack]
    assert (told["status"], bool(told["blocks"])) == (status, amended == 2)


@pytest.mark.parametrize(("amended", "status"), [(1, "disposed"), (2, "open")])
def test_rework_from_nowhere_decides_nothing(amended: int, status: str) -> None:
    story = Story(small_sheet(amended=amended))
    fault = story.at(1).say("nonconformance", by="foreman", about={"text": "A crack"})
    about = {"target": fault, "verdict": "rework", "from": "gone", "reason": "off"}
    story.at(2).say("disposition", by="designer", unlocked="pin", about=about)
    state = story.state()
    assert (state["attempts"], state["nonconformances"][0]["status"]) == (1, status)


def parted(minute: float, **values: int) -> Story:
    """Give a joint parted and cleaned before anybody decided of it, then reworked."""
    steps = {name: {**raw} for name, raw in STEPS.items()}
    steps["clean"] |= {"takes_off": ["mix"], "class": "gated"}
    story = Story(small_sheet(amended=2, steps=steps))
    story.at(1).done("wipe", values={"damp": 0})
    story.at(2).done("face", values={"hot": 200})
    story.at(3).release("may_mix")
    story.at(5).done("mix", line="k1")
    story.at(minute).done("clean", values=values)
    return story


def ordered(story: Story, minute: float) -> Story:
    fault = story.at(minute).say("nonconformance", by="second", about={"text": "Rain"})
    about = {"target": fault, "verdict": "rework", "from": "wipe", "reason": "wet"}
    story.at(minute + 1).say("disposition", by="designer", unlocked="pin", about=about)
    return story


def test_what_is_taken_off_at_once_ends_its_clock_and_is_not_taken_off_again() -> None:
    story = parted(20)
    clock = story.state(90)["clocks"]["open"]
    assert (clock["status"], clock["ended"], clock["run_ms"]) == ("met", 1, 15 * 60_000)
    assert story.state(90)["nonconformances"] == []
    state = ordered(story, 90).state()
    assert state["attempts"] == 2
    assert state["steps"]["clean"]["status"] == "done"
    assert "outlasting" not in state
    # The hours start when it was clean, not when somebody decided of it.
    assert state["holds"]["lockout"]["until"] == START_MS + (20 + DAY) * 60_000
    waits = {each["code"] for each in state["points"]["may_mix"]["refusals"]}
    assert "hold_running" in waits


def test_what_was_put_on_since_or_unseen_is_on_still() -> None:
    story = parted(20)
    story.at(21).done("mix", line="k2")
    assert story.state(90)["clocks"]["open"]["status"] == "over"
    assert ordered(story, 90).state()["steps"]["clean"]["status"] == "open"
    other = parted(20)
    other.at(19).done("mix", on="b", by="second", line="k2")
    assert other.state(90)["clocks"]["open"]["ended"] == 0
    assert ordered(other, 90).state()["steps"]["clean"]["status"] == "open"


def test_what_is_put_on_and_taken_off_again_in_the_next_attempt_is_off() -> None:
    story = ordered(parted(20), 90)
    attempt = story.state()["attempt"]
    story.at(1500).done("mix", line="k1", attempt=attempt)
    # The step counts from where it was first read, and is read there again.
    story.at(1520).done("clean")
    fault = story.at(1700).say(
        "nonconformance", by="second", attempt=attempt, about={"text": "Rain again"}
    )
    about = {"target": fault, "verdict": "rework", "from": "wipe", "reason": "wet"}
    story.say(
        "disposition", by="designer", unlocked="pin", attempt=attempt, about=about
    )
    state = story.state()
    assert state["attempts"] == 3
    assert state["steps"]["clean"]["status"] == "done"
    assert state["holds"]["lockout"]["until"] == START_MS + (1520 + DAY) * 60_000


def test_more_put_on_after_a_taking_off_wants_the_gate_anew() -> None:
    story = parted(20)
    before = story.state(21)
    assert "release_lapsed" in {each["code"] for each in before["flags"]}
    [refused] = before["steps"]["mix"]["refusals"]
    assert refused["code"] == "gate_shut"
    story.at(22).done("mix", line="k2")
    state = story.state(23)
    assert state["steps"]["mix"]["lines"]["k2"]["status"] == "anyway"
    assert [each["code"] for each in state["nonconformances"]] == ["gate_shut"]
