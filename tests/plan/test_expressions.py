"""The plan's expressions become the kernel's words, counted in whole numbers."""

from pathlib import Path
from typing import Any

import pytest

from fieldapp.core.kernel import WORDS
from fieldapp.plan import compile_site, read_site
from fieldapp.plan.conditions import READERS as CONDITIONS
from fieldapp.plan.expressions import READERS as VALUES
from tests.plan.sample import copied, faults_of, spoil

PLAN = "plan/glued_joint.toml"


def compiled_value(folder: Path, written: str) -> Any:
    """Give the word of a value that is put into the sample's plan."""
    spoil(copied(folder), PLAN, "hottest = {", f"mine = {written}\nhottest = {{")
    return compile_site(read_site(folder)).sheets["j-w1"]["values"]["mine"]


def test_the_plan_can_say_what_the_kernel_knows_and_nothing_else() -> None:
    assert sorted([*VALUES, *CONDITIONS]) == sorted(WORDS)
    assert len(WORDS) == 15


@pytest.mark.parametrize(
    ("written", "word"),
    [
        (
            (
                '{ form = [[1, { reading = "faces.air" }], [-1, "coldest"]], '
                'plus = 0.5, unit = "°C", places = 1 }'
            ),
            {
                "word": "form",
                "constant": 5,
                "divisor": 1,
                "terms": [
                    [1, {"word": "reading", "step": "faces", "field": "air"}],
                    [-1, "coldest"],
                ],
            },
        ),
        (
            # Half a degree from tenths to hundredths: 0.5 × 10 = 5; quarters are exact.
            (
                '{ form = [[0.5, "coldest"], [0.25, "dew-margin"]], '
                'unit = "°C", places = 2 }'
            ),
            {
                "word": "form",
                "constant": 0,
                "divisor": 4,
                "terms": [[20, "coldest"], [1, "dew-margin"]],
            },
        ),
        (
            (
                '{ choose = { reading = "faces.formulation" }, '
                'cases = [[1, "window-low"], [2, "window-high"]], '
                'otherwise = "coldest" }'
            ),
            {
                "word": "choose",
                "by": {"word": "reading", "step": "faces", "field": "formulation"},
                "cases": [[1, "window-low"], [2, "window-high"]],
                "otherwise": "coldest",
            },
        ),
        (
            '{ reduce = "count", step = "bars", item = "b2", round = 3 }',
            {
                "word": "reduce",
                "how": "count",
                "step": "bars",
                "item": "b2",
                "round": 3,
            },
        ),
        (
            '{ reduce = "min", values = ["coldest", "hottest"] }',
            {"word": "reduce", "how": "min", "values": ["coldest", "hottest"]},
        ),
        (
            (
                '{ slope = "bars", x = { reading = "bars.pressure" }, y = "force", '
                'item = "b1" }'
            ),
            {
                "word": "slope",
                "step": "bars",
                "item": "b1",
                "x": {"word": "reading", "step": "bars", "field": "pressure"},
                "y": "force",
            },
        ),
        (
            (
                '{ elapsed = { from = { at = "mix-cool", line = "kit-1" }, '
                'to = "pressure" }, as = "not_before" }'
            ),
            {
                "word": "elapsed",
                "from": {"step": "mix-cool", "line": "kit-1"},
                "to": {"milestone": "pressure"},
                "as": "not_before",
            },
        ),
        (
            '{ life = "open-cool", to = "now" }',
            {"word": "life", "clock": "open-cool", "to": "now"},
        ),
        (
            '{ reading = "spots.film", line = "top" }',
            {"word": "reading", "step": "spots", "field": "film", "line": "top"},
        ),
        (
            '{ table = "dew-point", x = { reading = "faces.air" }, y = 60 }',
            {
                "word": "table",
                "table": "dew-point",
                "x": {"word": "reading", "step": "faces", "field": "air"},
                "y": 60,
            },
        ),
    ],
)
def test_an_expression_becomes_a_word(tmp_path: Path, written: str, word: Any) -> None:
    assert compiled_value(tmp_path / "site", written) == word


@pytest.mark.parametrize(
    ("written", "allowed"),
    [
        ("5", "a bare number has no unit here"),
        ('"nowhere"', "a value made before"),
        ('"mine"', "a value made before"),
        ('{ reading = "faces.air", line = "x", hue = 1 }', "line, reading"),
        ('{ reading = "spots.film", line = "roof" }', "a line or item of this step"),
        ('{ reduce = "last", step = "bars", value = "force", item = "b9" }', "b1, b2"),
        ('{ form = [[1, "coldest"], [1, "force"]], unit = "°C", places = 1 }', "in °C"),
        (
            '{ form = [[1, "coldest"]], unit = "°C", places = 1, plus = "x" }',
            "number",
        ),
        ('{ reduce = "min", values = ["coldest", "force"] }', "°C with 1 places"),
        ('{ choose = "coldest", cases = [[1, "coldest"], [2, "force"]] }', "°C with 1"),
        ('{ table = "open-cool", x = "coldest" }', "straight lines"),
        ('{ table = "dew-point", x = "force", y = 60 }', "°C with 1 places"),
        ('{ field = "bars.jack", name = "weight" }', "slope, intercept, low, high"),
        ('{ constant = "spots.target" }', "a number of a step's lines"),
        ('{ life = "open", to = "now" }', "a clock"),
        ('{ elapsed = { from = "faces", to = "later" }, as = "use_by" }', "milestone"),
        ('{ elapsed = { from = "faces", to = "now" }, as = "long" }', "use_by"),
        ("true", "a number"),
        ("[1]", "a number"),
    ],
)
def test_an_expression_that_means_nothing_is_a_fault(
    tmp_path: Path, written: str, allowed: str
) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, "hottest = {", f"mine = {written}\nhottest = {{")
    assert any(allowed in fault.allowed for fault in faults_of(folder)), [
        str(fault) for fault in faults_of(folder)
    ]


def test_a_line_is_read_only_where_there_is_one(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    spoil(folder, PLAN, 'must = "no-frost"', 'must = { between = "force", low = 1 }')
    (fault,) = faults_of(folder)
    assert fault.found == '"the current line of bars"'
    assert "a reduce over the lines" in fault.allowed


def test_values_may_be_declared_in_any_order(tmp_path: Path) -> None:
    written = '{ reduce = "max", values = ["later", "coldest"] }\nlater = "hottest"'
    word = compiled_value(tmp_path / "site", written)
    assert word == {"word": "reduce", "how": "max", "values": ["later", "coldest"]}
