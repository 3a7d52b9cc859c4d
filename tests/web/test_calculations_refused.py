"""Bad input of the calculation pages: told, kept, and never an error of ours."""

import json
import random
import re
from collections.abc import Iterator
from typing import Any

import pytest

from fieldapp.calc import catalogue
from tests.calculation_pages import SHIM, Names, field, press
from tests.desk import Desk, desk


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """Serve the desk once: no calculation leaves anything there."""
    made = desk(tmp_path_factory.mktemp("desk"))
    made.sign_in()
    return made


def test_bad_input_comes_back_with_the_form_kept_and_every_fault_told(
    page: Desk,
) -> None:
    fields = {"thickness_mm": "thick", "depth_m": "-2", "tip_distance_m": ""}
    answer = press(page, "shim", fields)
    text = answer.text.replace("&#39;", "'")
    assert answer.status_code == 400
    assert field(text, "thickness_mm") == "thick"
    assert field(text, "depth_m") == "-2"
    assert "'thick' is not allowed; allowed: a finite number, above 0 mm" in text
    assert "-2 is not allowed; allowed: a finite number, above 0 m" in text
    assert "is missing; allowed: joint to tip L, which is needed" in text
    assert text.count('aria-invalid="true"') == 3
    assert '<a href="#depth_m">' in text
    assert "Calculation sheet" not in text


def test_a_fault_in_a_row_stands_beside_its_cell(page: Desk) -> None:
    bars = {"bars.0.x_m": "1", "bars.0.y_m": "1", "bars.0.force_kn": "much"}
    outline = {"paste.outline": "0 0\n4 0\n4 2\n0 2"}
    text = press(page, "joint-stress", {**outline, **bars}).text
    assert 'id="bars.0.force_kn-fault"' in text
    assert "bars[0].force_kn" in text


def test_rules_between_keys_are_told_at_the_key(page: Desk) -> None:
    fields = {"calibration.0.pressure_bar": "1", "calibration.0.force_kn": "2",
              "calibration.1.pressure_bar": "2", "calibration.1.force_kn": "4",
              "pressure_bar": "1.5", "force_kn": "3"}  # fmt: skip
    answer = press(page, "jack", fields)
    assert answer.status_code == 400
    assert "not together with pressure_bar" in answer.text
    assert 'id="force_kn-fault"' in answer.text


def test_a_value_outside_a_table_is_refused_with_its_range(page: Desk) -> None:
    answer = press(page, "wind", {"speed_10m_m_per_s": "8", "height_m": "151"})
    assert answer.status_code == 400
    assert "151 is not allowed; allowed: from 10 to 150" in answer.text


def test_a_table_that_cannot_be_read_is_kept_and_its_line_named(page: Desk) -> None:
    answer = press(page, "section", {"paste.outline": "0;0\n4;0;7\n4;2"})
    assert answer.status_code == 400
    assert "line 2, “4;0;7”: wanted x_m, y_m" in answer.text
    assert "0;0\n4;0;7\n4;2</textarea>" in answer.text


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("{", "not one JSON object"),
        ('{"depth_m": 1, "depth_m": 2}', "depth_m is given twice"),
        ("[1]", "an object of keys and values"),
        ('{"width_m": 1}', "no such key"),
        ('{"depth_m": NaN}', "NaN is not allowed"),
        ("", "not one JSON object"),
    ],
)
def test_json_that_is_no_input_is_refused_and_kept(
    page: Desk, text: str, told: str
) -> None:
    answer = press(page, "shim", {"input": text}, press="json")
    assert answer.status_code == 400
    assert told in answer.text


def test_work_that_would_hold_up_the_desk_is_left_to_the_command(page: Desk) -> None:
    example = json.loads(json.dumps(catalogue.get("joint-window").example))
    for change, told in (
        ({"runs": 90_000}, "90000 is not allowed; allowed: at most"),
        ({"forecast": [[0, 10], [120, 12]]}, "at most 96 hours"),
    ):
        text = json.dumps(example | change)
        answer = press(page, "joint-window", {"input": text}, press="json")
        assert answer.status_code == 400
        assert "at the desk; the command takes more" in answer.text
        assert told in answer.text


def test_what_is_typed_is_shown_as_text_only(page: Desk) -> None:
    evil = '"><script>alert(1)</script>'
    fields = {**SHIM, "depth_m": evil, "heading.job": evil}
    text = press(page, "shim", fields).text
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text


def test_a_form_without_its_token_is_refused(page: Desk) -> None:
    assert page.client.post("/calculations/shim", data=SHIM).status_code == 400


ARABIC_ONE = "\N{ARABIC-INDIC DIGIT ONE}"
NONSENSE = ("", " ", "x", "0", "-1", "1e999", "1e-320", "NaN", "Infinity", ARABIC_ONE,
            "9" * 5000, "1;2", "{}", "[]", "\x00", "null", "1,2,3", "−5")  # fmt: skip
PRESSES = ("work", "add", "add x", "add bars", "remove", "remove bars.0", "read",
           "json", "pdf", "", "add bars.0.x_m", "remove ..")  # fmt: skip


@pytest.mark.parametrize("name", catalogue.names())
def test_no_nonsense_in_a_form_breaks_a_page(
    page: Desk, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(page.app.config, "WTF_CSRF_ENABLED", False)
    chance = random.Random(name)
    text = page.client.get(f"/calculations/{name}/example", follow_redirects=True).text
    names = [control["name"] or "" for control in Names(text).controls]
    given = {each: chance.choice(NONSENSE) for each in names}
    for _ in range(25):
        fields = {
            each: chance.choice(NONSENSE) if chance.random() < 0.4 else given[each]
            for each in names
            if chance.random() < 0.9
        }
        fields["press"] = chance.choice(PRESSES)
        answer = page.client.post(f"/calculations/{name}", data=fields)
        assert answer.status_code in (200, 303, 400), fields


@pytest.mark.parametrize("name", catalogue.names())
def test_no_size_in_an_address_breaks_a_page_or_its_picture(
    page: Desk, name: str
) -> None:
    chance = random.Random(name)
    worked = 0
    for _ in range(40):
        data = _changed(json.loads(json.dumps(catalogue.get(name).example)), chance)
        answer = page.client.get(
            f"/calculations/{name}", query_string={"input": json.dumps(data)}
        )
        assert answer.status_code in (200, 400), data
        assert not re.search(r"\b(?:nan|inf)\b", answer.text), data
        worked += answer.status_code == 200
    assert worked, "some of them can be worked out"


def _changed(data: Any, chance: random.Random) -> Any:
    """The data with one to three numbers made larger, smaller, nought or negative."""
    places = list(_places(data))
    for *within, last in chance.sample(places, min(len(places), chance.randint(1, 3))):
        part = data
        for key in within:
            part = part[key]
        part[last] *= chance.choice([0, -1, 0.5, 1.01, 2, 10, 1e-6, 1e6, 1e11])
    return data


def _places(data: Any, *within: Any) -> Iterator[tuple[Any, ...]]:
    """Where the numbers of the data are."""
    if isinstance(data, int | float):
        yield within
    elif isinstance(data, dict | list):
        pairs = data.items() if isinstance(data, dict) else enumerate(data)
        for key, part in pairs:
            yield from _places(part, *within, key)
