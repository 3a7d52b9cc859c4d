"""Tables, verdicts and sketches of the sheets, each against the numbers beside them."""

import re

import pytest

from fieldapp.calc.working import Grid, Note, Step
from tests.calc.test_worked_by_hand import CROOKED, sheet


def rows(name: str, title: str, **changes: object) -> list[dict[str, float | str]]:
    """The rows of a table by their columns, words left as they are."""
    found = next(
        part
        for part in sheet(name, **changes).parts
        if isinstance(part, Grid) and part.title.startswith(title)
    )
    return [
        {key: number(cell) for key, cell in zip(found.columns, row, strict=True)}
        for row in found.rows
    ]


def number(cell: str) -> float | str:
    try:
        return float(cell.replace("−", "-"))
    except ValueError:
        return cell


def test_a_load_of_the_balance_stands_with_its_moment() -> None:
    found = rows("balance", "Loads")
    assert [row["arm"] for row in found] == ["A", "A", "A", "B"]
    assert [row["W a [kNm]"] for row in found] == [2079, 3465, 480, 2079]


def test_a_side_within_its_limits_is_told_from_one_that_is_not() -> None:
    results = {p.what: p.result for p in sheet("balance").parts if isinstance(p, Step)}
    assert results["after the next lift on A"] == "8796 kNm, NOT WITHIN −6000 to 6000"
    assert results["after the next lift on B"] == "480 kNm, within −6000 to 6000"
    formulas = [p.formula for p in sheet("balance").parts if isinstance(p, Step)]
    assert formulas[1:] == ["M + W a", "M − W a"]


def test_arm_a_is_drawn_to_the_left_and_to_scale() -> None:
    sketch = sheet("balance").sketch
    assert sketch is not None
    assert [arrow.start[0] for arrow in sketch.arrows] == [-4.5, -7.5, -6, 4.5]
    assert [arrow.end[1] < 0 for arrow in sketch.arrows] == [True] * 4
    assert [stroke.points[0][0] for stroke in sketch.strokes] == [-7.5, 0]


def test_a_bar_stands_with_its_lever_and_its_moments() -> None:
    found = rows("joint-stress", "Bars", **CROOKED, states=None, lost=[1])
    *bars, total = found
    for row in bars:
        force, x, y = (row[key] for key in ("F [kN]", "x' [m]", "y' [m]"))
        assert row["F y' [kNm]"] == pytest.approx(float(force) * float(y), abs=1e-3)
        assert row["F x' [kNm]"] == pytest.approx(float(force) * float(x), abs=1e-3)
    assert bars[1]["F [kN]"] == 0
    for key in ("F [kN]", "F y' [kNm]", "F x' [kNm]"):
        summed = sum(float(row[key]) for row in bars)
        assert total[key] == pytest.approx(summed, abs=2e-3)


def test_the_parts_of_a_face_add_up_about_the_common_centroid() -> None:
    own, moved = (
        rows("section", "Parts", **CROOKED),
        rows("section", "Moved", **CROOKED),
    )
    for part, row in zip(own, moved, strict=False):
        area, dx, dy = (
            float(v) for v in (part["A [m²]"], row["dx [m]"], row["dy [m]"])
        )
        steps = {"Ixx [m⁴]": dy * dy, "Iyy [m⁴]": dx * dx, "Ixy [m⁴]": dx * dy}
        for key, step in steps.items():
            wanted = float(part[key]) + area * step
            assert row[key] == pytest.approx(wanted, abs=1e-4)
    *parts, total = moved
    for key in ("Ixx [m⁴]", "Iyy [m⁴]", "Ixy [m⁴]"):
        assert total[key] == pytest.approx(sum(float(p[key]) for p in parts), abs=1e-5)


def test_a_joint_stands_with_what_it_moves_at_the_tip() -> None:
    found = rows("tip-error", "Joints", offsets_mm=[-1, 2, 0.5])
    for row, offset in zip(found, (-1, 2, 0.5), strict=True):
        turned = float(row["θ [rad]"]) * float(row["L − x [m]"]) * 1000
        assert float(row["L − x [m]"]) == 40 - float(row["x [m]"])
        assert (row["offset [mm]"], row["at tip [mm]"]) == (
            offset,
            pytest.approx(turned + offset),
        )


def test_the_line_of_a_cantilever_ends_at_the_tip_it_gives() -> None:
    sketch = sheet("tip-error").sketch
    assert sketch is not None
    curve = sketch.strokes[1].points
    # 0.4 mrad over 3 m; then 0.2 more over 3 m; then 0.3 over 30 m.
    assert [y for _, y in curve] == pytest.approx([0, 1.2, 1.8, 10.8])
    assert sketch.arrows[0].end == pytest.approx((40, 10.8))


def test_a_bar_is_drawn_with_both_nuts_and_what_is_in_the_jack() -> None:
    sketch = sheet("bar-extension").sketch
    assert sketch is not None
    bar, dead, live = sketch.strokes
    assert bar.points == ((0, 0), (3.9, 0))
    assert [point[0] for point in (*dead.points, *live.points)] == [0, 0, 3.5, 3.5]
    assert dead.points[0][1] == -dead.points[1][1] < 0
    assert sketch.arrows[0].start == (3.9, 0)
    assert 3.9 < sketch.arrows[0].end[0] < 4.5


def test_a_shim_at_the_foot_is_drawn_to_lift_the_tip() -> None:
    sketch = sheet("shim").sketch
    assert sketch is not None
    joint, level, turned = sketch.strokes
    assert joint.points == ((0, 0), (0, 2.5))
    assert level.points == ((0, 2.5), (36, 2.5))
    assert turned.points[-1] == sketch.arrows[0].end == (36, pytest.approx(3.25))
    assert sketch.dots[0].at == (0, 0)


def test_the_margin_names_the_coldest_surface() -> None:
    results = {
        p.what: p.result for p in sheet("dew-point").parts if isinstance(p, Step)
    }
    assert results["margin of the coldest surface"] == "1.59311 °C at 22.9 °C"


def test_tension_stands_on_the_sheet_with_its_place() -> None:
    changes = {**CROOKED, "states": None, "moment_x_knm": -900}
    texts = [
        p.text for p in sheet("joint-stress", **changes).parts if isinstance(p, Note)
    ]
    assert any(
        re.match(r"TENSION at \d of 6 corners, the most at \(", t) for t in texts
    )
    pressed = [p for p in sheet("joint-stress").parts if isinstance(p, Note)]
    assert not any("TENSION" in note.text for note in pressed)


def test_the_sketch_of_an_extension_shows_the_fitted_line() -> None:
    sketch = sheet("extension-check").sketch
    assert sketch is not None
    (line,) = sketch.strokes
    # 2.3625 mm per % less 3.35 mm, from the first reading to the last.
    first, last = line.points
    assert first == pytest.approx((20, 43.9))
    assert last == pytest.approx((100, 232.9))


def test_a_states_moments_are_added_on_the_sheet_too() -> None:
    state = {"name": "wind", "moment_x_knm": -80, "moment_y_knm": 25}
    changes = {"moment_x_knm": 10, "moment_y_knm": 30, "states": [state]}
    numbers = [
        p.numbers for p in sheet("joint-stress", **changes).parts if isinstance(p, Step)
    ]
    assert "272 + (−70)" in numbers
    assert "0 + (55)" in numbers


def test_the_corner_with_the_least_stress_is_named() -> None:
    working = sheet("joint-stress", **CROOKED, states=None, moment_x_knm=-900)
    corners = rows("joint-stress", "Corners", **CROOKED, states=None, moment_x_knm=-900)
    least = min(corners, key=lambda row: float(row["σ [MPa]"]))
    place = f"({float(least['x [m]']):g}, {float(least['y [m]']):g})"
    pulled = sum(float(row["σ [MPa]"]) < 0 for row in corners)
    (tension,) = (
        p.text for p in working.parts if isinstance(p, Note) and "TENSION" in p.text
    )
    assert tension.startswith(f"TENSION at {pulled} of 6 corners, the most at {place}:")
    assert working.sketch is not None
    assert working.sketch.notes[-1].endswith(f"MPa at {place}.")


@pytest.mark.parametrize(
    ("asked", "formula", "unit"),
    [
        ({"force_kn": 450}, "p = p1 + (p2 − p1)(F − F1)/(F2 − F1)", "bar"),
        (
            {"force_kn": None, "pressure_bar": 250},
            "F = F1 + (F2 − F1)(p − p1)/(p2 − p1)",
            "kN",
        ),
    ],
)
def test_what_is_read_between_two_points_has_its_letters_and_unit(
    asked: dict[str, float], formula: str, unit: str
) -> None:
    (step,) = (
        p
        for p in sheet("jack", **asked).parts
        if isinstance(p, Step) and p.what.startswith("beside it")
    )
    assert step.formula == formula
    assert step.result.endswith(f" {unit}")


def test_one_start_is_worked_to_the_mean_of_its_durations() -> None:
    whats = [p.what for p in sheet("joint-window").parts if isinstance(p, Step)]
    assert whats[1:] == ["life used at minute 36.9333", "life used at minute 17.9333"]
    notes = [
        p.text
        for p in sheet("joint-window", allowed_ratio=0.1).parts
        if isinstance(p, Note)
    ]
    # None succeeds: the one that uses least is worked out, the coldest for warm.
    assert any(note.startswith("Start at hour 6 with warm: open") for note in notes)


def test_without_friction_the_table_of_a_tendon_has_its_areas_too() -> None:
    smooth = {"mu": 0, "k_per_m": 0, "form": "per-angle"}
    *_, last = rows("tendon", "Parts", friction=smooth, draw_in_mm=5)
    # 5 mm of 555.75 kN per mm/m over 20 m, half of it in each piece.
    assert last["area [kNm]"] == pytest.approx(5 * 555.75 / 2, rel=1e-5)
    assert last["P' [kN]"] == pytest.approx(3531.15 - 5 * 555.75 / 20, rel=1e-5)
