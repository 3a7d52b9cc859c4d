"""What an expression asks is told from its words; sharing answers rests on it."""

from typing import Any

from fieldapp.core.asks import Asks
from tests.core.small import between, reading

SHEET: dict[str, Any] = {
    "values": {
        "force": reading("bars", "gauge"),
        "last": {"word": "reduce", "how": "last", "step": "bars", "value": "force"},
        "pull": {"word": "form", "constant": 5, "terms": [[2, "last"]]},
        "share": {"word": "life", "clock": "open", "to": "now"},
    },
    "conditions": {
        "high": between("pull", 10),
        "behind": {"word": "reached", "step": "mix"},
    },
}
ASKS = Asks(SHEET)


def test_a_reading_of_its_own_line_asks_that_line_only() -> None:
    assert ASKS.only_line(between("force", 0, 5), "bars")


def test_a_reading_of_another_step_or_a_named_line_asks_more() -> None:
    assert not ASKS.only_line(between("force", 0, 5), "mix")
    named = {**reading("bars", "gauge"), "line": "b1"}
    assert not ASKS.only_line(between(named, 0, 5), "bars")


def test_a_fold_over_lines_asks_more_than_one_line() -> None:
    assert not ASKS.only_line("high", "bars")


def test_time_and_what_is_reached_are_more_than_lines() -> None:
    assert ASKS.steps(between("share", 0, 1)) is None
    assert ASKS.steps({"word": "all", "of": ["high", "behind"]}) is None
    assert ASKS.steps("high") == frozenset({"bars"})


def test_only_what_stands_outside_folds_means_another_thing_on_each_line() -> None:
    assert ASKS.by_line("force")
    assert not ASKS.by_line("high")


def test_a_test_needs_a_line_of_what_it_folds() -> None:
    assert [word["how"] for word in ASKS.needed("high")] == ["last"]
    both = {"word": "all", "of": ["behind", "high"]}
    assert [word["how"] for word in ASKS.needed(both)] == ["last"]


def test_nothing_is_needed_where_there_is_another_way() -> None:
    either = {"word": "any", "of": ["behind", "high"]}
    assert list(ASKS.needed(either)) == []
    none_yet = {"word": "reduce", "how": "count", "step": "bars"}
    assert list(ASKS.needed(between(none_yet, 0, 3))) == []
