"""What a refusal says: the key, its value, and what is allowed, word for word."""

from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.refusals import CalcRefusal


def refusal_of(name: str, data: Any) -> CalcRefusal:
    with pytest.raises(CalcRefusal) as refusal:
        catalogue.run(name, data)
    return refusal.value


@pytest.mark.parametrize(
    ("name", "changes", "words"),
    [
        (
            "dew-point",
            {"surface_temp_c": 3},
            "surface_temp_c is 3; allowed: not together with surface_temps_c",
        ),
        (
            "adhesive-life",
            {"temp_c": 15},
            (
                "temperatures is [[0, 18], [15, 21], [30, 24]]; "
                "allowed: not together with temp_c"
            ),
        ),
        (
            "jack",
            {"pressure_bar": 200},
            "force_kn is 450; allowed: not together with pressure_bar",
        ),
        (
            "jack",
            {"ram_area_cm2": 200},
            "ram_area_cm2 is 200; allowed: not together with calibration",
        ),
        (
            "balance",
            {"limit_a_knm": 9},
            "limit_a_knm is 9; allowed: not together with limit_knm",
        ),
        (
            "extension-check",
            {"area_actual_mm2": 140},
            "area_nominal_mm2 is missing; allowed: given together with area_actual_mm2",
        ),
        (
            "joint-stress",
            {"limits": {}},
            (
                "limits is {}; allowed: one or more of mean_min_mpa, local_min_mpa, "
                "spread_max_mpa"
            ),
        ),
        ("joint-stress", {"states": []}, "states is []; allowed: a list of 1 to 10000"),
        ("joint-stress", {"lost": [3]}, "lost[0] is 3; allowed: 0 to 2"),
        (
            "adhesive-quantity",
            {"faces": 3},
            "faces is 3; allowed: a whole number from 1 to 2",
        ),
        (
            "adhesive-quantity",
            {"faces": 1.5},
            "faces is 1.5; allowed: a whole number from 1 to 2",
        ),
        (
            "adhesive-quantity",
            {"area_m2": 0},
            "area_m2 is 0; allowed: a finite number, above 0 m²",
        ),
        (
            "adhesive-quantity",
            {"area_m2": 1e13},
            (
                "area_m2 is 10000000000000; allowed: a finite number, above 0 m², "
                "at most 1e+12"
            ),
        ),
        (
            "adhesive-quantity",
            {"waste_ratio": 15},
            "waste_ratio is 15; allowed: a finite number, 0 or above and up to 1 ratio",
        ),
        (
            "section",
            {"outline": [[0, 0], [1, 0]]},
            "outline is [[0, 0], [1, 0]]; allowed: a list of 3 to 500",
        ),
        (
            "section",
            {"outline": [[0, 0], [1, 0], [1]]},
            "outline[2] is [1]; allowed: [x_m, y_m]",
        ),
        (
            "air-test",
            {"start_temp_c": -273.15},
            "start_temp_c is -273.15; allowed: above -273.15",
        ),
        (
            "air-test",
            {"end_temp_c": -274},
            "end_temp_c is -274; allowed: a finite number from -273.15 to 1000 °C",
        ),
        (
            "tip-error",
            {"tip_m": 9},
            "joints[2].at_m is 10; allowed: up to the tip at 9",
        ),
        (
            "tip-error",
            {"offsets_mm": [1, 2]},
            "offsets_mm is [1, 2]; allowed: one for each of 3 joints",
        ),
        (
            "grout-volume",
            {"steel_area_mm2": 7854},
            "steel_area_mm2 is 7854; allowed: above 0 and below the duct's 7853.98",
        ),
        (
            "balance",
            {"equipment": [{"arm": "C", "weight_kn": 1, "lever_m": 1}]},
            "equipment[0].arm is 'C'; allowed: one of A, B",
        ),
        (
            "balance",
            {"next": {"C": {"weight_kn": 1, "lever_m": 1}}},
            (
                "next.C is {'weight_kn': 1, 'lever_m': 1}; "
                "allowed: no such key; known are A, B"
            ),
        ),
        (
            "balance",
            {"arms": {"A": []}},
            "arms.B is missing; allowed: arm B, which is needed",
        ),
    ],
)
def test_a_refusal_says_key_value_and_what_is_allowed(
    name: str, changes: dict[str, Any], words: str
) -> None:
    data = dict(catalogue.get(name).example) | changes
    assert str(refusal_of(name, data)) == words


@pytest.mark.parametrize(
    ("name", "missing", "words"),
    [
        (
            "jack",
            "force_kn",
            "pressure_bar is missing; allowed: pressure_bar; or force_kn",
        ),
        (
            "jack",
            "calibration",
            "calibration is missing; allowed: calibration; or ram_area_cm2",
        ),
        (
            "balance",
            "limit_knm",
            "limit_knm is missing; allowed: limit_knm; or limit_a_knm with limit_b_knm",
        ),
        (
            "adhesive-life",
            "temperatures",
            "temp_c is missing; allowed: temp_c; or temperatures",
        ),
        (
            "grout-volume",
            "rate_m_per_min",
            "pumpable_min is 30; allowed: only together with rate_m_per_min",
        ),
        (
            "air-test",
            "end_temp_c",
            "end_temp_c is missing; allowed: given together with start_temp_c",
        ),
    ],
)
def test_keys_that_belong_together_are_asked_for(
    name: str, missing: str, words: str
) -> None:
    example = dict(catalogue.get(name).example)
    del example[missing]
    assert str(refusal_of(name, example)) == words


def test_sizes_without_a_finite_answer_are_refused() -> None:
    speck = {"outline": [[0, 0], [1e-200, 0], [0, 1e-200]], "voids": []}
    refusal = refusal_of("section", speck)
    assert refusal.allowed == "sizes whose answer is a finite number"


@pytest.mark.parametrize(
    ("name", "key", "value"),
    [
        ("adhesive-quantity", "kit_kg", 1e-300),
        ("bar-extension", "area_mm2", 9e-13),
        ("dew-point", "humidity_percent", 5e-324),
        ("tip-error", "one_sigma_rad", 1e-100),
    ],
)
def test_sizes_that_are_none_are_refused(name: str, key: str, value: float) -> None:
    example = dict(catalogue.get(name).example)
    refusal = refusal_of(name, {**example, key: value})
    assert (refusal.key, refusal.value) == (key, value)
    assert refusal.allowed.endswith(", at least 1e-12")
    assert catalogue.run(name, {**example, key: 1e-12})


def test_a_shim_too_steep_for_a_small_angle_is_refused() -> None:
    shim = {"thickness_mm": 100, "depth_m": 1, "tip_distance_m": 36}
    assert catalogue.run("shim", shim)["angle_rad"] == 0.1
    refusal = refusal_of("shim", {**shim, "thickness_mm": 100.1})
    assert refusal.allowed == "at most 100, a tenth of the depth"
    deep = {**shim, "depth_m": 2.5, "thickness_mm": 250}
    assert catalogue.run("shim", deep)["angle_rad"] == 0.1
    refusal = refusal_of("shim", {**deep, "thickness_mm": 250.1})
    assert refusal.allowed == "at most 250, a tenth of the depth"
