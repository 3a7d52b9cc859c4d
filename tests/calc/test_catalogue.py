"""Every named calculation: its keys, their signs and types, and plain JSON answers.

The signs are written here once more, from the rules of the product and not from the
declarations, so that a slip in a declaration is seen.
"""

import copy
import json
import math
from collections.abc import Iterator
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.refusals import CalcRefusal

NAMES = {
    "dew-point", "adhesive-life", "adhesive-quantity", "section", "joint-stress",
    "bar-extension", "jack", "tendon", "extension-check", "grout-volume", "grout-mix",
    "air-test", "balance", "tip-error", "shim", "wind", "joint-window",
}  # fmt: skip

# The second name of a pair stands for the place in a row of numbers.
ROWS = {
    "life_table": ("temp_c", "life_min"),
    "pot_life_table": ("temp_c", "life_min"),
    "open_time_table": ("temp_c", "life_min"),
    "temperatures": ("minute", "temp_c"),
    "outline": ("x_m", "y_m"),
    "voids": ("x_m", "y_m"),
    "calibration": ("certified_bar", "certified_kn"),
    "readings": ("force_percent", "reading_mm"),
    "forecast": ("hour", "temp_c"),
    "mix": ("duration", "duration", "duration"),
    "spread": ("duration", "duration", "duration"),
    "close": ("duration", "duration", "duration"),
    "stress": ("duration", "duration", "duration"),
}
EITHER_SIGN = {
    "air_temp_c", "surface_temps_c", "surface_temp_c", "temp_c", "x_m", "y_m",
    "moment_x_knm", "moment_y_knm", "start_temp_c", "end_temp_c", "at_m", "tip_m",
    "error_rad", "offsets_mm", "hour", "temp_min_c", "temp_max_c",
}  # fmt: skip
MAY_BE_ZERO = {
    "waste_ratio", "draw_in_mm", "jack_length_m", "grip_length_m", "seating_mm",
    "datum_force_kn", "cap_kn", "caps_l", "mu", "k_per_m", "angle_rad", "lever_m",
    "weight_kn", "speed_10m_m_per_s", "end_kpa", "force_percent", "reading_mm",
    "minute", "at_minute", "certified_bar", "certified_kn", "overlap_ratio", "lag_h",
    "seed", "band_floor_mm", "lost",
}  # fmt: skip
ZERO_HERE = {("joint-stress", "force_kn"), ("tendon", "length_m")}

MORE_KEYS: dict[str, dict[str, Any]] = {
    "dew-point": {},
    "adhesive-life": {},
    "joint-stress": {
        "moment_x_knm": 5,
        "moment_y_knm": -5,
        "lost": [1],
        "limits": {"mean_min_mpa": 0.2, "local_min_mpa": 0.1, "spread_max_mpa": 1},
    },
    "extension-check": {
        "band_floor_mm": 2,
        "area_nominal_mm2": 140,
        "area_actual_mm2": 141,
        "modulus_nominal_gpa": 195,
        "modulus_actual_gpa": 196,
    },
    "air-test": {"atmospheric_kpa": 100},
    "tip-error": {"offsets_mm": [1, -1, 0]},
}
VARIANTS: list[tuple[str, dict[str, Any]]] = [
    ("dew-point", {"air_temp_c": 5, "humidity_percent": 90, "surface_temp_c": 4}),
    ("adhesive-life", {"life_table": [[10, 60], [20, 30]], "temp_c": 15}),
    ("jack", {"ram_area_cm2": 203.6, "pressure_bar": 400, "graduation_bar": 5}),
    ("jack", {"calibration": [[0, 0], [100, 200]], "pressure_bar": 50}),
]


def full_example(name: str) -> dict[str, Any]:
    example = copy.deepcopy(dict(catalogue.get(name).example))
    return example | copy.deepcopy(MORE_KEYS.get(name, {}))


def leaves(data: Any, place: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every number of an input, as the way to it."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from leaves(value, (*place, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from leaves(value, (*place, index))
    elif isinstance(data, int | float) and not isinstance(data, bool):
        yield place


def key_of(place: tuple[Any, ...]) -> str:
    """The name that rules the sign of a number."""
    words = [part for part in place if isinstance(part, str)]
    last = words[-1]
    return ROWS[last][place[-1]] if last in ROWS else last


def changed(data: dict[str, Any], place: tuple[Any, ...], value: Any) -> dict[str, Any]:
    data = copy.deepcopy(data)
    target: Any = data
    for part in place[:-1]:
        target = target[part]
    target[place[-1]] = value
    return data


CASES = [(name, full_example(name)) for name in sorted(NAMES)] + VARIANTS
LEAVES = [
    pytest.param(name, data, place, id=f"{case}-{name}-{'.'.join(map(str, place))}")
    for case, (name, data) in enumerate(CASES)
    for place in leaves(data)
]


def refusal_of(name: str, data: Any) -> CalcRefusal:
    with pytest.raises(CalcRefusal) as refusal:
        catalogue.run(name, data)
    assert str(refusal.value).startswith(f"{refusal.value.key} is ")
    assert "; allowed: " in str(refusal.value)
    return refusal.value


def test_the_names_are_fixed() -> None:
    assert set(catalogue.names()) == NAMES


def test_a_name_that_is_none_is_refused_with_those_that_are() -> None:
    refusal = refusal_of("dewpoint", {})
    assert refusal.key == "NAME"
    assert all(name in refusal.allowed for name in NAMES)


@pytest.mark.parametrize(("name", "data"), CASES)
def test_an_answer_is_plain_json_and_every_key_is_declared(
    name: str, data: dict[str, Any]
) -> None:
    answer = catalogue.run(name, data)
    assert json.loads(json.dumps(answer, allow_nan=False)) == answer
    declared = {output.key for output in catalogue.get(name).outputs}
    assert set(answer) <= declared


@pytest.mark.parametrize(("name", "data"), CASES)
def test_whole_numbers_may_be_written_with_a_point(
    name: str, data: dict[str, Any]
) -> None:
    for place in leaves(data):
        target: Any = data
        for part in place:
            target = target[part]
        pointed = changed(data, place, float(target))
        assert catalogue.run(name, pointed) == catalogue.run(name, data)


@pytest.mark.parametrize(("name", "data"), CASES)
def test_an_unknown_key_is_refused_wherever_it_stands(
    name: str, data: dict[str, Any]
) -> None:
    assert refusal_of(name, data | {"note": 1}).key == "note"
    for key, value in data.items():
        inner = value[0] if isinstance(value, list) else value
        if isinstance(inner, dict):
            wrong = copy.deepcopy(data)
            target = wrong[key][0] if isinstance(value, list) else wrong[key]
            target["colour"] = "red"
            refusal = refusal_of(name, wrong)
            assert refusal.key.endswith(".colour")
            assert refusal.allowed.startswith("no such key; known are ")


@pytest.mark.parametrize("name", sorted(NAMES))
def test_a_missing_key_is_refused_by_name(name: str) -> None:
    example = dict(catalogue.get(name).example)
    for field in catalogue.get(name).inputs.fields:
        if field.optional:
            continue
        rest = {key: value for key, value in example.items() if key != field.key}
        refusal = refusal_of(name, rest)
        assert refusal.key == field.key
        assert str(refusal).startswith(f"{field.key} is missing; allowed: ")


@pytest.mark.parametrize("data", [None, 3, "x", [], [{}], True])
@pytest.mark.parametrize("name", sorted(NAMES))
def test_anything_but_an_object_is_refused(name: str, data: Any) -> None:
    assert refusal_of(name, data).key == "input"


@pytest.mark.parametrize(("name", "data", "place"), LEAVES)
def test_only_a_number_is_taken_where_a_number_belongs(
    name: str, data: dict[str, Any], place: tuple[Any, ...]
) -> None:
    for value in (True, False, None, "1", [1], {}, "", "NaN"):
        refusal = refusal_of(name, changed(data, place, value))
        assert place[0] in refusal.key
        assert refusal.value is value or refusal.value == value


@pytest.mark.parametrize(("name", "data", "place"), LEAVES)
def test_no_number_without_end_is_taken(
    name: str, data: dict[str, Any], place: tuple[Any, ...]
) -> None:
    for value in (math.nan, math.inf, -math.inf, 1e300, -(10**400)):
        assert place[0] in refusal_of(name, changed(data, place, value)).key


@pytest.mark.parametrize(("name", "data", "place"), LEAVES)
def test_a_sign_that_is_not_allowed_is_refused(
    name: str, data: dict[str, Any], place: tuple[Any, ...]
) -> None:
    key = key_of(place)
    zero_too = key in MAY_BE_ZERO or (name, key) in ZERO_HERE
    if key in EITHER_SIGN:
        return
    assert place[0] in refusal_of(name, changed(data, place, -1)).key
    if not zero_too and key not in {"faces", "ends"}:
        refusal = refusal_of(name, changed(data, place, 0))
        assert place[0] in refusal.key
        assert refusal.value == 0


def bars(force: float, cap: float) -> dict[str, Any]:
    return {"bars": [{"x_m": 1, "y_m": 1, "force_kn": force, "cap_kn": cap}]}


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("adhesive-quantity", {"waste_ratio": 0}),
        ("grout-volume", {"waste_ratio": 0, "caps_l": 0}),
        ("bar-extension", {"datum_force_kn": 0, "grip_length_m": 0, "seating_mm": 0}),
        ("tendon", {"draw_in_mm": 0, "jack_length_m": 0}),
        ("tendon", {"friction": {"mu": 0, "k_per_m": 0, "form": "per-angle"}}),
        ("tendon", {"pieces": [{"length_m": 3, "angle_rad": 0}]}),
        (
            "tendon",
            {
                "pieces": [
                    {"length_m": 0, "angle_rad": 0.1},
                    {"length_m": 3, "angle_rad": 0},
                ]
            },
        ),
        ("joint-stress", bars(0, 0)),
        ("balance", {"arms": {"A": [{"weight_kn": 0, "lever_m": 0}], "B": []}}),
        ("balance", {"next": {"A": {"weight_kn": 0, "lever_m": 0}}}),
        ("wind", {"speed_10m_m_per_s": 0}),
        ("air-test", {"end_kpa": 0}),
        ("extension-check", {"readings": [[0, 0], [20, 40], [40, 90], [60, 135]]}),
        ("jack", {"calibration": [[0, 0], [300, 600]], "force_kn": 450}),
        ("joint-window", {"overlap_ratio": 0, "lag_h": 0, "seed": 0}),
    ],
)
def test_zero_is_taken_where_it_means_something(
    name: str, changes: dict[str, Any]
) -> None:
    catalogue.run(name, dict(catalogue.get(name).example) | changes)


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("dew-point", {"air_temp_c": -20, "surface_temps_c": [-30, 2]}),
        ("section", {"outline": [[-4, -2], [0, -2], [0, 0], [-4, 0]], "voids": []}),
        ("joint-stress", {"moment_x_knm": -9, "moment_y_knm": 9}),
        ("air-test", {"start_temp_c": -5, "end_temp_c": -9}),
        (
            "tip-error",
            {"joints": [{"at_m": -3, "error_rad": -0.001}], "offsets_mm": [-2]},
        ),
        ("tip-error", {"joints": [{"at_m": -9, "error_rad": 0}], "tip_m": -3}),
        (
            "adhesive-life",
            {"life_table": [[-7, 90], [4, 45]], "temperatures": [[0, -2]]},
        ),
    ],
)
def test_either_sign_is_taken_where_it_means_something(
    name: str, changes: dict[str, Any]
) -> None:
    catalogue.run(name, dict(catalogue.get(name).example) | changes)
