"""No clock orders anything; times measure durations, on the safe side."""

import random

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.core.clocks import OVER_MS, Knot, Moment, elapsed_ms, run_life
from fieldapp.core.fold import fold
from tests.core.small import LIFE, small_sheet
from tests.core.story import START_MS, Story

YEARS_MS = 3 * 365 * 24 * 3_600_000
MIN = 60_000


def wall(at: int, **parts: object) -> Moment:
    return Moment(**{"at": at, "session": None, "mono": None, "offset": None, **parts})


def test_in_one_session_use_by_takes_the_larger_and_not_before_the_smaller() -> None:
    start = wall(0, session="d/s", mono=0)
    end = wall(10 * MIN, session="d/s", mono=12 * MIN)
    assert elapsed_ms(start, end, use_by=True) == 12 * MIN
    assert elapsed_ms(start, end, use_by=False) == 10 * MIN


def test_across_devices_the_offsets_correct_a_wrong_clock() -> None:
    start = wall(0, session="a/s", mono=0, offset=YEARS_MS)
    end = wall(YEARS_MS + 10 * MIN, session="b/s", mono=5, offset=0)
    assert elapsed_ms(start, end, use_by=False) == 10 * MIN
    assert elapsed_ms(start, end, use_by=True) == YEARS_MS + 10 * MIN


def test_without_an_offset_only_the_wall_difference_is_known() -> None:
    start = wall(0, session="a/s", mono=0)
    end = wall(7 * MIN, session="b/s", mono=99)
    assert elapsed_ms(start, end, use_by=True) == 7 * MIN


def test_an_unknown_time_counts_as_over_for_use_by_and_not_begun_for_holds() -> None:
    start = wall(0)
    end = wall(MIN, unknown=True)
    assert elapsed_ms(start, end, use_by=True) == OVER_MS
    assert elapsed_ms(start, end, use_by=False) == 0


def test_a_flat_life_of_an_hour_is_half_used_after_half_an_hour() -> None:
    life = run_life(LIFE, [Knot(-MIN, 200)], age_ms=60 * MIN)
    top, bottom = life.used(30 * MIN)
    assert top / bottom == pytest.approx(0.5, abs=1e-8)
    assert life.deadline_ms(7, 10) == pytest.approx(42 * MIN, abs=1)
    assert life.deadline_ms(7, 10) <= 42 * MIN


SLOPED = {
    "temps": [100, 200, 300],
    "rates": [1000, 2000, 4000],
    "certified": [100, 200, 300],
}


def test_between_two_readings_the_mean_of_both_rates_counts() -> None:
    # 10 ms at the mean of 1000 and 2000: 15,000e-15.
    life = run_life(SLOPED, [Knot(0, 100), Knot(10, 200)], age_ms=100)
    top, bottom = life.used(10)
    assert top * 10**15 == 15_000 * bottom


def test_across_a_certified_temperature_the_hotter_rate_counts() -> None:
    # 150 -> 1500, 250 -> 3000; 200 lies strictly between, so 3000 for 10 ms.
    life = run_life(SLOPED, [Knot(0, 150), Knot(10, 250)], age_ms=100)
    top, bottom = life.used(10)
    assert top * 10**15 == 30_000 * bottom


def test_a_stale_reading_counts_as_the_hottest_certified_one() -> None:
    # 100 -> 1000 for 5 ms, then 4000 for 5 ms: 25,000e-15.
    life = run_life(SLOPED, [Knot(0, 100)], age_ms=5)
    top, bottom = life.used(10)
    assert top * 10**15 == 25_000 * bottom


def test_without_any_reading_the_hottest_certified_rate_counts() -> None:
    top, bottom = run_life(SLOPED, [], age_ms=5).used(10)
    assert top * 10**15 == 40_000 * bottom


def test_below_the_table_the_coldest_life_counts_and_alarms() -> None:
    life = run_life(SLOPED, [Knot(0, 50)], age_ms=100)
    top, bottom = life.used(10)
    assert (top * 10**15, life.alarm) == (10_000 * bottom, "below")


def test_above_the_table_the_life_is_spent_from_the_reading_before() -> None:
    life = run_life(SLOPED, [Knot(0, 100), Knot(10, 200), Knot(20, 301)], age_ms=100)
    assert life.alarm == "above"
    assert life.deadline_ms(1, 1) == 10
    assert life.used(10) == (1, 1)
    assert life.used(9)[0] < life.used(9)[1]


def test_above_the_table_the_life_is_spent_when_it_was_read_so() -> None:
    knots = [Knot(0, 100), Knot(10, 200), Knot(20, 301)]
    life = run_life(SLOPED, knots, age_ms=100, spent_when_read=True)
    assert (life.spent_ms, life.alarm) == (20, "above")
    assert life.deadline_ms(7, 10) == life.deadline_ms(1, 1) == 20


def test_above_the_table_a_life_used_up_before_was_over_before() -> None:
    knots = [Knot(0, 200), Knot(10**7, 301)]
    life = run_life(LIFE, knots, age_ms=10**8, spent_when_read=True)
    assert life.deadline_ms(1, 1) < 10**7 == life.spent_ms


def test_a_phone_whose_clock_is_years_off_leads_to_the_same_state() -> None:
    states = []
    for error in (0, YEARS_MS, -YEARS_MS):
        story = Story(small_sheet())
        story.phone("a").error_ms = error
        story.phone("a").offset = -error
        story.at(1).done("wipe", values={"damp": 0})
        story.at(2).done("face", values={"hot": 200})
        story.at(3).release("may_mix")
        story.at(5).done("mix", line="k1")
        now = {"at": START_MS + 9 * MIN, "offset": 0}
        state = fold(story.sheet, story.entries.values(), story.standing(), now)
        run_ms = state["clocks"]["open"]["run_ms"]
        states.append((state["points"]["may_mix"]["status"], run_ms >= 4 * MIN))
    assert states == [("released", True)] * 3


def test_a_clock_behind_after_a_restart_is_over_until_a_second_phone_confirms() -> None:
    story = Story(small_sheet())
    story.at(1).done("face", values={"hot": 200})
    story.at(5).done("mix", line="k1")
    phone = story.phone("a")
    phone.session, phone.error_ms = "s2", -YEARS_MS
    for line in ("b1r1", "b2r1", "b1r2", "b2r2"):
        story.at(9).done("bars", line=line, values={"force": 300})
    state = story.state()
    assert "time_unknown" in {f["code"] for f in state["flags"]}
    assert state["clocks"]["open"]["status"] == "over"
    story.sync("a", "b")
    story.at(10).say("note", by="second", on="b", about={"text": "it is so"})
    assert "time_unknown" not in {f["code"] for f in story.state()["flags"]}


def test_a_start_may_be_stated_earlier_than_the_tap_but_never_later() -> None:
    story = Story(small_sheet())
    story.at(10).done("mix", line="k1", ago=4)
    assert story.state()["clocks"]["open"]["start"] == START_MS + 6 * MIN
    story = Story(small_sheet())
    story.at(10).done("mix", line="k1", ago=-4)
    state = story.state()
    assert state["clocks"]["open"]["start"] == START_MS + 10 * MIN
    assert "stated_later" in {f["code"] for f in state["flags"]}


def test_the_earliest_start_wins_whichever_phone_recorded_it() -> None:
    story = Story(small_sheet())
    story.at(10).done("mix", line="k1", on="a")
    story.at(12).done("mix", line="k2", by="second", on="b", ago=5)
    assert story.state()["clocks"]["open"]["start"] == START_MS + 7 * MIN


def test_a_correction_moves_a_start_earlier_and_never_later() -> None:
    for stated, start in ((8, 8), (12, 10)):
        story = Story(small_sheet())
        kit = story.at(10).done("mix", line="k1")
        about = {"target": kit, "reason": "watch", "at": START_MS + stated * MIN}
        story.at(20).say("correction", by="foreman", step="mix", about=about)
        assert story.state()["clocks"]["open"]["start"] == START_MS + start * MIN


def test_order_and_repetition_change_nothing() -> None:
    story = Story(small_sheet())
    story.at(1).done("wipe", on="a", values={"damp": 0})
    story.at(1).done("wipe", by="second", on="b", values={"damp": 1})
    story.sync()
    story.at(2).done("wipe", on="b", by="second", values={"damp": 0})
    story.at(3).done("face", on="a", values={"hot": 200})
    story.sync()
    story.at(4).release("may_mix", on="b")
    story.at(5).done("mix", line="k1", on="b")
    expected = canonical(story.state())
    draw = random.Random(7)
    for _ in range(20):
        entries = list(story.entries.values()) * 2
        draw.shuffle(entries)
        now = {"at": START_MS + 5 * MIN}
        state = fold(story.sheet, entries, story.standing(), now)
        assert canonical(state) == expected
