"""Every line of a sheet is worked out again from the numbers it shows.

The numbers put in are read as arithmetic and must give the result beside them, within
what their six figures leave.
"""

import copy
import math
import re
from itertools import pairwise
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.figures import figure
from fieldapp.calc.working import Grid, Note, Step, Working

ARITHMETIC = (
    ("−", "-"),
    ("×", "*"),
    ("²", "**2"),
    ("^", "**"),
    ("√", "sqrt"),
    ("ln(", "log("),
    ("π", "pi"),
)
KNOWN = {
    **{name: getattr(math, name) for name in ("sqrt", "log", "exp", "pi")},
    "min": lambda *values: min(values),
    "max": lambda *values: max(values),
}
# What no sum can say: a column above it, a share, a place where it is already.
IN_WORDS = ("last column", " kNm over ", "used already")


def worked(numbers: str) -> float:
    """The value of a line of numbers: of what stands left of an equals sign, if any."""
    text = numbers.split(" = ", maxsplit=1)[0]
    for sign, word in ARITHMETIC:
        text = text.replace(sign, word)
    text = re.sub(r"(?<=[\d)])\s*\(", "*(", text)
    value: float = eval(text, {"__builtins__": {}}, dict(KNOWN))
    return value


def rounding(numbers: str) -> float:
    """What six figures leave open: each number moved by half of its last place."""
    base, left = worked(numbers), 0.0
    for found in re.finditer(r"\d+\.?\d*", numbers.split(" = ", maxsplit=1)[0]):
        moved = repr(float(found[0]) * (1 + 5e-6))
        text = numbers[: found.start()] + moved + numbers[found.end() :]
        left += abs(worked(text) - base)
    return left


def stated(result: str) -> float:
    """The first number of a result."""
    found = re.search(r"[−-]?\d+(\.\d+)?", result)
    assert found, result
    return float(found[0].replace("−", "-"))


def sheet(name: str, **changes: Any) -> Working:
    data = {**copy.deepcopy(dict(catalogue.get(name).example)), **changes}
    return catalogue.working(name, {k: v for k, v in data.items() if v is not None})


CROOKED = {
    "outline": [[0, 0], [4, 0], [4, 0.4], [0.5, 0.4], [0.5, 2], [0, 2]],
    "voids": [[[1, 0.1], [1.4, 0.1], [1.2, 0.3]]],
}
KINKED = [
    {"length_m": 8, "angle_rad": 0.1},
    {"length_m": 0, "angle_rad": 0.12},
    {"length_m": 27, "angle_rad": 0},
]
OTHERS: list[tuple[str, dict[str, Any]]] = [
    ("dew-point", {"air_temp_c": -5, "surface_temps_c": None, "surface_temp_c": -9}),
    ("adhesive-life", {"temperatures": [[0, 8], [10, 22], [20, 31], [30, 25]]}),
    (
        "adhesive-life",
        {"temperatures": None, "ratios": None, "at_minute": None, "temp_c": 27},
    ),
    *(
        (
            "adhesive-life",
            {"temperatures": None, "ratios": None, "at_minute": None, "temp_c": end_c},
        )
        for end_c in (10, 30)
    ),
    ("adhesive-life", {"at_minute": 0}),
    ("adhesive-quantity", {"faces": 2, "waste_ratio": 0}),
    ("section", CROOKED),
    ("joint-stress", {**CROOKED, "states": None, "moment_x_knm": -300, "lost": [1]}),
    (
        "joint-stress",
        {
            **CROOKED,
            "moment_y_knm": 30,
            "states": [{"name": "wind", "moment_x_knm": -80, "moment_y_knm": 25}],
        },
    ),
    ("bar-extension", {"datum_force_kn": 0, "grip_length_m": 0}),
    ("jack", {"force_kn": None, "pressure_bar": 137, "graduation_bar": 10}),
    ("jack", {"calibration": None, "graduation_bar": None, "ram_area_cm2": 203.6}),
    ("tendon", {"pieces": KINKED}),
    ("tendon", {"pieces": KINKED, "ends": 2}),
    ("tendon", {"draw_in_mm": 40}),
    ("tendon", {"draw_in_mm": 40, "ends": 2}),
    (
        "extension-check",
        {
            "readings": [[20, 44], [40, 90], [60, 138.5], [80, 185.5], [100, 236]],
            "area_nominal_mm2": 140,
            "area_actual_mm2": 141,
            "modulus_nominal_gpa": 195,
            "modulus_actual_gpa": 197,
        },
    ),
    ("grout-volume", {"caps_l": 0}),
    ("air-test", {"start_temp_c": None, "end_temp_c": None}),
    ("balance", {"limit_knm": None, "limit_a_knm": 9000, "limit_b_knm": 200}),
    ("tip-error", {"offsets_mm": [-1, 2, 0.5]}),
    ("wind", {"height_m": 150}),
    ("wind", {"height_m": 10}),
    ("joint-window", {"overlap_ratio": 1, "allowed_ratio": 0.1}),
]
CASES = [(name, {}) for name in catalogue.names()] + OTHERS


@pytest.mark.parametrize(("name", "changes"), CASES)
def test_each_line_gives_its_result_when_worked_by_hand(
    name: str, changes: dict[str, Any]
) -> None:
    steps = [part for part in sheet(name, **changes).parts if isinstance(part, Step)]
    lines = [s for s in steps if not any(word in s.numbers for word in IN_WORDS)]
    assert len(lines) >= len(steps) - 4
    for step in lines:
        wanted = stated(
            step.numbers.split(" = ")[-1] if " = " in step.numbers else step.result
        )
        assert worked(step.numbers) == pytest.approx(
            wanted, abs=rounding(step.numbers) + 1e-5 * abs(wanted)
        ), step


def grid(working: Working, title: str) -> list[dict[str, float]]:
    """A table as numbers by their columns, rows with words left out."""
    found = next(
        part
        for part in working.parts
        if isinstance(part, Grid) and part.title.startswith(title)
    )
    return [
        dict(zip(found.columns, (float(c.replace("−", "-")) for c in row), strict=True))
        for row in found.rows
    ]


def result(working: Working, what: str) -> float:
    """What the step with these words gives."""
    return stated(
        next(p.result for p in working.parts if isinstance(p, Step) and p.what == what)
    )


@pytest.mark.parametrize(
    ("name", "title", "columns", "words"),
    [
        (
            "jack",
            "Certified points",
            ("p [bar]", "F [kN]", "line [kN]", "departure [kN]"),
            ("slope by least squares", "intercept"),
        ),
        (
            "extension-check",
            "Readings",
            ("f [%]", "e [mm]", "line [mm]", "departure [mm]"),
            (
                "slope of extension on force by least squares",
                "the line at no force, which no longer counts",
            ),
        ),
    ],
)
def test_the_departures_from_a_line_are_those_of_its_slope_and_intercept(
    name: str, title: str, columns: tuple[str, ...], words: tuple[str, str]
) -> None:
    working = sheet(name)
    slope, intercept = (result(working, what) for what in words)
    assert intercept
    for row in grid(working, title):
        at, value, line, departure = (row[column] for column in columns)
        assert line == pytest.approx(slope * at + intercept, rel=1e-5)
        assert departure == pytest.approx(value - line, abs=1e-3)


def test_the_corners_lie_on_the_plane_of_the_slopes() -> None:
    changes = {**CROOKED, "states": None, "moment_x_knm": -300, "moment_y_knm": 40}
    working = sheet("joint-stress", **changes)
    words = ("mean stress", "slope of the stress in x", "slope of the stress in y")
    mean, by_x, by_y = (result(working, what) for what in words)
    assert by_x
    assert by_y
    for row in grid(working, "Corners"):
        stress = mean + by_x * row["x' [m]"] + by_y * row["y' [m]"]
        assert row["σ [MPa]"] == pytest.approx(stress, abs=1e-4)


def mean_kn(one: float, other: float) -> float:
    return one if one == other else (one - other) / math.log(one / other)


@pytest.mark.parametrize(
    ("ends", "draw_in_mm"), [(1, 5), (1, 40), (2, 3), (2, 12), (1, 0)]
)
def test_the_set_of_a_tendon_is_checked_from_its_table(
    ends: int, draw_in_mm: float
) -> None:
    rows = grid(sheet("tendon", pieces=KINKED, ends=ends, draw_in_mm=draw_in_mm), "Par")
    stretch, area, drawn = 2850 * 195 / 1000, 0.0, 0.0
    for before, row in pairwise(rows):
        jacked = mean_kn(before["P [kN]"], row["P [kN]"])
        left = mean_kn(before["P' [kN]"], row["P' [kN]"])
        here = row["L [m]"] * (jacked - left)
        assert row["area [kNm]"] == pytest.approx(here, abs=0.5)
        assert row["e [mm]"] == pytest.approx(row["L [m]"] * jacked / stretch, rel=1e-4)
        area += row["area [kNm]"]
        drawn += row["e [mm]"]
    assert area == pytest.approx(ends * draw_in_mm * stretch, rel=1e-5, abs=1e-9)
    assert drawn == pytest.approx(
        catalogue.run(
            "tendon",
            {
                **catalogue.get("tendon").example,
                "pieces": KINKED,
                "ends": ends,
                "draw_in_mm": draw_in_mm,
            },
        )["extension_mm"],
        rel=1e-5,
    )


def test_one_start_of_the_window_is_worked_out_along_its_readings() -> None:
    parts = sheet("joint-window").parts
    notes = [part.text for part in parts if isinstance(part, Note)]
    assert any(n.startswith("Start at hour 10 with warm: open time") for n in notes)
    used = 0.0
    rows = grid(sheet("joint-window"), "Rates")
    for row, after in pairwise(rows):
        # Warm: 120 min at 15 C and 60 at 30 C; the face runs an hour behind the air.
        hour = 9 + row["t0 [min]"] / 60
        temp = 13 + (hour - 8) * 2.5
        assert row["T [°C]"] == pytest.approx(temp, abs=1e-4)
        rates = [
            2 ** ((each - 15) / 15) / 120 for each in (row["T [°C]"], after["T [°C]"])
        ]
        assert row["used u0"] == pytest.approx(used, abs=1e-5)
        used += sum(rates) / 2 * 5


def test_all_the_overlap_is_no_more_than_the_mixing() -> None:
    step = next(
        part
        for part in sheet("joint-window", overlap_ratio=1).parts
        if isinstance(part, Step)
    )
    assert step.numbers == f"40 − {figure(17 / 3)}"


def test_a_start_longer_than_can_be_read_is_not_set_out() -> None:
    durations = {work: [200, 200, 200] for work in ("mix", "spread", "close", "stress")}
    texts = [
        part.text
        for part in sheet("joint-window", durations_min=durations).parts
        if isinstance(part, Note)
    ]
    assert "More than 60 readings: not set out here." in texts
