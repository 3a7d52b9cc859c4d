"""Heads of tables in words with their units: no key of the input is left in them."""

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.headings import headed
from fieldapp.calc.working import Grid


@pytest.mark.parametrize(
    ("key", "unit", "head"),
    [
        ("temp_c", "°C", "temperature [°C]"),
        ("life_min", "", "life [min]"),
        ("moment_knm", "", "moment [kNm]"),
        ("start_hour", "", "start hour"),
        ("minute", "min", "minute [min]"),
    ],
)
def test_a_key_is_told_in_words_and_its_unit_once(
    key: str, unit: str, head: str
) -> None:
    assert headed(key, unit) == head


@pytest.mark.parametrize("name", catalogue.names())
def test_no_table_of_a_sheet_is_headed_by_a_key(name: str) -> None:
    working = catalogue.working(name, catalogue.get(name).example)
    grids = [g for g in (*working.inputs, *working.results) if isinstance(g, Grid)]
    assert [head for grid in grids for head in grid.columns if "_" in head] == []
