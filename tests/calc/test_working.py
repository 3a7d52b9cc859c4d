"""A calculation sheet: everything a checker signs for, figures that can be redone."""

import copy
import re
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.figures import figure, listed, signed
from fieldapp.calc.sketch import Sketch, corners_of
from fieldapp.calc.sketch_text import drawn
from fieldapp.calc.working import Grid, Heading, Note, Quantity, Step, Working
from fieldapp.calc.working_text import WIDTH, as_text

NAMES = catalogue.names()
SECTIONS = [
    "INPUTS",
    "CALCULATION",
    "RESULT",
    "RANGE OF VALIDITY",
    "SOURCES",
    "VERSION",
]
WITH_GEOMETRY = {
    "section", "joint-stress", "bar-extension", "tendon", "balance", "tip-error",
    "shim",
}  # fmt: skip


def sheet(name: str, **changes: Any) -> Working:
    return catalogue.working(name, dict(catalogue.get(name).example) | changes)


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_has_every_part_in_its_order(name: str) -> None:
    text = as_text(sheet(name))
    places = [text.index(f"\n{title}\n") for title in SECTIONS]
    assert places == sorted(places)
    assert ("\nSKETCH\n" in text) or name not in WITH_GEOMETRY


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_shows_every_input_and_every_result_by_its_key(name: str) -> None:
    example = dict(catalogue.get(name).example)
    text = as_text(sheet(name))
    for key in example:
        assert re.search(rf"\({key}[).]", text) or f"({key}" in text, key
    for key, value in catalogue.run(name, example).items():
        if value not in ([], {}):
            assert f"({key})" in re.sub(r"\s+", " ", text), key


@pytest.mark.parametrize("name", NAMES)
def test_each_step_ends_with_the_figure_the_answer_gives(name: str) -> None:
    steps = [part for part in sheet(name).parts if isinstance(part, Step)]
    assert steps
    assert all(step.formula and step.numbers and step.result for step in steps)
    shown = " ".join(step.result for step in steps)
    grids = [part for part in sheet(name).parts if isinstance(part, Grid)]
    shown += " ".join(cell for grid in grids for row in grid.rows for cell in row)
    for value in catalogue.run(name, catalogue.get(name).example).values():
        unchanged = value in catalogue.get(name).example.values()
        if isinstance(value, float) and not unchanged and name != "joint-window":
            assert figure(value) in shown, value


@pytest.mark.parametrize("name", NAMES)
def test_no_line_of_a_sheet_runs_off_the_page(name: str) -> None:
    wide = [line for line in as_text(sheet(name)).splitlines() if len(line) > WIDTH]
    assert wide == []


def test_the_heading_is_blank_where_nothing_is_given() -> None:
    text = as_text(sheet("shim"))
    for word in ("Job", "Subject", "Revision", "Prepared", "Checked"):
        assert re.search(rf"{word} +_{{8,}}", text)


def test_the_heading_carries_what_is_given() -> None:
    heading = Heading(job="Bridge 7", subject="Joint P3-A4", prepared="M. Vey")
    text = as_text(catalogue.working("shim", catalogue.get("shim").example, heading))
    assert "Bridge 7" in text
    assert "Joint P3-A4" in text
    assert re.search(r"Prepared +M\. Vey", text)
    assert re.search(r"Checked +_{8,}", text)


def test_inputs_name_where_they_were_taken_from() -> None:
    example = catalogue.get("bar-extension").example
    sources = {"modulus_gpa": "certificate 4711, page 2"}
    lines = catalogue.working("bar-extension", example, sources=sources).inputs
    by_key = {line.key: line.source for line in lines if isinstance(line, Quantity)}
    assert by_key["modulus_gpa"] == "certificate 4711, page 2"
    assert by_key["area_mm2"] == "given; agree with the bar's certificate"


def test_a_default_is_marked_as_one() -> None:
    data = {"start_kpa": 10, "end_kpa": 9, "start_temp_c": 20, "end_temp_c": 19}
    lines = catalogue.working("air-test", data).inputs
    assert [
        line.source
        for line in lines
        if isinstance(line, Quantity) and line.key == "atmospheric_kpa"
    ] == ["default: standard atmosphere, ISO 2533"]


@pytest.mark.parametrize("name", sorted(WITH_GEOMETRY))
def test_a_sketch_can_be_drawn_and_lies_within_its_corners(name: str) -> None:
    sketch = sheet(name).sketch
    assert isinstance(sketch, Sketch)
    (left, low), (right, high) = corners_of(sketch)
    assert left <= right
    assert low <= high
    assert len(list(drawn(sketch))) > 3


def test_the_sketch_of_a_face_shows_signs_bars_and_voids() -> None:
    text = as_text(sheet("joint-stress", lost=[2]))
    for word in (
        "+x",
        "+y",
        "@0",
        "@1",
        "@2 lost",
        "ooo",
        "###",
        "Compression positive",
    ):
        assert word in text


def test_what_is_not_met_stands_on_the_sheet() -> None:
    changes = {"limits": {"local_min_mpa": 0.25}}
    notes = [
        p.text for p in sheet("joint-stress", **changes).parts if isinstance(p, Note)
    ]
    assert notes[-1] == (
        "NOT MET — weight on the gear: least 0.2293 MPa, at least 0.25 MPa wanted"
    )


@pytest.mark.parametrize(
    ("name", "changes", "words"),
    [
        ("dew-point", {"surface_temps_c": [30.0]}, "margin"),
        ("jack", {"force_kn": 300}, "least squares"),
        ("tendon", {"ends": 2}, "both ends added"),
        ("tendon", {"draw_in_mm": 40}, "reaches all of the tendon"),
        ("adhesive-life", {"temperatures": [[0, 5]]}, "ALARM below"),
        ("adhesive-life", {"temperatures": [[0, 35]]}, "ALARM above"),
        ("balance", {"next": {}}, "no next lift"),
        ("extension-check", {"band_percent": 1}, "OUTSIDE"),
        ("grout-volume", {"pumpable_min": 1}, "NOT IN TIME"),
        ("grout-volume", {"pumpable_min": 6}, "time to fill, pumpable 6 min t ="),
        ("joint-window", {"allowed_ratio": 0.01}, "No start today"),
    ],
)
def test_a_sheet_tells_what_is_special(
    name: str, changes: dict[str, Any], words: str
) -> None:
    assert words in re.sub(r"\s+", " ", as_text(sheet(name, **changes)))


OTHER_WAYS = [
    ("jack", {"ram_area_cm2": 200, "pressure_bar": 300}, "NOT CERTIFIED"),
    ("jack", {"ram_area_cm2": 200, "force_kn": 300}, "ideal pressure"),
    (
        "jack",
        {"calibration": [[1, 2], [9, 20]], "pressure_bar": 5},
        "force on the line",
    ),
    ("adhesive-life", {"life_table": [[10, 60], [20, 30]], "temp_c": 15}, "42.4264"),
    ("air-test", {"start_kpa": 10, "end_kpa": 9}, "0.1"),
    ("dew-point", {"air_temp_c": 20, "humidity_percent": 50}, "9.25"),
    ("grout-mix", {"water_cement": 0.4, "cement_sg": 3.15}, "1.95133"),
]


@pytest.mark.parametrize(("name", "data", "words"), OTHER_WAYS)
def test_the_other_ways_to_ask_have_their_sheet_too(
    name: str, data: dict[str, Any], words: str
) -> None:
    assert words in as_text(catalogue.working(name, copy.deepcopy(data)))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (3123.83282, "3123.83"),
        (0.00064, "0.00064"),
        (-1.5, "−1.5"),
        (168519.4, "168519"),
        (12345678.9, "12345679"),
        (1e-17, "0"),
        (-1e-17, "0"),
        (0.1 + 0.2, "0.3"),
        (True, "yes"),
        (None, "–"),
        (7, "7"),
        (-7, "−7"),
    ],
)
def test_figures_are_written_plainly(value: Any, text: str) -> None:
    assert figure(value) == text


def test_lists_and_sums_are_written_plainly() -> None:
    assert listed([1.0, [2.5, None]]) == "1, 2.5, –"
    assert (signed(-2.0), signed(2.0)) == ("− 2", "+ 2")
    with pytest.raises(TypeError):
        listed({"a": 1})


@pytest.mark.parametrize("name", NAMES)
def test_a_letter_stands_for_one_thing_on_a_sheet(name: str) -> None:
    made = sheet(name)
    inputs = [part.what for part in made.inputs if isinstance(part, Quantity)]
    # An input is called by its letter last: "friction: wobble k".
    given = {what.rsplit(" ", 1)[-1] for what in inputs}
    worked = {
        part.formula.partition(" = ")[0]
        for part in made.parts
        if isinstance(part, Step)
    }
    assert worked
    # A jack's force is given, and found again from the pressure: one thing.
    again = {"F"} if name == "jack" else set()
    assert {each for each in given & worked if len(each) <= 2} <= again
