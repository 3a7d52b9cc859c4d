"""Figures as gloved people type them: comma or point, never rounded, never guessed."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.records.figures import computed
from tests.javascript import JavaScript

NUMBERS = "static/phone/numbers.js"


def parse(javascript: JavaScript, text: str, places: int) -> Any:
    return javascript.call(NUMBERS, "parseFigure", text, places)


@pytest.mark.parametrize(
    ("text", "places", "value"),
    [
        ("21,5", 1, 215),
        ("21.5", 1, 215),
        ("21", 1, 210),
        ("21,", 1, 210),
        ("-3.5", 1, -35),
        ("\u22123,5", 1, -35),
        ("-0", 0, 0),
        ("007", 0, 7),
        ("1,50", 1, 15),
        ("0.004", 3, 4),
        (" 612 ", 0, 612),
    ],
)
def test_a_figure_is_read_by_hand_count(
    javascript: JavaScript, text: str, places: int, value: int
) -> None:
    assert parse(javascript, text, places) == {"value": value}


@pytest.mark.parametrize(
    ("text", "places", "fault"),
    [
        ("", 1, "empty"),
        ("-", 1, "empty"),
        ("21,55", 1, "too_fine"),
        ("1.5", 0, "too_fine"),
        ("1.000,5", 1, "unreadable"),
        ("1,000.5", 1, "unreadable"),
        ("12e3", 0, "unreadable"),
        ("twelve", 0, "unreadable"),
        ("1000000000001", 0, "too_large"),
        ("99999999999999", 0, "unreadable"),
    ],
)
def test_what_cannot_be_meant_exactly_is_refused(
    javascript: JavaScript, text: str, places: int, fault: str
) -> None:
    assert parse(javascript, text, places)["fault"] == fault


@given(value=st.integers(-(10**12), 10**12), places=st.integers(0, 6))
def test_a_figure_shown_is_read_back_as_it_was(
    javascript: JavaScript, value: int, places: int
) -> None:
    shown = javascript.call(NUMBERS, "figureText", value, places)
    found = parse(javascript, shown, places)
    if abs(value) < 10 ** (12 - places):
        assert found == {"value": value}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("1016", {"hours": 10, "minutes": 16}),
        ("9:05", {"hours": 9, "minutes": 5}),
        ("2400", None),
        ("1060", None),
        ("7", None),
    ],
)
def test_a_time_of_day_is_typed_as_four_digits(
    javascript: JavaScript, text: str, found: Any
) -> None:
    assert javascript.call(NUMBERS, "parseTimeOfDay", text) == found


@pytest.mark.parametrize(
    ("value", "show", "text"),
    [
        # 11.9001 m/s must not read as less, 0.2769 MPa not as more.
        (119_001, {"unit": "m/s", "places": 4, "shown": 1, "round": "up"}, "12.0 m/s"),
        (70_200, {"unit": "m/s", "places": 4, "shown": 1, "round": "up"}, "7.1 m/s"),
        (120_000, {"unit": "m/s", "places": 4, "shown": 1, "round": "up"}, "12.0 m/s"),
        (2_769, {"unit": "MPa", "places": 4, "shown": 3, "round": "down"}, "0.276 MPa"),
        (-2_761, {"unit": "MPa", "places": 4, "shown": 3, "round": "down"},
         "\u22120.277 MPa"),
        (-1_001, {"unit": "mrad", "places": 3, "shown": 2, "round": "out"},
         "\u22121.01 mrad"),
        (1_001, {"unit": "mrad", "places": 3, "shown": 2, "round": "out"}, "1.01 mrad"),
        (-1, {"unit": "mm", "places": 1, "shown": 0, "round": "up"}, "0 mm"),
        (2_769, {"unit": "MPa", "places": 4}, "0.2769 MPa"),
    ],
)  # fmt: skip
def test_a_computed_figure_is_made_short_on_its_safe_side_on_phone_and_paper(
    javascript: JavaScript, value: int, show: dict[str, Any], text: str
) -> None:
    shown = javascript.call(NUMBERS, "computedText", value, show)
    assert shown.replace("\u00a0", " ") == text
    assert computed(value, show, show["unit"]).replace("\u00a0", " ") == text


def test_names_are_put_in_the_order_people_count_in(javascript: JavaScript) -> None:
    assert javascript.call(NUMBERS, "inOrder", "Joint 3E2", "Joint 3E10") < 0
    assert javascript.call(NUMBERS, "inOrder", "Bar 9", "Bar 10, 32 mm") < 0
