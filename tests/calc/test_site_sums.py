"""Extension check, grout, air test, balance, survey and wind, by hand sums."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.catalogue import run
from fieldapp.calc.refusals import CalcRefusal, OutOfTable
from fieldapp.calc.wind import HEIGHT_FACTORS

LINE = [[20, 44], [40, 91], [60, 138.5], [80, 185.5], [100, 233]]


def check(**changes: Any) -> dict[str, Any]:
    data = {"calculated_mm": 240, "readings": LINE, "band_percent": 5}
    return run("extension-check", {**data, **changes})


def straight(total_mm: float, slack_mm: float = 3) -> list[list[float]]:
    return [[f, total_mm * f / 100 - slack_mm] for f in (20, 40, 60, 80, 100)]


@given(st.floats(50, 500), st.floats(0, 9))
def test_slack_does_not_change_what_is_measured(total: float, slack: float) -> None:
    answer = check(readings=straight(total, slack))
    assert answer["measured_mm"] == pytest.approx(total)
    assert answer["two_point_mm"] == pytest.approx(total)
    assert answer["residual_mm"] == pytest.approx(0, abs=1e-9)


def test_one_bad_reading_shows_in_the_residual_and_tells_the_methods_apart() -> None:
    # Straight 2.4 mm per % with +6 mm at 100 %: mean f 60, Sff 4000;
    # slope 2.4 + 6 x 40 / 4000 = 2.46; two points 2.4 + 6 / 80 = 2.475.
    readings = [[20, 48], [40, 96], [60, 144], [80, 192], [100, 246]]
    answer = check(readings=readings)
    assert answer["measured_mm"] == pytest.approx(246)
    assert answer["two_point_mm"] == pytest.approx(247.5)
    # Mean e is 145.2; the line is 145.2 + 2.46 (f - 60): at 100 it reads 243.6.
    assert answer["residual_mm"] == pytest.approx(2.4)


@pytest.mark.parametrize(
    ("measured", "ok"),
    [(228.0, True), (252.0, True), (227.9, False), (252.1, False), (240.0, True)],
)
def test_the_band_is_inclusive(measured: float, ok: bool) -> None:
    assert check(readings=straight(measured))["ok"] is ok


@pytest.mark.parametrize(("measured", "ok"), [(22.0, True), (22.1, False)])
def test_the_floor_widens_the_band_of_a_short_tendon(measured: float, ok: bool) -> None:
    readings = straight(measured, 0)
    answer = check(calculated_mm=20, readings=readings, band_floor_mm=2)
    assert answer["ok"] is ok
    assert check(calculated_mm=20, readings=readings)["ok"] is False


def test_the_reels_own_steel_changes_what_is_calculated() -> None:
    answer = check(
        area_nominal_mm2=140,
        area_actual_mm2=143,
        modulus_nominal_gpa=195,
        modulus_actual_gpa=197,
    )
    assert answer["adjusted_calculated_mm"] == pytest.approx(
        240 * 140 * 195 / 143 / 197
    )
    expected = 100 * (236.25 / answer["adjusted_calculated_mm"] - 1)
    assert answer["difference_percent"] == pytest.approx(expected)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (
            LINE[:3],
            "readings is [[20, 44], [40, 91], [60, 138.5]]; allowed: a list of 4",
        ),
        (
            [*LINE, [100, 240]],
            (
                "readings[5] is [100, 240]; "
                "allowed: force above 100 and extension not below 233"
            ),
        ),
        (
            [*LINE, [110, 230]],
            (
                "readings[5] is [110, 230]; "
                "allowed: force above 100 and extension not below 233"
            ),
        ),
    ],
)
def test_readings_that_do_not_rise_are_refused(readings: Any, words: str) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        check(readings=readings)
    assert str(refusal.value).startswith(words)


def grout(**changes: Any) -> dict[str, Any]:
    data = {
        "duct_bore_mm": 80,
        "steel_area_mm2": 1800,
        "length_m": 30,
        "waste_ratio": 0.1,
    }
    return run("grout-volume", {**data, **changes})


def test_grout_fills_the_duct_beside_the_steel() -> None:
    # pi 80^2 / 4 = 5026.548 mm2, less 1800: 3.226548 L/m.
    answer = grout(caps_l=5, rate_m_per_min=6)
    assert answer["net_l_per_m"] == pytest.approx(3.2265482)
    assert answer["order_l"] == pytest.approx((30 * 3.2265482 + 5) * 1.1)
    assert answer["pump_l_per_min"] == pytest.approx(6 * 3.2265482)
    assert answer["fill_min"] == pytest.approx(5 + 5 / (6 * 3.2265482))
    assert "in_time" not in answer
    assert "fill_min" not in grout()


@pytest.mark.parametrize(("pumpable", "in_time"), [(5, True), (4.99, False)])
def test_filling_in_exactly_the_pumpable_life_is_in_time(
    pumpable: float, in_time: bool
) -> None:
    answer = grout(rate_m_per_min=6, pumpable_min=pumpable)
    assert answer["in_time"] is in_time


def test_steel_just_inside_the_bore_is_taken_and_just_beyond_refused() -> None:
    bore = math.pi * 80**2 / 4
    assert grout(steel_area_mm2=math.nextafter(bore, 0))["net_l"] > 0
    with pytest.raises(
        CalcRefusal, match=r"steel_area_mm2 is .*below the duct's 5026.5"
    ):
        grout(steel_area_mm2=bore)


def air(**changes: Any) -> dict[str, Any]:
    return run("air-test", {"start_kpa": 10, "end_kpa": 9.2, **changes})


def test_without_temperatures_the_raw_loss_counts() -> None:
    assert air()["loss_kpa"] == pytest.approx(0.8)
    assert air()["loss_ratio"] == pytest.approx(0.08)


def test_the_atmosphere_matters_to_the_correction() -> None:
    answer = air(start_temp_c=20, end_temp_c=18, atmospheric_kpa=90)
    corrected = 99.2 * 293.15 / 291.15 - 90
    assert answer["loss_kpa"] == pytest.approx(10 - corrected)


def test_a_gain_of_pressure_is_a_negative_loss() -> None:
    assert air(end_kpa=10.5)["loss_ratio"] == pytest.approx(-0.05)


def balance(**changes: Any) -> dict[str, Any]:
    data = {
        "arms": {
            "A": [{"weight_kn": 100, "lever_m": 10}],
            "B": [{"weight_kn": 100, "lever_m": 4}],
        },
        "limit_knm": 1000,
        "next": {
            "A": {"weight_kn": 100, "lever_m": 4},
            "B": {"weight_kn": 100, "lever_m": 16},
        },
    }
    return run("balance", {**data, **changes})


def test_limits_of_balance_are_inclusive_on_both_sides() -> None:
    answer = balance()
    assert answer["moment_knm"] == 600
    assert (answer["after_a_knm"], answer["after_b_knm"]) == (1000, -1000)
    assert (answer["allowed"], answer["reasons"]) == (["A", "B"], {})


def test_each_side_may_have_its_own_limit() -> None:
    data = {"limit_knm": None, "limit_a_knm": 999, "limit_b_knm": 1000}
    changes = {key: value for key, value in data.items() if value}
    example = {
        "arms": {
            "A": [{"weight_kn": 100, "lever_m": 10}],
            "B": [{"weight_kn": 100, "lever_m": 4}],
        },
        "next": {
            "A": {"weight_kn": 100, "lever_m": 4},
            "B": {"weight_kn": 100, "lever_m": 16},
        },
    }
    answer = run("balance", {**example, **changes})
    assert answer["allowed"] == ["B"]
    assert answer["reasons"] == {
        "A": "1000 kNm towards A after the lift, at most 999 kNm wanted"
    }


def test_a_side_without_a_next_lift_is_not_allowed() -> None:
    answer = balance(next={"A": {"weight_kn": 1, "lever_m": 1}})
    assert answer["allowed"] == ["A"]
    assert answer["after_b_knm"] is None
    assert answer["reasons"] == {"B": "no next lift is given on this side"}
    assert balance(next={})["allowed"] == []


def test_equipment_counts_on_its_arm() -> None:
    gear = [{"arm": "B", "weight_kn": 50, "lever_m": 12}]
    assert balance(equipment=gear)["moment_knm"] == 0


LOADS = st.lists(
    st.builds(
        lambda w, a: {"weight_kn": w, "lever_m": a}, st.floats(0, 900), st.floats(0, 60)
    ),
    max_size=6,
)


@given(LOADS, LOADS)
def test_balance_is_antisymmetric(one: Any, other: Any) -> None:
    this = balance(arms={"A": one, "B": other}, limit_knm=1e9)
    that = balance(arms={"A": other, "B": one}, limit_knm=1e9)
    assert this["moment_knm"] == -that["moment_knm"]


def test_a_joint_at_the_tip_moves_nothing_but_its_offset() -> None:
    answer = run(
        "tip-error",
        {
            "joints": [
                {"at_m": 10, "error_rad": 0.001},
                {"at_m": 40, "error_rad": 0.5},
            ],
            "tip_m": 40,
            "offsets_mm": [-2, 3],
            "one_sigma_rad": 0.0001,
        },
    )
    assert answer["contributions_mm"] == pytest.approx([28, 3])
    assert answer["tip_mm"] == pytest.approx(31)
    assert answer["band_mm"] == pytest.approx(3)


def test_the_band_is_the_root_of_the_sum_of_squares() -> None:
    joints = [{"at_m": 0, "error_rad": 0}, {"at_m": 10, "error_rad": 0}]
    data = {"joints": joints, "tip_m": 40, "one_sigma_rad": 0.001}
    assert run("tip-error", data)["band_mm"] == pytest.approx(50)


@pytest.mark.parametrize(("height", "factor"), HEIGHT_FACTORS.points)
def test_the_tabulated_heights_are_met_exactly(height: float, factor: float) -> None:
    answer = run("wind", {"speed_10m_m_per_s": 10, "height_m": height})
    assert answer["factor"] == factor
    assert answer["speed_m_per_s"] == pytest.approx(10 * factor)


@pytest.mark.parametrize("height", [math.nextafter(10, 0), math.nextafter(150, 999), 5])
def test_wind_beyond_the_tabulated_heights_is_refused(height: float) -> None:
    with pytest.raises(OutOfTable, match=r"height_m is .*; allowed: from 10 to 150"):
        run("wind", {"speed_10m_m_per_s": 10, "height_m": height})
