"""The window of a joint: fixed durations by hand, chance repeatable, heat refused."""

import itertools
import math
import statistics
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.catalogue import run
from fieldapp.calc.chance import mixed_words, triangular, unit_numbers
from fieldapp.calc.joint_window import percentile
from fieldapp.calc.refusals import CalcRefusal

FIXED = {"mix": [5] * 3, "spread": [10] * 3, "close": [5] * 3, "stress": [16] * 3}
FLAT = {
    "name": "N",
    "temp_min_c": 10,
    "temp_max_c": 30,
    "pot_life_table": [[10, 40], [30, 20]],
    "open_time_table": [[10, 120], [20, 60], [30, 30]],
}
DAY = [[hour, 20] for hour in range(7, 13)]


def window(**changes: Any) -> dict[str, Any]:
    data = {
        "forecast": DAY,
        "formulations": [FLAT],
        "durations_min": FIXED,
        "allowed_ratio": 0.7,
        "runs": 20,
        "seed": 1,
    }
    return run("joint-window", {**data, **changes})


def at(answer: dict[str, Any], hour: float, name: str = "N") -> dict[str, Any]:
    return next(
        row
        for row in answer["hours"]
        if row["start_hour"] == hour and row["formulation"] == name
    )


def test_fixed_durations_at_one_temperature_are_a_plain_sum() -> None:
    # 5 + 10 + 5 + 16 = 36 of 60 minutes.
    answer = window()
    assert len(answer["hours"]) == 6
    for row in answer["hours"]:
        assert row["used_ratio_p50"] == pytest.approx(0.6)
        assert row["used_ratio_p90"] == pytest.approx(0.6)
        assert row["success_ratio"] == 1
    assert answer["best_start_hour"] == 7


def test_spreading_during_mixing_saves_its_part() -> None:
    # Half of 10 minutes runs during mixing: 31 of 60.
    row = at(window(overlap_ratio=0.5), 7)
    assert row["used_ratio_p50"] == pytest.approx(31 / 60)
    # All of it cannot: mixing lasts 5 minutes only, so 5 minutes are saved.
    assert at(window(overlap_ratio=1), 7)["used_ratio_p50"] == pytest.approx(31 / 60)


@pytest.mark.parametrize(("allowed", "success"), [(0.6, 1), (0.599, 0)])
def test_the_allowed_ratio_is_inclusive(allowed: float, success: float) -> None:
    answer = window(allowed_ratio=allowed)
    assert at(answer, 7)["success_ratio"] == success
    assert answer["best_start_hour"] == (7 if success else None)


def test_mixing_and_spreading_must_end_within_the_pot_life() -> None:
    # 15 minutes of mixing and spreading; pot life at 20 C.
    enough = {**FLAT, "pot_life_table": [[10, 15], [30, 15]]}
    short = {**FLAT, "pot_life_table": [[10, 14.9], [30, 14.9]]}
    assert at(window(formulations=[enough]), 7)["success_ratio"] == 1
    assert at(window(formulations=[short]), 7)["success_ratio"] == 0


def test_the_face_must_stay_inside_the_formulation_throughout() -> None:
    # 36 minutes from 9:00 reach 23.6 C of a rise from 20 to 26 C within the hour.
    day = [[8, 20], [9, 20], [10, 26], [11, 26]]
    inside = {**FLAT, "temp_max_c": 23.6}
    outside = {**FLAT, "temp_max_c": 23.55}
    assert at(window(forecast=day, formulations=[inside]), 9)["success_ratio"] == 1
    assert at(window(forecast=day, formulations=[outside]), 9)["success_ratio"] == 0
    assert at(window(forecast=day, formulations=[outside]), 8)["success_ratio"] == 1


def test_a_face_hotter_than_its_table_never_succeeds() -> None:
    day = [[7, 31], [8, 31], [9, 31]]
    hot = {**FLAT, "temp_max_c": 35}
    answer = window(forecast=day, formulations=[hot], allowed_ratio=1)
    assert at(answer, 7)["used_ratio_p50"] >= 1
    assert at(answer, 7)["success_ratio"] == 0


def test_colder_than_the_table_counts_its_coldest_life() -> None:
    cold = {**FLAT, "temp_min_c": 0}
    row = at(window(forecast=[[7, 4], [9, 4]], formulations=[cold]), 7)
    assert row["used_ratio_p50"] == pytest.approx(36 / 120)


def test_the_face_runs_behind_the_air() -> None:
    # At 9:00 the air is 26 C, the face still has the 20 C of 8:00.
    day = [[7, 20], [8, 20], [8.999, 20], [9, 26], [12, 26]]
    row = at(window(forecast=day, lag_h=1), 9)
    early = at(window(forecast=day, lag_h=0), 8)
    assert row["used_ratio_p50"] == pytest.approx(early["used_ratio_p50"])


def test_work_past_the_forecast_is_marked_and_never_the_best() -> None:
    answer = window(forecast=[[7, 29], [8, 29], [9, 12]])
    assert at(answer, 9)["past_forecast"] is True
    assert at(answer, 9)["success_ratio"] == 1
    assert answer["best_start_hour"] is None
    assert at(answer, 8)["past_forecast"] is False


@pytest.mark.parametrize(
    ("hours", "starts"),
    [
        ([6, 9, 9.5], [6, 7, 8, 9, 9.5]),
        ([6, 8, 10, 12], [6, 7, 8, 9, 10, 11, 12]),
        ([6.5, 9.25, 11], [6.5, 7, 8, 9, 9.25, 10, 11]),
        ([6, 7, 8], [6, 7, 8]),
        ([-1.5, 1], [-1.5, -1, 0, 1]),
        ([7], [7]),
    ],
)
def test_hours_left_out_by_the_forecast_are_asked_for_once_each(
    hours: list[float], starts: list[float]
) -> None:
    answer = window(forecast=[[hour, 20] for hour in hours])
    assert [row["start_hour"] for row in answer["hours"]] == starts


def test_the_formulation_that_fits_the_hour_is_found() -> None:
    day = [[6, 12], [7, 12], [8, 12], [12, 28], [13, 28], [14, 28]]
    cool = {
        **FLAT,
        "name": "cool",
        "temp_max_c": 20,
        "open_time_table": [[5, 90], [20, 60]],
    }
    warm = {
        **FLAT,
        "name": "warm",
        "temp_min_c": 20,
        "open_time_table": [[20, 90], [30, 60]],
    }
    answer = window(forecast=day, formulations=[cool, warm])
    assert at(answer, 7, "cool")["success_ratio"] == 1
    assert at(answer, 7, "warm")["success_ratio"] == 0
    assert at(answer, 13, "cool")["success_ratio"] == 0
    assert at(answer, 13, "warm")["success_ratio"] == 1


SPREAD = {
    "mix": [4, 5, 9],
    "spread": [8, 12, 20],
    "close": [3, 5, 9],
    "stress": [8, 12, 20],
}


def test_the_same_seed_gives_the_same_day_and_another_seed_another() -> None:
    one = window(durations_min=SPREAD, runs=200)
    assert window(durations_min=SPREAD, runs=200) == one
    assert window(durations_min=SPREAD, runs=200, seed=2) != one


def test_chance_agrees_with_the_means_of_the_triangles() -> None:
    # Means (4+5+9)/3 + (8+12+20)/3 + (3+5+9)/3 + (8+12+20)/3 = 38.333 minutes.
    row = at(window(durations_min=SPREAD, runs=4000), 7)
    assert row["used_ratio_p50"] == pytest.approx(38.333 / 60, rel=0.02)
    assert row["used_ratio_p50"] < row["used_ratio_p90"]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"forecast": [[7, 20], [7, 21]]},
            "forecast[1] is [7, 21]; allowed: an hour above 7",
        ),
        (
            {"durations_min": {**FIXED, "mix": [5, 4, 6]}},
            (
                "durations_min.mix is [5, 4, 6]; "
                "allowed: least, likely and most, none below the one before"
            ),
        ),
        (
            {"formulations": [FLAT, FLAT]},
            "formulations[1].name is 'N'; allowed: a name of its own",
        ),
        (
            {"formulations": [{**FLAT, "temp_max_c": 10}]},
            "formulations[0].temp_max_c is 10; allowed: above temp_min_c, 10",
        ),
        (
            {"formulations": [{**FLAT, "pot_life_table": [[10, 20], [30, 40]]}]},
            (
                "formulations[0].pot_life_table[1] is [30, 40]; "
                "allowed: a life of 20 or less: hotter is never longer"
            ),
        ),
        (
            {"allowed_ratio": 1.2},
            "allowed_ratio is 1.2; allowed: a finite number, above 0 and up to 1 ratio",
        ),
        ({"runs": 0}, "runs is 0; allowed: a whole number, above 0 and up to 100000"),
    ],
)
def test_a_day_that_cannot_be_is_refused(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        window(**changes)
    assert str(refusal.value) == words


def test_the_words_of_the_generator_are_the_published_ones() -> None:
    # SplitMix64 with seed 1234567: the five first words, as widely published for
    # checking this generator (from memory).
    assert list(itertools.islice(mixed_words(1234567), 5)) == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]


def test_the_numbers_are_spread_evenly() -> None:
    numbers = list(itertools.islice(unit_numbers(3), 20_000))
    assert statistics.fmean(numbers) == pytest.approx(0.5, abs=0.01)
    assert statistics.pvariance(numbers) == pytest.approx(1 / 12, abs=0.002)


@given(st.floats(0, 1), st.floats(1, 5), st.floats(0, 5), st.floats(0, 5))
def test_a_triangle_stays_within_its_ends(
    unit: float, least: float, up: float, more: float
) -> None:
    value = triangular(unit, least, least + up, least + up + more)
    assert least - 1e-9 <= value <= least + up + more + 1e-9


def test_a_triangle_has_its_mean_and_its_fixed_case() -> None:
    values = [triangular((i + 0.5) / 1000, 2, 3, 7) for i in range(1000)]
    assert statistics.fmean(values) == pytest.approx(4, abs=0.001)
    assert triangular(0.3, 4, 4, 4) == 4


def test_percentiles_run_straight_between_ranked_values() -> None:
    assert percentile([4, 1, 3, 2], 0.5) == 2.5
    assert percentile([1, 2, 3, 4, 5], 0.9) == pytest.approx(4.6)
    assert percentile([7], 0.9) == 7
    assert math.isclose(percentile([1, 2], 0), 1)


def test_a_forecast_longer_than_a_week_is_refused() -> None:
    assert len(window(forecast=[[0, 20], [168, 20]])["hours"]) == 169
    with pytest.raises(CalcRefusal) as refusal:
        window(forecast=[[0, 20], [168.5, 20]])
    assert str(refusal.value) == (
        "forecast is '168.5 hours long'; allowed: at most 168 hours from first to last"
    )


def test_work_longer_than_a_day_is_refused() -> None:
    with pytest.raises(CalcRefusal) as refusal:
        window(durations_min={**FIXED, "close": [5, 6, 1441]})
    assert refusal.value.key == "durations_min.close"
    assert refusal.value.allowed == "at most 1440 minutes, a day"
