"""The race's screen as it stands before a foreman: what is to be done and where, that
the face counts as the hottest, that there was a STOP; a card whole over its clocks.
"""

import pytest

from fieldapp.clock import utc_now_ms
from tests.phone.gang import JOINT, Gang
from tests.phone.handset import HEIGHT, WIDTH

LOW = 640
STOP = {"kind": "stopped", "about": {"reason": "something"}}
SAFE = {"kind": "made_safe", "about": {"how": "Seen to"}}
IN_SIGHT = """(selector) => {
  const [screen, one] = [document.getElementById("screen"),
    document.querySelector(selector)].map((each) => each.getBoundingClientRect());
  return one.top >= screen.top && one.bottom <= screen.bottom && one.height > 0;
}"""
CLEAR = """(name) => {
  const box = (one) => document.querySelector(one).getBoundingClientRect();
  const asked = box(`.field.active[data-field="${name}"]`);
  const above = document.querySelector("#screen > .raced:not([style*=static])");
  const top = above ? above.getBoundingClientRect().bottom : box("#screen").top;
  return asked.top >= top - 1 && asked.bottom <= box("#screen").bottom + 1;
}"""
MARKED = """(selector) => {
  const { backgroundColor } = getComputedStyle(document.querySelector(selector));
  return backgroundColor !== "rgba(0, 0, 0, 0)";
}"""


@pytest.fixture
def race(gang: Gang) -> Gang:
    """A gang with one kit on the face and the joint closed, its film half read."""
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.first_kit_at(utc_now_ms() - 60_000)
    gang.tell(*[{"step": step} for step in ("mix-warm", "spread")] * 2)
    gang.tell({"step": "spots"}, {"step": "close"})
    return gang


def sees(gang: Gang, selector: str) -> bool:
    gang.phone.page.locator(selector).first.wait_for()
    found: bool = gang.phone.page.evaluate(IN_SIGHT, selector)
    return found


def test_a_closed_joint_asks_for_its_bars_first_and_names_step_and_line(
    race: Gang,
) -> None:
    phone, page = race.phone, race.phone.page
    phone.until("() => document.querySelector('#dock .main')?.dataset.step === 'bars'")
    first, second = page.locator("#dock .main").all()
    assert second.get_attribute("data-step") == "spots"
    assert first.locator(".act").inner_text() == "Bars, round by round"
    assert first.locator(".line").inner_text() == "Round 1, bar 1, wing left"
    assert second.locator(".line").inner_text() == "Left web"
    # The column has the same step open.
    assert page.locator("#screen .card.current").count() == 1
    phone.sees("Bars, round by round", "#screen .row[aria-expanded='true']")
    # Half filled, its key still says what it is.
    first.click()
    race.choose_first()
    phone.type_figure("12")
    page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("Not saved yet", "#dock .main:first-child small")
    assert first.locator(".act").inner_text() == "Bars, round by round"


def test_whoever_has_no_shift_is_told_step_and_line_all_the_same(race: Gang) -> None:
    phone = race.phone
    phone.page.evaluate("() => { location.hash = '#/people'; }")
    phone.tap('[data-person="jorun"] button', "End shift")
    phone.sees("Start my shift", '[data-person="jorun"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    named = "Bars, round by round · Round 1, bar 1, wing left"
    phone.sees(named, "#dock .main small")


def test_a_report_names_the_step_that_leads(race: Gang) -> None:
    page = race.phone.page
    page.evaluate(f"() => {{ location.hash = '#/nonconformance/{JOINT}/new'; }}")
    page.locator("#screen textarea").wait_for()
    assert page.input_value("#screen textarea") == "Bars, round by round: "


def test_a_face_that_counts_as_the_hottest_says_since_when(race: Gang) -> None:
    phone = race.phone
    phone.sees("Unless read again", "#minutes")
    assert phone.page.locator("#minutes .careful").count() == 0
    race.clock_on(17)
    phone.until("() => document.querySelector('#minutes li.careful') !== null")
    phone.sees("counts as hottest now, since", "#minutes li.careful")
    assert "Unless read again" not in phone.page.inner_text("#minutes")
    assert sees(race, "#minutes li.careful")
    assert phone.page.evaluate(MARKED, "#minutes li.careful")
    # Read again, it is to come once more.
    race.tell({"step": "face-temp", "values": {"hottest": 215}})
    phone.sees("Unless read again", "#minutes")


def test_that_there_was_a_stop_is_in_sight_in_the_race(race: Gang) -> None:
    phone = race.phone
    race.sign(STOP)
    phone.sees("MADE SAFE", "#dock")
    assert phone.page.locator("#stop-trace").count() == 0
    race.sign(SAFE)
    phone.sees("Something else", "#stop-trace")
    assert sees(race, "#stop-trace")
    assert sees(race, "#chalk")
    phone.restart()
    phone.sees("Something else", "#stop-trace")


def test_no_caution_lies_over_what_is_asked(race: Gang) -> None:
    phone = race.phone
    phone.tap('#dock [data-step="bars"]')
    phone.sees("Pressure", "#screen .fields")
    for name in ("when", "paper", "pressure", "jack"):
        phone.tap(f'[data-field="{name}"]')
        phone.until(f"() => ({CLEAR})('{name}')")


def test_a_card_is_read_whole_above_its_clocks(race: Gang) -> None:
    page = race.phone.page
    assert page.viewport_size == {"width": WIDTH, "height": HEIGHT}
    for language in ("en", "de", "es"):
        page.evaluate(_SPEAK, language)
        page.evaluate(f"() => {{ location.hash = '#/stop/{JOINT}/rain'; }}")
        page.locator("#still-left li").first.wait_for()
        assert sees(race, ".todo li:last-child"), language


def test_on_a_low_screen_a_line_of_the_caution_stays(race: Gang) -> None:
    phone, page = race.phone, race.phone.page
    page.set_viewport_size({"width": WIDTH, "height": LOW})
    phone.tap('#dock [data-step="bars"]')
    page.locator("details.caution.raced").wait_for()
    phone.tap('[data-field="pressure"]')
    assert sees(race, "details.caution.raced")
    assert sees(race, ".field.active")
    assert page.evaluate(_UNCOVERED)


_SPEAK = """async (language) => {
  const { setSetting } = await import("/phone/screens/settings.js");
  await setSetting("language", language);
}"""
_UNCOVERED = """() => {
  const [caution, field] = ["details.caution.raced", ".field.active"].map((one) =>
    document.querySelector(one).getBoundingClientRect());
  return caution.bottom <= field.top;
}"""
