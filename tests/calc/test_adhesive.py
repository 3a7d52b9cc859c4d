"""The adhesive's clock: rates between readings, alarms outside the table, kits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.adhesive import (
    AdhesiveQuantity,
    adhesive_quantity,
    life_clock,
    minute_at_ratio,
    used_ratio,
)
from fieldapp.calc.catalogue import run
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.tables import LifeTable

TABLE = LifeTable(points=((10.0, 120.0), (20.0, 60.0), (30.0, 30.0)))


def test_at_one_temperature_the_clock_is_a_straight_line() -> None:
    clock = life_clock(TABLE, ((0, 20.0),))
    assert used_ratio(clock, 30) == pytest.approx(0.5)
    assert minute_at_ratio(clock, 0.7) == pytest.approx(42)
    assert clock.alarm is None


def test_within_a_stretch_of_the_table_the_mean_of_the_rates_counts() -> None:
    # 20 and 30 C: rates 1/60 and 1/30, mean 1/40; 20 minutes use half the life.
    clock = life_clock(TABLE, ((0, 20.0), (20, 30.0)))
    assert used_ratio(clock, 20) == pytest.approx(0.5)
    # Then on at 1/30 a minute: half a life is 15 minutes more.
    assert minute_at_ratio(clock, 1) == pytest.approx(35)


def test_across_an_inner_certified_point_the_hotter_rate_counts() -> None:
    # 15 and 25 C lie either side of 20 C; the rate at 25 C is 1/sqrt(60 x 30).
    clock = life_clock(TABLE, ((0, 25.0), (10, 15.0)))
    assert used_ratio(clock, 10) == pytest.approx(10 / math.sqrt(1800))


def test_an_end_of_the_table_is_no_inner_point() -> None:
    # 5 C counts as 10 C (1/120), 20 C is 1/60: mean 1/80, though 10 lies between.
    clock = life_clock(TABLE, ((0, 5.0), (8, 20.0)))
    assert used_ratio(clock, 8) == pytest.approx(0.1)
    assert clock.alarm == "below"


def test_colder_than_the_table_never_lengthens_the_life() -> None:
    clock = life_clock(TABLE, ((0, -20.0),))
    assert minute_at_ratio(clock, 1) == 120
    assert clock.alarm == "below"


def test_hotter_than_the_table_spends_the_life_from_the_reading_before() -> None:
    clock = life_clock(TABLE, ((0, 20.0), (6, 20.0), (12, 30.5)))
    assert used_ratio(clock, 5.999) == pytest.approx(5.999 / 60)
    assert used_ratio(clock, 6) >= 1
    assert minute_at_ratio(clock, 0.7) == 6
    assert minute_at_ratio(clock, 0.05) == pytest.approx(3)
    assert clock.alarm == "above"


def test_a_first_reading_above_the_table_spends_the_life_at_once() -> None:
    clock = life_clock(TABLE, ((0, 31.0), (10, 20.0)))
    assert used_ratio(clock, 0) >= 1
    assert minute_at_ratio(clock, 1) == 0


def test_heat_is_the_graver_alarm() -> None:
    assert life_clock(TABLE, ((0, 5.0), (9, 31.0))).alarm == "above"


@pytest.mark.parametrize("end_c", [10, 30])
def test_both_ends_of_the_table_raise_no_alarm(end_c: float) -> None:
    assert life_clock(TABLE, ((0, end_c),)).alarm is None


@given(
    st.lists(st.floats(0, 40), min_size=1, max_size=8),
    st.lists(st.floats(0.01, 30), min_size=8, max_size=8),
    st.tuples(st.floats(0, 300), st.floats(0, 300)),
)
def test_life_used_never_falls(
    temps: list[float], gaps: list[float], minutes: tuple[float, float]
) -> None:
    times = [sum(gaps[:index]) for index in range(len(temps))]
    clock = life_clock(TABLE, tuple(zip(times, temps, strict=True)))
    early, late = sorted(minutes)
    assert used_ratio(clock, early) <= used_ratio(clock, late) * (1 + 1e-12)


@given(
    st.lists(st.floats(5, 30), min_size=1, max_size=8),
    st.floats(0.01, 3),
)
def test_the_minute_of_a_ratio_and_the_ratio_at_a_minute_agree(
    temps: list[float], ratio: float
) -> None:
    clock = life_clock(TABLE, tuple((7.5 * i, t) for i, t in enumerate(temps)))
    assert used_ratio(clock, minute_at_ratio(clock, ratio)) == pytest.approx(ratio)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ((), "temperatures is []; allowed: one reading or more, the first at 0"),
        (((1.0, 20.0),), "temperatures[0] is [1, 20]; allowed: minute 0 first"),
        (
            ((0.0, 20.0), (0.0, 21.0)),
            "temperatures[1] is [0, 21]; allowed: a minute above 0",
        ),
    ],
)
def test_readings_out_of_order_are_refused(
    readings: tuple[tuple[float, float], ...], words: str
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        life_clock(TABLE, readings)
    assert str(refusal.value) == words


def test_a_time_before_the_first_kit_is_refused() -> None:
    with pytest.raises(CalcRefusal, match="at_minute is -1; allowed: 0 or above"):
        used_ratio(life_clock(TABLE, ((0, 20.0),)), -1)


def quantity(order_kg: float, kit_kg: float) -> AdhesiveQuantity:
    return adhesive_quantity(
        area_m2=order_kg,
        thickness_mm=1,
        faces=1,
        density_kg_per_l=1,
        waste_ratio=0,
        kit_kg=kit_kg,
    )


@pytest.mark.parametrize(
    ("order_kg", "kit_kg", "kits"),
    [(30, 5, 6), (30.000000000000004, 5, 6), (30.001, 5, 7), (0.1, 5, 1), (1e-9, 5, 1)],
)
def test_kits_are_whole_and_blind_to_rounding(
    order_kg: float, kit_kg: float, kits: int
) -> None:
    assert quantity(order_kg, kit_kg).kits == kits


@pytest.mark.parametrize(
    ("temps_c", "alarm"),
    [([15, 25], None), ([10, 30], None), ([9.9, 25], "below"), ([25, 30.1], "above")],
)
def test_the_answer_has_an_alarm_only_where_there_is_one(
    temps_c: list[float], alarm: str | None
) -> None:
    answer = run(
        "adhesive-life",
        {
            "life_table": [[10, 120], [20, 60], [30, 30]],
            "temperatures": [[0, temps_c[0]], [10, temps_c[1]]],
        },
    )
    assert answer.get("alarm", "no key") == (alarm or "no key")
