"""The calculations at the desk: asked by form, address or JSON, and never broken."""

import json
import re
from pathlib import Path

import pytest

from fieldapp.calc import catalogue
from fieldapp.calc.catalogue import get, names, run
from fieldapp.web.calculations.headline import headline
from tests.calculation_pages import (
    SHEET,
    SHIM,
    UNSAFE,
    Names,
    field,
    first,
    press,
)
from tests.desk import Desk, desk


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """Serve the desk once: no calculation leaves anything there."""
    made = desk(tmp_path_factory.mktemp("desk"))
    made.sign_in()
    return made


@pytest.mark.parametrize("path", ["", "/shim", "/shim/example", "/shim/sheet.pdf"])
def test_only_people_who_signed_in_may_calculate(tmp_path: Path, path: str) -> None:
    answer = desk(tmp_path).client.get(f"/calculations{path}")
    assert answer.status_code == 302
    assert answer.location.startswith("/sign-in")


def test_the_list_leads_to_every_calculation(page: Desk) -> None:
    text = page.client.get("/calculations").text
    for name in catalogue.names():
        assert f'href="/calculations/{name}"' in text
        assert catalogue.get(name).title in text.replace("&#39;", "'")
    assert not UNSAFE.search(text)


def test_a_whole_bound_is_told_as_it_may_be_typed(page: Desk) -> None:
    # 2^53, the greatest seed; shortened to 9.0072e+15 it would be above itself.
    text = page.client.get("/calculations/joint-window").text
    assert "up to 9007199254740992" in text
    assert "e+" not in text


def test_an_unknown_calculation_is_not_found(page: Desk) -> None:
    assert page.client.get("/calculations/strength").status_code == 404
    assert page.client.get("/calculations/strength/example").status_code == 404


@pytest.mark.parametrize("name", catalogue.names())
def test_each_example_is_worked_out_with_picture_and_sheet(
    page: Desk, name: str
) -> None:
    answer = page.client.get(f"/calculations/{name}/example", follow_redirects=True)
    text = answer.text
    assert answer.status_code == 200
    assert answer.request.args, "the address holds the input"
    assert first(text)
    assert re.search(r"<svg[^>]*role=\"img\".*?<title.*?<desc", text, re.DOTALL)
    for heading in SHEET:
        assert heading in text
    assert not UNSAFE.search(text)


@pytest.mark.parametrize("name", catalogue.names())
@pytest.mark.parametrize("path", ["", "/example"])
def test_every_control_has_a_name_and_every_reference_its_place(
    page: Desk, name: str, path: str
) -> None:
    answer = page.client.get(f"/calculations/{name}{path}", follow_redirects=True)
    names = Names(answer.text)
    assert len(names.ids) == len(set(names.ids))
    assert set(names.pointed) <= set(names.ids)
    for control in names.controls:
        assert control["id"] in names.named or control.get("aria-label")


def test_a_form_is_worked_out_and_its_address_kept(page: Desk) -> None:
    answer = press(page, "shim", SHIM)
    # By hand: 1.6 mm / 2.5 m x 36 m = 23.04 mm.
    assert first(answer.text) == "Movement of the tip 23.04 mm"
    assert answer.request.query_string == (
        b"thickness_mm=1.6&depth_m=2.5&tip_distance_m=36"
    )
    again = page.client.get(answer.request.url)
    assert first(again.text) == "Movement of the tip 23.04 mm"


def test_a_decimal_comma_is_read_and_shown_as_it_was_read(page: Desk) -> None:
    text = press(page, "shim", {**SHIM, "thickness_mm": "1,6"}).text
    assert first(text) == "Movement of the tip 23.04 mm"
    assert field(text, "thickness_mm") == "1.6"


def test_a_row_is_added_and_removed_without_script(page: Desk) -> None:
    rows = {
        "readings.0.force_percent": "20",
        "readings.0.extension_mm": "44",
        "readings.1.force_percent": "40",
        "readings.1.extension_mm": "91",
    }
    more = press(page, "extension-check", rows, press="add readings")
    assert more.status_code == 200
    assert field(more.text, "readings.1.extension_mm") == "91"
    assert field(more.text, "readings.2.extension_mm") == ""
    assert "readings.3." not in more.text
    assert "Not worked out" not in more.text
    less = press(page, "extension-check", rows, press="remove readings.0")
    assert field(less.text, "readings.0.extension_mm") == "91"
    assert "readings.1." not in less.text


def test_blank_rows_stay_when_another_is_added(page: Desk) -> None:
    rows = {f"readings.{i}.{key}": "" for i in range(4)
            for key in ("force_percent", "extension_mm")}  # fmt: skip
    text = press(page, "extension-check", rows, press="add readings").text
    assert 'name="readings.4.extension_mm"' in text


def test_a_pasted_table_becomes_rows_and_is_worked_out(page: Desk) -> None:
    pasted = "x\ty\n0\t0\n4,5\t0\n4,5\t2\n0\t2\n"
    shown = press(page, "section", {"paste.outline": pasted}, press="read outline")
    assert field(shown.text, "outline.1.x_m") == "4.5"
    worked = press(page, "section", {"paste.outline": pasted})
    # By hand: 4.5 m x 2 m = 9 m2.
    assert first(worked.text) == "Area 9 m²"


def test_voids_are_added_and_worked_out(page: Desk) -> None:
    fields = {"paste.outline": "0 0\n4 0\n4 2\n0 2"}
    grown = press(page, "section", fields, press="add voids").text
    assert 'name="voids.0.2.y_m"' in grown
    inner = {"voids.0.0.x_m": "1", "voids.0.0.y_m": "0.5",
             "voids.0.1.x_m": "3", "voids.0.1.y_m": "0.5",
             "voids.0.2.x_m": "3", "voids.0.2.y_m": "1.5",
             "voids.0.3.x_m": "1", "voids.0.3.y_m": "1.5"}  # fmt: skip
    # By hand: 4 x 2 - 2 x 1 = 6 m2.
    assert first(press(page, "section", {**fields, **inner}).text) == "Area 6 m²"


def test_json_is_a_way_in(page: Desk) -> None:
    data = json.dumps({key: float(value) for key, value in SHIM.items()})
    text = press(page, "shim", {"input": data}, press="json").text
    assert first(text) == "Movement of the tip 23.04 mm"
    assert field(text, "depth_m") == "2.5"


def test_an_input_too_long_for_an_address_is_answered_where_it_was_sent(
    page: Desk,
) -> None:
    readings = "\n".join(f"{n / 10} {n / 5}" for n in range(900))
    fields = {"paste.readings": readings, "calculated_mm": "200", "band_percent": "5"}
    answer = press(page, "extension-check", fields)
    assert answer.status_code == 200
    assert not answer.request.args
    # By hand: the readings lie on a line of 2 mm a per cent, 200 mm at 100 %.
    assert first(answer.text) == "Difference 0 %"
    assert "too long for an address" in answer.text
    assert 'name="readings.0.' not in answer.text, "shown as one text"


def test_heading_and_sources_are_on_the_sheet_and_in_the_address(page: Desk) -> None:
    more = {"heading.job": "Gull Ford", "heading.checked": "A. Kestrel",
            "source.depth_m": "drawing 114"}  # fmt: skip
    answer = press(page, "shim", {**SHIM, **more})
    for words in ("Gull Ford", "A. Kestrel", "drawing 114"):
        assert answer.text.count(words) >= 2, "in the form and on the sheet"
    assert answer.request.args["heading.job"] == "Gull Ford"


def test_what_is_a_part_of_something_is_said_in_hundredths_of_it() -> None:
    def first(name: str, **changes: float) -> tuple[str, str, str]:
        calculation = get(name)
        answer = run(name, {**calculation.example, **changes})
        told = headline(calculation, answer).figures[0]
        return told.label, told.value, told.unit

    # 10 to 9.2 kPa at one temperature: 0.8 of 10 is lost.
    same = {"start_temp_c": 20, "end_temp_c": 20}
    lost = ("Lost of the start gauge pressure", "8", "%")
    assert first("air-test", **same) == lost
    assert first("adhesive-life")[2] == "%"


def test_a_figure_with_a_unit_is_never_left_bare() -> None:
    without = {
        (calculation.name, figure.label)
        for calculation in map(get, names())
        for figure in headline(
            calculation, run(calculation.name, calculation.example)
        ).figures
        if not figure.unit
    }
    assert without == {
        ("adhesive-quantity", "Whole kits"), ("wind", "Factor"),
        ("joint-window", "Best start"), ("joint-window", "With"),
    }  # fmt: skip
