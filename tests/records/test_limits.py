"""Limits as paper tells them: of a line what every line has, and what it alone has."""

from typing import Any

from fieldapp.records.limits import bound_text, narrowed, of_line

READ = {"word": "reading", "step": "ease", "field": "hook"}
STAGE = {"word": "constant", "name": "ease.low"}, {"word": "constant", "name": "most"}
SHEET: dict[str, Any] = {
    "values": {},
    "conditions": {},
    "steps": {
        "ease": {
            "checks": [
                {"id": "stage", "scope": "line", "must": {
                    "word": "between", "value": READ,
                    "low": STAGE[0], "high": STAGE[1]}},
                {"id": "left", "scope": "step", "must": {
                    "word": "between", "value": READ | {"line": "last"}, "high": 10}},
            ],
        },
    },
}  # fmt: skip


def said(line: str, **numbers: int) -> list[str]:
    known = {"ease.low": numbers["low"], "most": numbers["high"]}
    found = narrowed(of_line(SHEET, "ease", ("field", "hook"), line), known)
    return [bound_text(each, known, 0) for each in found]


def test_the_last_stage_tells_what_may_be_left_and_not_its_band() -> None:
    assert said("last", low=0, high=49) == ["0 to 10"]


def test_a_stage_before_it_tells_its_band() -> None:
    assert said("first", low=318, high=416) == ["318 to 416"]
