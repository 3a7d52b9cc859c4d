"""Numbers and tables as people write them: one reading, or none."""

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.refusals import MISSING
from fieldapp.web.calculations.groups import ADVICE, EXAMPLES, GROUPS, grouped
from fieldapp.web.calculations.reading import HEADINGS, read_fields
from fieldapp.web.calculations.units import clock, read
from fieldapp.web.calculations.written import (
    Columns,
    TableFault,
    number,
    numbers,
    table,
)

PAIR = Columns(names=("x_m", "y_m"), texts=frozenset(), fewest=2)
BAR = Columns(names=("x_m", "y_m", "force_kn", "cap_kn"), texts=frozenset(), fewest=3)
STATE = Columns(names=("name", "moment_x", "moment_y"), texts=frozenset({0}), fewest=3)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12), (" 1.5 ", 1.5), ("1,5", 1.5), ("−2,5", -2.5), ("+3", 3),
        (".5", 0.5), ("5.", 5.0), ("1e3", 1000.0), ("2E-3", 0.002),
    ],
)  # fmt: skip
def test_a_number_is_read_with_point_or_comma(text: str, value: float) -> None:
    assert number(text) == value


@pytest.mark.parametrize(
    "text",
    ["", "x", "1 000", "1.234,5", "1,234.5", "1_000", "0x10", "nan", "inf", "١٢",
     "1e", "--1", "9" * 41, "1e9999"],
)  # fmt: skip
def test_what_is_no_number_stays_the_text_it_is(text: str) -> None:
    assert number(text) == text


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("24.4; 23.1; 22.9", [24.4, 23.1, 22.9]),
        ("24,4; 23,1", [24.4, 23.1]),
        ("24,4 23,1", [24.4, 23.1]),
        ("24.4, 23.1", [24.4, 23.1]),
        ("24.4,23.1", [24.4, 23.1]),
        ("24,4;", [24.4]),
        ("0\n2\n", [0, 2]),
        ("7", [7]),
        ("", []),
    ],
)
def test_numbers_are_told_apart(text: str, values: list[float]) -> None:
    assert numbers(text) == values


@pytest.mark.parametrize("text", ["0,2", "1,2,3"])
def test_commas_that_could_be_either_are_not_guessed(text: str) -> None:
    with pytest.raises(TableFault, match="semicolons"):
        numbers(text)


@pytest.mark.parametrize(
    "text",
    ["0\t0\n4,5\t2", "0;0\n4,5;2", "0; 0 ;\n4.5; 2;", "0 0\n4.5 2", "0 0\n4,5 2",
     "0,0\n4.5,2", "0, 0\n4.5, 2", "x;y\n0;0\n\n4.5;2\n", "x_m,y_m\n0,0\n4.5,2"],
)  # fmt: skip
def test_a_table_is_read_by_the_separator_that_makes_rows(text: str) -> None:
    assert table(text, PAIR) == [[0, 0], [4.5, 2]]


def test_cells_at_the_end_may_be_left_out() -> None:
    assert table("1;2;3\n1;2;3;4\n1\t2\t3\t", BAR) == [
        [1, 2, 3, ""],
        [1, 2, 3, 4],
        [1, 2, 3, ""],
    ]


def test_names_may_hold_spaces() -> None:
    assert table("name;x;y\nweight on bars;-120,5;0", STATE) == [
        ["weight on bars", -120.5, 0]
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [("0;0\n1", "line 2"), ("0;0;0\n1;1", "line 1"), ("1,2,3,4\n", "line 1"),
     ("0;0\nx;1", "line 2"), ("0 0 0\n0 0 0", "line 1")],
)  # fmt: skip
def test_a_line_that_is_no_row_is_named_and_never_dropped(text: str, line: str) -> None:
    with pytest.raises(TableFault, match=line):
        table(text, PAIR)


def test_a_blank_cell_of_a_row_is_missing_and_a_blank_row_is_no_row() -> None:
    given = read_fields(
        catalogue.get("section"),
        {"outline.0.x_m": "1", "outline.0.y_m": "", "outline.4.x_m": " ",
         "outline.7.x_m": "2", "outline.7.y_m": "3"},
    )  # fmt: skip
    assert given.data == {"outline": [[1, MISSING], [2, 3]]}


def test_an_untouched_form_gives_only_what_may_be_empty() -> None:
    given = read_fields(catalogue.get("balance"), {})
    assert given.data == {"arms": {"A": [], "B": []}, "next": {}}
    assert read_fields(catalogue.get("joint-stress"), {}).data == {}


def test_a_choice_is_read_as_the_option_it_is() -> None:
    assert read_fields(catalogue.get("tendon"), {"ends": "2"}).data["ends"] == 2
    assert read_fields(catalogue.get("tendon"), {"ends": "3"}).data["ends"] == "3"


def test_no_key_of_a_calculation_is_a_name_the_form_needs() -> None:
    taken = {"heading", "source", "input", "press", "paste", "csrf_token", *HEADINGS}
    for name in catalogue.names():
        keys = {each.key for each in catalogue.get(name).inputs.fields}
        assert not keys & taken


def test_every_calculation_is_in_one_group_and_advice_is_for_known_ones() -> None:
    listed = [name for _, names in GROUPS for name in names]
    assert sorted(listed) == sorted(catalogue.names())
    assert [each.name for _, found in grouped() for each in found] == listed
    assert set(ADVICE) | set(EXAMPLES) <= set(listed)


@pytest.mark.parametrize(
    ("value", "shown"),
    [(0.0, "0"), (-1.985e-17, "0"), (0.229307, "0.2293"), (3531.15, "3531"),
     (12345.6, "12346"), (-4.5, "−4.5"), (0.00064, "0.00064"), (2e-7, "2.000e−07"),
     (1.5e12, "1.500e+12"), (100.0, "100")],
)  # fmt: skip
def test_a_figure_is_short_and_never_cut_before_the_point(
    value: float, shown: str
) -> None:
    assert read(value) == shown


def test_an_hour_is_shown_as_a_clock_shows_it() -> None:
    assert [clock(6.5), clock(24.0), clock(-1.0)] == [
        "06:30",
        "00:00 (day +1)",
        "23:00 (day −1)",
    ]
