"""Input of every calculation, spoiled: an answer in finite figures, or a refusal."""

import json
from random import Random
from typing import Any

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.working import Heading
from fieldapp.calc.working_text import as_text
from fieldapp.commands.calc import read_object
from tests.fuzz.spoil import as_json, bounded, seeds, spoiled, spoiled_bytes

LONGEST_REFUSAL = 600
LONG = [[hour, 15] for hour in range(200)]


@pytest.mark.parametrize("name", catalogue.names())
def test_a_spoiled_input_is_worked_out_or_refused_by_name(name: str) -> None:
    example = catalogue.get(name).example
    for seed in seeds(60):
        rng = Random(f"{name} {seed}")
        data: Any = spoiled(example, rng)
        with bounded():
            try:
                answer = catalogue.run(name, data)
                sheet = catalogue.working(name, data, Heading(), version="v")
            except CalcRefusal as refused:
                assert_told(refused)
            else:
                assert json.dumps(answer, allow_nan=False)
                assert as_text(sheet)


@pytest.mark.parametrize("name", catalogue.names())
def test_spoiled_text_is_read_as_one_object_or_refused(name: str) -> None:
    good = as_json(catalogue.get(name).example)
    for seed in seeds(20):
        raw = spoiled_bytes(good, Random(f"{name} {seed}"))
        with bounded():
            try:
                text = raw.decode("utf-8-sig")
                catalogue.run(name, read_object(text))
            except CalcRefusal as refused:
                assert_told(refused)
            except UnicodeDecodeError:
                assert raw


def test_humidity_too_small_to_divide_is_refused() -> None:
    data = {"air_temp_c": 25, "humidity_percent": 5e-324}
    with pytest.raises(CalcRefusal, match="humidity_percent"):
        catalogue.run("dew-point", data)


def test_a_sketch_of_next_to_nothing_is_drawn_and_of_less_is_refused() -> None:
    data = {"thickness_mm": 1.6, "depth_m": 2.5, "tip_distance_m": 1e-12}
    sheet = catalogue.working("shim", data, Heading(), version="v")
    assert as_text(sheet)
    data["tip_distance_m"] = 5e-324
    with pytest.raises(CalcRefusal, match=r"tip_distance_m .* at least 1e-12"):
        catalogue.run("shim", data)


@pytest.mark.parametrize(
    "changed",
    [{"forecast": [[6, 9], [1e9, 9]]}, {"runs": 100_000, "forecast": LONG}],
    ids=["a forecast of a million years", "a hundred thousand runs for every hour"],
)
def test_more_than_anybody_waits_for_is_refused(changed: dict[str, Any]) -> None:
    data = {**catalogue.get("joint-window").example, **changed}
    with bounded(), pytest.raises(CalcRefusal):
        catalogue.run("joint-window", data)


def assert_told(refused: CalcRefusal) -> None:
    """A refusal says where, what and what is allowed, in a readable length."""
    assert refused.allowed in str(refused)
    assert len(str(refused)) < LONGEST_REFUSAL, str(refused)
