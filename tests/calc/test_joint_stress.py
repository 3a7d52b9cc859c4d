"""Stress on a joint's face: signs, lost bars, limits and caps."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.calc.joint_stress import (
    Bar,
    StressLimits,
    cap_reasons,
    face_stress,
    headroom_kn,
    influence_mpa_per_kn,
    limit_reasons,
    lose_bars,
    stress_at_mpa,
    stress_plane,
    worst_of,
)
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.section import section_properties

RECTANGLE = ((0.0, 0.0), (2.0, 0.0), (2.0, 4.0), (0.0, 4.0))
ANGLE = ((0.0, 0.0), (6.0, 0.0), (6.0, 0.3), (0.4, 0.5), (0.3, 3.0), (0.0, 3.0))
BARS = (Bar(x_m=0.2, y_m=2.0, force_kn=300.0), Bar(x_m=4.0, y_m=0.2, force_kn=450.0))
FORCES = st.floats(0, 1e4)


def test_a_bar_above_the_middle_presses_the_upper_edge() -> None:
    # 800 kN on 8 m2 is 0.1 MPa; e 0.5 m: M y / I = 400 x 2 / 10.667 = 75 kPa.
    section = section_properties(RECTANGLE)
    bars = (Bar(x_m=1, y_m=2.5, force_kn=800.0),)
    face = face_stress(section, RECTANGLE, stress_plane(section, bars))
    assert [c.stress_mpa for c in face.corners] == pytest.approx(
        [0.025, 0.025, 0.175, 0.175]
    )
    assert (face.mean_mpa, face.spread_mpa) == pytest.approx((0.1, 0.15))


def test_a_bar_to_the_right_presses_the_right_edge() -> None:
    # e 0.25 m: M x / I = 200 x 1 / 2.6667 = 75 kPa.
    section = section_properties(RECTANGLE)
    bars = (Bar(x_m=1.25, y_m=2, force_kn=800.0),)
    face = face_stress(section, RECTANGLE, stress_plane(section, bars))
    assert [c.stress_mpa for c in face.corners] == pytest.approx(
        [0.025, 0.175, 0.175, 0.025]
    )


def test_hung_weight_is_a_negative_moment_and_may_open_the_upper_edge() -> None:
    # 0.1 MPa less 800 x 2 / 10.667 = 150 kPa at the top: tension, reported.
    section = section_properties(RECTANGLE)
    bars = (Bar(x_m=1, y_m=2, force_kn=800.0),)
    plane = stress_plane(section, bars, moment_x_knm=-800.0)
    assert stress_at_mpa(section, plane, 1, 4) == pytest.approx(-0.05)
    assert stress_at_mpa(section, plane, 1, 0) == pytest.approx(0.25)


def test_stress_of_a_crooked_section_is_in_balance_with_its_bars() -> None:
    # Integrated over the face the plane must give back force and both moments:
    # int(s y) = slope_y Ixx + slope_x Ixy, int(s x) = slope_x Iyy + slope_y Ixy.
    section = section_properties(ANGLE)
    plane = stress_plane(section, BARS, 12.0, -7.0)
    about_x = plane.slope_y_mpa_per_m * section.ixx_m4
    about_x += plane.slope_x_mpa_per_m * section.ixy_m4
    about_y = plane.slope_x_mpa_per_m * section.iyy_m4
    about_y += plane.slope_y_mpa_per_m * section.ixy_m4
    assert abs(section.ixy_m4) > 0.1
    assert 1000 * about_x == pytest.approx(plane.moment_x_knm)
    assert 1000 * about_y == pytest.approx(plane.moment_y_knm)


@given(st.lists(FORCES, min_size=2, max_size=2), st.floats(-1e3, 1e3))
def test_doubling_all_forces_doubles_the_stress(
    forces: list[float], moment: float
) -> None:
    section = section_properties(ANGLE)
    once = tuple(
        Bar(x_m=b.x_m, y_m=b.y_m, force_kn=f) for b, f in zip(BARS, forces, strict=True)
    )
    twice = tuple(Bar(x_m=b.x_m, y_m=b.y_m, force_kn=2 * b.force_kn) for b in once)
    one = face_stress(section, ANGLE, stress_plane(section, once, moment))
    two = face_stress(section, ANGLE, stress_plane(section, twice, 2 * moment))
    for single, double in zip(one.corners, two.corners, strict=True):
        expected = pytest.approx(2 * single.stress_mpa, rel=1e-12, abs=1e-12)
        assert double.stress_mpa == expected


@given(FORCES, FORCES)
def test_the_influence_of_each_bar_adds_up_to_the_stress(
    first: float, second: float
) -> None:
    section = section_properties(ANGLE)
    forces = (first, second)
    bars = tuple(
        Bar(x_m=b.x_m, y_m=b.y_m, force_kn=f) for b, f in zip(BARS, forces, strict=True)
    )
    plane = stress_plane(section, bars)
    for x, y in ANGLE:
        parts = math.fsum(
            influence_mpa_per_kn(section, b.x_m, b.y_m, x, y) * b.force_kn for b in bars
        )
        whole = stress_at_mpa(section, plane, x, y)
        assert whole == pytest.approx(parts, rel=1e-9, abs=1e-9)


def test_a_lost_bar_carries_nothing() -> None:
    assert [bar.force_kn for bar in lose_bars(BARS, [1])] == [300.0, 0.0]


@pytest.mark.parametrize(
    ("lost", "words"),
    [
        ([2], "lost[0] is 2; allowed: 0 to 1"),
        ([-1], "lost[0] is -1; allowed: 0 to 1"),
        ([0, 0], "lost[1] is 0; allowed: each bar once"),
    ],
)
def test_a_bar_that_is_not_there_cannot_be_lost(lost: list[int], words: str) -> None:
    with pytest.raises(CalcRefusal) as refusal:
        lose_bars(BARS, lost)
    assert str(refusal.value) == words


def test_limits_are_inclusive_and_blind_to_rounding() -> None:
    section = section_properties(RECTANGLE)
    face = face_stress(
        section, RECTANGLE, stress_plane(section, (Bar(x_m=1, y_m=2.5, force_kn=800),))
    )
    exact = StressLimits(mean_min_mpa=0.1, local_min_mpa=0.025, spread_max_mpa=0.15)
    assert limit_reasons(face, exact) == ()
    beyond = StressLimits(
        mean_min_mpa=0.1001, local_min_mpa=0.0251, spread_max_mpa=0.1499
    )
    assert limit_reasons(face, beyond) == (
        "mean 0.1000 MPa, at least 0.1001 MPa wanted",
        "least 0.0250 MPa, at least 0.0251 MPa wanted",
        "spread 0.1500 MPa, at most 0.1499 MPa wanted",
    )


def test_the_worst_of_two_states_takes_each_figure_from_its_own_state() -> None:
    section = section_properties(RECTANGLE)
    bars = (Bar(x_m=1, y_m=2, force_kn=800.0),)
    up = face_stress(section, RECTANGLE, stress_plane(section, bars, 100.0))
    down = face_stress(section, RECTANGLE, stress_plane(section, bars, -200.0))
    worst = worst_of([up, down])
    assert worst.min_mpa == down.min_mpa
    assert worst.max_mpa == down.max_mpa
    assert worst.corners[0].stress_mpa == up.corners[0].stress_mpa
    assert min(c.stress_mpa for c in worst.corners) == worst.min_mpa


def test_a_bar_above_its_cap_is_named_and_has_no_headroom() -> None:
    bars = (
        Bar(x_m=0, y_m=0, force_kn=680.0, cap_kn=676.0),
        Bar(x_m=0, y_m=0, force_kn=676.0, cap_kn=676.0),
        Bar(x_m=0, y_m=0, force_kn=500.0),
    )
    assert cap_reasons(bars) == ("bar 0: 680 kN above its cap of 676 kN",)
    assert headroom_kn(bars, lost=[1]) == [-4.0, 0.0, None]
