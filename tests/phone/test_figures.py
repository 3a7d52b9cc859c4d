"""Figures as gloved people type them: comma or point, never rounded, never guessed."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.records.figures import computed
from tests.javascript import JavaScript
from tests.phone.gang import ALL_READ, FACES, JOINT, WARM, YES, Gang
from tests.phone.handset import Handset

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


MEANING = "static/phone/meaning.js"
BAND = {"low": 292, "high": 322, "never": 345}
BAR = {"unit": "bar", "places": 0, "low": 0, "high": 700}


@pytest.mark.parametrize(
    ("typed", "said", "asked"),
    [
        (305, "inside", None),
        (330, "8 above", "303 bar"),
        (280, "12 below", None),
        # A digit too few, one too many, and two in the wrong order.
        (30, "FAR BELOW by 262", "300 bar"),
        (203, "FAR BELOW by 89", "302 bar"),
        (360, "ABOVE THE CAP by 15", "306 bar"),
        (388, "ABOVE THE CAP by 43", None),
    ],
)
def test_a_figure_says_where_it_stands_in_its_band(
    bare_phone: Handset, typed: int, said: str, asked: str | None
) -> None:
    found = bare_phone.page.evaluate(_STANDING, [BAND, typed, BAR])
    assert found["word"] == said
    assert found["far"] == ("FAR" in said or "CAP" in said)
    hint = found.get("hint")
    assert (hint is None) == (asked is None)
    assert (asked or "") in (hint or "").replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("typed", "asked"),
    [(16, None), (12, "12.0"), (400, None), (600, "6.0"), (254, None)],
)
def test_a_figure_near_its_limits_is_taken_as_meant(
    bare_phone: Handset, typed: int, asked: str | None
) -> None:
    # 1.6 °C is cold, and no 16 misplaced.
    field = {"unit": "\u00b0C", "places": 1, "low": -200, "high": 700}
    band = {"low": 30, "high": 240}
    hint = bare_phone.page.evaluate(_STANDING, [band, typed, field]).get("hint")
    assert (hint is None) == (asked is None), hint
    assert (asked or "") in (hint or "")


_STANDING = """async (told) =>
  (await import("/phone/screens/meaning.js")).standing(...told)"""


def test_a_pressure_says_before_save_what_it_would_mean(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * 12)
    before = len(phone.storage("entries"))
    gang.act()
    # The band is 427.5 to 472.5 kN and the cap 507.0, by the jack's calibration.
    row = '[data-field="pressure"]'
    phone.sees("292 to 322\u00a0bar \u00b7 never above 345\u00a0bar", row)
    keys = _places(phone)
    phone.type_figure("305")
    phone.sees("305\u00a0bar: inside", "#means.green")
    phone.sees("Force: 447.0\u00a0kN", "#means")
    assert _places(phone) == keys
    _erase(phone, 3)
    phone.type_figure("203")
    phone.sees("203\u00a0bar: FAR BELOW by 89", "#means.red.far")
    phone.sees("Digits swapped? 302\u00a0bar", "#means")
    # What does not fit can be scrolled by keys too.
    phone.page.locator("#means").focus()
    assert phone.page.evaluate("() => document.activeElement.id") == "means"
    phone.sees("Nonconformance, shuts Gate: weight off the gear", "#means")
    assert _places(phone) == keys
    _erase(phone, 3)
    phone.type_figure("350")
    phone.sees("ABOVE THE CAP by 5", "#means.red")
    assert len(phone.storage("entries")) == before
    # What was told is what saving does, and nothing holds it up: the extension, which
    # the last round asks for, is asked once and need not be answered.
    gang.save()
    gang.save()
    phone.sees("The bar is above its cap.", "#notice.red")


def test_what_other_answers_ask_of_a_figure_is_said_beside_it(gang: Gang) -> None:
    phone = gang.phone
    gang.act()
    phone.tap('[data-field="cold-new"]')
    phone.type_figure("12")
    phone.sees("12.0\u00a0°C: inside", "#means.green")
    phone.tap('[data-field="formulation"]')
    gang.choose(WARM)
    phone.tap('[data-field="cold-new"]')
    phone.sees("at least 15.0\u00a0°C", '[data-field="cold-new"]')
    # What the rules make of it, they say once both faces are read.
    phone.sees("12.0\u00a0°C: 3.0 below", "#means.yellow")


def test_a_form_and_a_gate_say_the_same_limits_of_what_was_read(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ}, {"step": "ready"})
    phone.page.evaluate(_SHOW, f"#/form/{JOINT}/faces/-/correct")
    # The window's own, and what air and humidity ask besides, by its name.
    window, dew = "at least 15.0\u00a0°C", "at least 17.7\u00a0°C for “Above dew point”"
    phone.sees(f"{window} · {dew}", '[data-field="cold-new"]')
    phone.page.evaluate(_SHOW, f"#/point/{JOINT}/mixing")
    phone.tap("#unfold")
    faces = '[data-rest="faces"]'
    phone.sees(f"Coldest, new face limit: {window}", f"{faces} dl")
    phone.sees("Above dew point: 3.2\u00a0°C limit: at least 3.0", f"{faces} .figure")
    assert "17.7" not in phone.page.inner_text("#screen")
    # Read again, 16 for 61 would pass: what was read before speaks, up to SAVE.
    phone.page.evaluate(_SHOW, f"#/form/{JOINT}/faces/-/again")
    phone.sees("Dry rag, new face", ".field.active")
    for rag in (YES, YES):
        gang.choose(rag)
    for figure in FACES[:-1]:
        gang.figure(figure)
    phone.type_figure("16")
    phone.sees("16\u00a0%: inside", "#means.yellow")
    phone.sees("61\u00a0% would be nearer", "#means")
    gang.save()
    for choice in (WARM, YES):
        gang.choose(choice)
    phone.sees("Digits swapped? 61\u00a0% at", "#means.yellow .verdict")
    assert phone.page.locator('#dock [data-key="go"][data-warns]').count() == 1


_SHOW = "(hash) => { location.hash = hash; }"


def _erase(phone: Handset, times: int) -> None:
    for _ in range(times):
        phone.tap('#dock [data-key="erase"]')


def _places(phone: Handset) -> list[Any]:
    """Give where the keys of a figure are: a thumb must find them there."""
    found: list[Any] = phone.page.evaluate(
        """() => [...document.querySelectorAll("#dock .key")].map((one) => {
          const { x, y, width, height } = one.getBoundingClientRect();
          return [one.dataset.key, x, y, width, height];
        })"""
    )
    return found
