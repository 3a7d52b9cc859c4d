"""Force and pressure of a jack by its certificate, and only inside it."""

import math

import pytest

from fieldapp.calc.jack import (
    fit_calibration,
    force_from_pressure_kn,
    interpolated_force_kn,
    interpolated_pressure_bar,
    pressure_from_force_bar,
    set_pressure_bar,
)
from fieldapp.calc.refusals import CalcRefusal, OutOfTable

STRAIGHT = fit_calibration([(100, 198), (200, 398), (300, 598)])
BENT = fit_calibration([(0, 0), (100, 210), (200, 400), (300, 590)])


def test_a_straight_certificate_is_met_exactly() -> None:
    assert STRAIGHT.slope_kn_per_bar == pytest.approx(2)
    assert STRAIGHT.intercept_kn == pytest.approx(-2)
    assert STRAIGHT.fit_residual_percent == pytest.approx(0, abs=1e-12)
    assert force_from_pressure_kn(STRAIGHT, 250) == pytest.approx(498)
    assert pressure_from_force_bar(STRAIGHT, 498) == pytest.approx(250)


def test_a_bent_certificate_shows_its_largest_departure() -> None:
    # Sums by hand: mean p 150, mean F 300, Sxx 50 000, Sxy 98 000: slope 1.96,
    # intercept 6; residuals -6, +8, +2, -4 kN; 8 of 590 is 1.356 %.
    assert BENT.slope_kn_per_bar == pytest.approx(1.96)
    assert BENT.intercept_kn == pytest.approx(6)
    assert BENT.fit_residual_percent == pytest.approx(800 / 590)
    assert interpolated_force_kn(BENT, 150) == pytest.approx(305)
    assert interpolated_pressure_bar(BENT, 305) == pytest.approx(150)


@pytest.mark.parametrize("pressure", [100, 300])
def test_both_ends_of_the_certificate_are_answered(pressure: float) -> None:
    force = force_from_pressure_kn(STRAIGHT, pressure)
    assert force == pytest.approx(2 * pressure - 2)


@pytest.mark.parametrize("beyond", [math.nextafter(100, 0), math.nextafter(300, 999)])
def test_pressure_just_outside_the_certificate_is_refused(beyond: float) -> None:
    with pytest.raises(OutOfTable, match=r"pressure_bar is .*allowed: from 100 to 300"):
        force_from_pressure_kn(STRAIGHT, beyond)


@pytest.mark.parametrize("beyond", [math.nextafter(198, 0), math.nextafter(598, 999)])
def test_force_just_outside_the_certificate_is_refused(beyond: float) -> None:
    with pytest.raises(OutOfTable, match=r"force_kn is .*allowed: from 198 to 598"):
        pressure_from_force_bar(STRAIGHT, beyond)


@pytest.mark.parametrize(
    ("pressure", "graduation", "mark"),
    [(252, 5, 250), (252.5, 5, 255), (299, 20, 300), (100, 70, 140), (300, 70, 280)],
)
def test_the_gauge_is_set_to_the_nearest_mark_inside_the_certificate(
    pressure: float, graduation: float, mark: float
) -> None:
    assert set_pressure_bar(STRAIGHT, pressure, graduation) == mark


@pytest.mark.parametrize(("pressure", "graduation"), [(0.3, 0.1), (0.6, 0.2)])
def test_a_mark_at_an_end_of_the_certificate_is_inside(
    pressure: float, graduation: float
) -> None:
    # 0.3 / 0.1 and 0.6 / 0.2 are a little less than 3 in binary fractions.
    narrow = fit_calibration([(0.3, 3), (0.6, 6)])
    assert set_pressure_bar(narrow, pressure, graduation) == pytest.approx(pressure)


def test_a_gauge_without_a_mark_inside_the_certificate_is_refused() -> None:
    with pytest.raises(CalcRefusal) as refusal:
        set_pressure_bar(STRAIGHT, 200, 350)
    assert str(refusal.value) == (
        "graduation_bar is 350; allowed: a mark between 100 and 300 bar"
    )


@pytest.mark.parametrize(
    ("points", "key"),
    [
        ([(100, 200)], "calibration"),
        ([(100, 200), (100, 300)], "calibration[1]"),
        ([(100, 200), (200, 200)], "calibration[1]"),
        ([(100, 200), (200, 300), (300, 250)], "calibration[2]"),
    ],
)
def test_a_certificate_that_does_not_rise_is_refused(
    points: list[tuple[float, float]], key: str
) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        fit_calibration(points)
    assert refusal.value.key == key
