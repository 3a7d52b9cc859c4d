"""The dew point within its stated range, and the coldest surface above it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.dew_point import dew_point_c, surface_margin
from fieldapp.calc.refusals import CalcRefusal, OutOfTable


@given(st.floats(-45, 60))
def test_saturated_air_returns_its_own_temperature_exactly(temp_c: float) -> None:
    assert dew_point_c(temp_c, 100) == temp_c


@given(st.floats(-45, 60), st.floats(1, 99), st.floats(0.01, 1))
def test_damper_air_has_a_higher_dew_point(
    temp_c: float, humidity: float, more: float
) -> None:
    assert dew_point_c(temp_c, humidity) < dew_point_c(temp_c, humidity + more)


@pytest.mark.parametrize("ends_c", [-45, 60])
def test_both_ends_of_the_air_range_are_answered(ends_c: float) -> None:
    assert dew_point_c(ends_c, 50) < ends_c


@pytest.mark.parametrize(
    "beyond_c", [math.nextafter(-45, -99), math.nextafter(60, 99), math.nan]
)
def test_air_just_beyond_the_range_is_refused(beyond_c: float) -> None:
    with pytest.raises(OutOfTable, match=r"air_temp_c is .*allowed: from -45 to 60"):
        dew_point_c(beyond_c, 50)


@pytest.mark.parametrize(
    "humidity", [5e-324, 0, -1, math.nextafter(100, 101), math.nan]
)
def test_impossible_humidity_is_refused(humidity: float) -> None:
    with pytest.raises(
        CalcRefusal, match=r"humidity_percent is .*allowed: above 0 and up to 100"
    ):
        dew_point_c(20, humidity)


def test_the_margin_is_taken_at_the_coldest_surface() -> None:
    margin = surface_margin(9.0, [14.0, 12.5, 13.0])
    assert (margin.coldest_c, margin.margin_c, margin.frost) == (12.5, 3.5, False)


@pytest.mark.parametrize(("coldest_c", "frost"), [(0.0, True), (0.01, False)])
def test_frost_begins_at_zero(coldest_c: float, frost: bool) -> None:
    assert surface_margin(-5.0, [coldest_c]).frost is frost
