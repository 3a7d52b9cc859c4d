"""Calculations agree with independent libraries and with numerical integration."""

import math
from typing import Any

import numpy as np
import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.stats import linregress
from shapely import Polygon, difference
from structuralcodes.geometry import SurfaceGeometry
from structuralcodes.materials.concrete import create_concrete
from structuralcodes.sections import BeamSection

from fieldapp.calc.catalogue import run
from tests.published.check import angle_with_fillets_mm, box_beam_in, rectangle

UNSYMMETRICAL = {
    "outline": [[0, 0], [6, 0], [6, 0.3], [0.4, 0.5], [0.3, 3], [-2, 3], [-2, 2.7]],
    "voids": [[[0.1, 0.1], [1.0, 0.1], [0.15, 0.35]]],
}
FACES = {
    "crooked": UNSYMMETRICAL,
    "box beam": box_beam_in(48, 39),
    "angle": {"outline": angle_with_fillets_mm(), "voids": []},
    "two cells": {
        "outline": rectangle(0, 0, 12, 3),
        "voids": [rectangle(0.5, 0.3, 4, 2.4), rectangle(5, 0.4, 6.5, 2.2)],
    },
}


def gross(face: dict[str, Any]) -> Any:
    """The properties of a face by structuralcodes."""
    shape = Polygon(face["outline"], face["voids"])
    concrete = create_concrete(fck=40, design_code="mc2010")
    return BeamSection(SurfaceGeometry(shape, concrete)).gross_properties


@pytest.mark.parametrize("face", FACES.values(), ids=FACES.keys())
def test_sections_agree_with_a_section_library(face: dict[str, Any]) -> None:
    ours, theirs = run("section", face), gross(face)
    size = ours["ixx_m4"] + ours["iyy_m4"]
    assert ours["area_m2"] == pytest.approx(theirs.area, rel=1e-10)
    assert ours["centroid_x_m"] == pytest.approx(theirs.cy, rel=1e-10, abs=1e-10)
    assert ours["centroid_y_m"] == pytest.approx(theirs.cz, rel=1e-10)
    assert ours["ixx_m4"] == pytest.approx(theirs.iyy_c, rel=1e-9)
    assert ours["iyy_m4"] == pytest.approx(theirs.izz_c, rel=1e-9)
    assert ours["ixy_m4"] == pytest.approx(theirs.iyz_c, rel=1e-9, abs=1e-9 * size)


def test_the_unsymmetrical_face_has_a_product_of_inertia_that_matters() -> None:
    section = run("section", UNSYMMETRICAL)
    assert abs(section["ixy_m4"]) > 0.2 * section["ixx_m4"]


def test_stress_on_an_unsymmetrical_face_balances_its_bars() -> None:
    # Cut into thin strips by shapely, the stress must give back force and moments.
    bars = [
        {"x_m": 0.1, "y_m": 2.0, "force_kn": 900},
        {"x_m": 3.5, "y_m": 0.2, "force_kn": 600},
    ]
    answer = run("joint-stress", {**UNSYMMETRICAL, "bars": bars, "moment_x_knm": -40})
    section = run("section", UNSYMMETRICAL)
    corners = answer["corners"]
    rows = np.array([[1, c["x_m"], c["y_m"]] for c in corners])
    stresses = np.array([c["stress_mpa"] for c in corners])
    constant, by_x, by_y = np.linalg.lstsq(rows, stresses, rcond=None)[0]
    force, moment_x, moment_y = 0.0, 0.0, 0.0
    face = difference(
        Polygon(UNSYMMETRICAL["outline"]), Polygon(UNSYMMETRICAL["voids"][0])
    )
    for low in np.arange(-2, 6, 0.05):
        strip = face.intersection(Polygon(rectangle(low, -1, 0.05, 5)))
        for part in getattr(strip, "geoms", [strip]):
            for flat in slabs(part):
                centre = flat.centroid
                here = flat.area * 1000 * (constant + by_x * centre.x + by_y * centre.y)
                force += here
                moment_x += here * (centre.y - section["centroid_y_m"])
                moment_y += here * (centre.x - section["centroid_x_m"])
    wanted_x = sum(b["force_kn"] * (b["y_m"] - section["centroid_y_m"]) for b in bars)
    wanted_y = sum(b["force_kn"] * (b["x_m"] - section["centroid_x_m"]) for b in bars)
    assert force == pytest.approx(1500, rel=1e-9)
    assert moment_x == pytest.approx(wanted_x - 40, rel=2e-3)
    assert moment_y == pytest.approx(wanted_y, rel=2e-3)


def slabs(part: Any) -> list[Any]:
    """A strip cut into flat pieces, small enough for a stress at their centres."""
    left, low, right, high = part.bounds
    cuts = np.arange(low, high, 0.05)
    pieces = [
        part.intersection(Polygon(rectangle(left, cut, right - left, 0.05)))
        for cut in cuts
    ]
    return [piece for piece in pieces if piece.area > 0]


@given(st.floats(-20, 50), st.floats(20, 100))
def test_dew_points_agree_with_a_humidity_library(
    air_c: float, humidity: float
) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = psychrolib.GetTDewPointFromRelHum(air_c, humidity / 100)
    ours = run("dew-point", {"air_temp_c": air_c, "humidity_percent": humidity})
    if theirs < 0.5:
        # Below freezing the library counts over ice, this product over water; the
        # two part by 1.2 C at -10 C and by 3 C at -25 C.
        over_water = magnus_over_water_c(air_c, humidity)
        assert ours["dew_point_c"] == pytest.approx(over_water, abs=0.05)
    else:
        assert ours["dew_point_c"] == pytest.approx(theirs, abs=0.06)


def magnus_over_water_c(air_c: float, humidity: float) -> float:
    """Dew point over water by Alduchov and Eskridge's set, 17.625 and 243.04 C."""
    gamma = math.log(humidity / 100) + 17.625 * air_c / (243.04 + air_c)
    return 243.04 * gamma / (17.625 - gamma)


def test_a_tendon_agrees_with_the_differential_equation_of_friction() -> None:
    # dP/dx = -P (mu a' + k), over three pieces of their own curvature.
    pieces = [(12.0, 0.1), (20.0, 0.0), (8.0, 0.2)]
    mu, k, jack = 0.2, 0.0015, 2000.0
    answer = run(
        "tendon",
        {
            "area_mm2": 1800,
            "modulus_gpa": 196,
            "jacking_force_kn": jack,
            "friction": {"mu": mu, "k_per_m": k, "form": "per-length"},
            "pieces": [{"length_m": a, "angle_rad": b} for a, b in pieces],
            "ends": 1,
            "draw_in_mm": 0,
            "jack_length_m": 0,
        },
    )
    force, drawn = jack, 0.0
    for index, (length, angle) in enumerate(pieces):
        rate = mu * angle / length + k
        solved = solve_ivp(
            lambda _, p, rate=rate: [-rate * p[0], p[0]],
            (0, length),
            [force, drawn],
            rtol=1e-11,
            atol=1e-9,
        )
        force, drawn = solved.y[:, -1]
        assert answer["force_kn"][index + 1] == pytest.approx(force, rel=1e-8)
    assert answer["extension_mm"] == pytest.approx(
        drawn * 1000 / (1800 * 196), rel=1e-8
    )


def test_life_at_one_temperature_ramp_lies_on_the_safe_side_of_the_integral() -> None:
    # A steady ramp inside one stretch: the true use is the integral of 1/life.
    table = [[10, 120], [30, 30]]
    answer = run(
        "adhesive-life",
        {"life_table": table, "temperatures": [[0, 12], [30, 27]], "at_minute": 30},
    )
    true_use = quad(lambda t: 1 / (120 * 0.25 ** ((2 + t / 2) / 20)), 0, 30)[0]
    assert true_use <= answer["used_ratio"] <= true_use * 1.1


@given(
    st.lists(st.floats(0.1, 30), min_size=4, max_size=8),
    st.lists(st.floats(0, 60), min_size=8, max_size=8),
)
def test_regressions_agree_with_a_statistics_library(
    steps: list[float], rises: list[float]
) -> None:
    forces = np.cumsum(steps)
    extensions = np.cumsum(rises[: len(steps)])
    readings = [list(pair) for pair in zip(forces, extensions, strict=True)]
    answer = run(
        "extension-check",
        {
            "calculated_mm": 100,
            "readings": [[float(f), float(e)] for f, e in readings],
            "band_percent": 5,
        },
    )
    line = linregress(forces, extensions)
    assert answer["measured_mm"] == pytest.approx(100 * line.slope, rel=1e-6, abs=1e-6)
    worst = np.abs(extensions - line.slope * forces - line.intercept).max()
    assert answer["residual_mm"] == pytest.approx(worst, rel=1e-6, abs=1e-6)


def test_a_jacks_line_agrees_with_a_statistics_library() -> None:
    points = [[50, 96], [150, 303], [250, 498], [350, 705], [450, 899]]
    line = linregress([p for p, _ in points], [f for _, f in points])
    answer = run("jack", {"calibration": points, "pressure_bar": 300})
    assert answer["slope"] == pytest.approx(line.slope)
    assert answer["intercept"] == pytest.approx(line.intercept)
    assert answer["interpolated"] == pytest.approx(
        np.interp(300, [p for p, _ in points], [f for _, f in points])
    )


WORKS = {
    "mix": (4, 5, 9),
    "spread": (10, 14, 24),
    "close": (3, 5, 9),
    "stress": (8, 12, 22),
}
FORECAST = [[6, 12], [9, 18], [13, 29], [16, 24]]
POT, OPEN = [[10, 60], [30, 18]], [[10, 110], [30, 45]]
OVERLAP, LAG_H, ALLOWED = 0.3, 1.0, 0.55


def window() -> dict[str, Any]:
    """A day's window with one formulation for faces from 10 to 28 C."""
    formulation = {
        "name": "N",
        "temp_min_c": 10,
        "temp_max_c": 28,
        "pot_life_table": POT,
        "open_time_table": OPEN,
    }
    data = {
        "forecast": FORECAST,
        "formulations": [formulation],
        "durations_min": {work: list(row) for work, row in WORKS.items()},
        "overlap_ratio": OVERLAP,
        "lag_h": LAG_H,
        "allowed_ratio": ALLOWED,
    }
    return run("joint-window", {**data, "runs": 10_000, "seed": 3})


def test_a_window_agrees_with_draws_of_a_numerical_library() -> None:
    # The same crew by numpy's triangles, the lives by quadrature along the minutes.
    draw = np.random.default_rng(11).triangular
    mix, spread, close, stress = (draw(*row, 40_000) for row in WORKS.values())
    spread_end = mix + spread - np.minimum(OVERLAP * spread, mix)
    end = spread_end + close + stress
    minutes = np.linspace(0, end.max(), 4000)
    times, temps = zip(*FORECAST, strict=True)
    partial = 0
    for row in window()["hours"]:
        air, face = (
            np.interp(row["start_hour"] - late + minutes / 60, times, temps)
            for late in (0, LAG_H)
        )
        pot_used = np.interp(spread_end, minutes, used_along(minutes, air, POT))
        used = np.interp(end, minutes, used_along(minutes, face, OPEN))
        inside = (face >= 10) & (face <= 28)
        limit = math.inf if inside.all() else minutes[np.argmin(inside)]
        made = (used <= ALLOWED) & (pot_used <= 1) & (end <= limit)
        assert row["success_ratio"] == pytest.approx(made.mean(), abs=0.02)
        partial += 0.02 < made.mean() < 0.98
        if inside.all():
            for ratio, key in ((0.5, "used_ratio_p50"), (0.9, "used_ratio_p90")):
                assert row[key] == pytest.approx(np.quantile(used, ratio), rel=0.01)
    assert partial >= 2


def used_along(minutes: Any, temps: Any, table: list[list[float]]) -> Any:
    """The part of a life used at each minute, by the trapezium rule."""
    points, lives = zip(*table, strict=True)
    rates = 1 / np.exp(np.interp(temps, points, np.log(lives)))
    steps = (rates[1:] + rates[:-1]) / 2 * np.diff(minutes)
    return np.concatenate([[0], np.cumsum(steps)])
