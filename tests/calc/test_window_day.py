"""The temperatures of one start: heat counts from its own minute, no peak is missed."""

import pytest

from fieldapp.calc.refusals import CalcRefusal
from tests.calc.test_joint_window import FIXED, FLAT, at, window


@pytest.mark.parametrize(("stress_min", "success"), [(10.4, 1), (10.6, 0)])
def test_heat_that_comes_after_the_work_does_not_spend_its_life(
    stress_min: float, success: float
) -> None:
    # From 9:00 at 24 C by 16 C an hour: 30 C, the table's end, at minute 22.5, between
    # the readings of minutes 20 and 25. The work ends at 12 minutes and the stressing.
    day = [[8, 20], [9, 24], [10, 40], [11, 40]]
    works = {"mix": 2, "spread": 5, "close": 5, "stress": stress_min}
    durations = {work: [length] * 3 for work, length in works.items()}
    row = at(window(forecast=day, durations_min=durations), 9)
    assert row["success_ratio"] == success
    assert (row["used_ratio_p90"] < 0.7) == bool(success)


def test_air_that_passes_the_pot_lifes_table_counts_from_that_minute() -> None:
    # 16 minutes of mixing and spreading; the air passes 30 C at minute 16.25.
    day = [[8, 20], [9, 23.5], [10, 47.5], [12, 47.5]]
    wide = {**FLAT, "temp_max_c": 60, "open_time_table": [[10, 400], [60, 300]]}
    for mix_min, success in ((6, 1), (6.5, 0)):
        durations = {**FIXED, "mix": [mix_min] * 3}
        answer = window(forecast=day, formulations=[wide], durations_min=durations)
        assert at(answer, 9)["success_ratio"] == success


def test_a_peak_between_two_readings_is_not_passed_over() -> None:
    # At 9:03 the air is 29 C, at 9:00 and 9:05 it is 20 and 23 C.
    day = [[8, 20], [9, 20], [9.05, 29], [9.1, 20], [11, 20]]
    for most_c, success in ((28, 0), (29.5, 1)):
        narrow = {**FLAT, "temp_max_c": most_c}
        row = at(window(forecast=day, formulations=[narrow]), 9)
        assert row["success_ratio"] == success


def test_the_best_start_is_the_surest_and_not_the_one_that_uses_least() -> None:
    # Mixing from 2 to 10 minutes and 10 of spreading: half of them within 16 minutes.
    sure = {**FLAT, "name": "sure"}
    lively = {
        **FLAT,
        "name": "lively",
        "pot_life_table": [[10, 16], [30, 16]],
        "open_time_table": [[10, 300], [30, 300]],
    }
    answer = window(
        formulations=[lively, sure], durations_min={**FIXED, "mix": [2, 6, 10]}, runs=99
    )
    first, second = at(answer, 7, "lively"), at(answer, 7, "sure")
    assert 0.3 < first["success_ratio"] < 0.7 < second["success_ratio"]
    assert first["used_ratio_p90"] < second["used_ratio_p90"]
    assert answer["best_formulation"] == "sure"


def test_each_run_is_judged_to_its_own_end() -> None:
    # Heat of 30 C comes at minute 40; a run ends 20 minutes and its stressing after
    # the first kit, so that those with up to 20 minutes succeed: F(20) = 15 / 55.
    day = [[8, 20], [9, 20], [9.6, 20], [9.7, 35], [12, 35]]
    durations = {**FIXED, "stress": [5, 20, 60]}
    answer = window(forecast=day, durations_min=durations, allowed_ratio=1, runs=2_000)
    assert at(answer, 9)["success_ratio"] == pytest.approx(15 / 55, abs=0.04)


def test_more_joints_than_are_drawn_in_seconds_are_refused() -> None:
    day = [[hour, 20] for hour in range(31)]
    both = [FLAT, {**FLAT, "name": "other"}]
    with pytest.raises(CalcRefusal) as refusal:
        window(forecast=day, formulations=both, runs=100_000)
    assert str(refusal.value) == (
        "runs is 100000; allowed: at most 80645 for 62 starts"
    )


def test_a_week_is_counted_from_its_first_hour_to_its_last() -> None:
    late = window(forecast=[[100, 20], [101, 20], [240, 20]], runs=1)
    assert late["hours"][-1]["start_hour"] == 240
    with pytest.raises(CalcRefusal, match="174 hours long"):
        window(forecast=[[-24, 20], [150, 20]])
