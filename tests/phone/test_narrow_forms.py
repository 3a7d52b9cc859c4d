"""Forms on a low screen, in gloves: keys are whole, and what counts is in sight.

Found by somebody who played a whole joint at 360 by 740 with the README alone.
"""

from typing import Any

from tests.phone.by_hand import photo
from tests.phone.gang import ALL_READ, FACES, JOINT, YES, Gang
from tests.phone.handset import DOUBLE_TAP_MS

BARS = 6
SIZES = ((360, 740), (320, 568))
NEXT_LINE_MS = 900
"""For so long the target of the next bar takes no tap."""


def test_keys_are_never_cut_in_the_last_round_offline_and_in_german(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, 2 * BARS)
    page.evaluate(_SPEAK, "de")
    phone.tap('#dock [data-step="bars"]')
    for bar in range(1, BARS + 1):
        phone.until(f"() => location.hash.endsWith('/bars/b{bar}-r3')")
        for what in ("Pressure", "Extension"):
            phone.sees(what, ".field.active")
            if bar in {1, BARS}:
                # What it would mean is worked out a moment after.
                page.wait_for_timeout(400)
                _keys_are_whole(gang)
            if what == "Pressure":
                assert page.locator("#means:visible").count() == 0
                gang.tap_slowly("#dock .target")
        gang.phone.type_figure("2" if bar == BARS else "11")
        if bar in {1, BARS}:
            page.wait_for_timeout(400)
            _keys_are_whole(gang)
        gang.save()


def test_a_caution_is_whole_once_and_brief_afterwards_and_in_sight_in_the_race(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, 2 * BARS - 1)
    phone.tap('#dock [data-step="bars"]')
    phone.sees("At target", "#dock")
    page.wait_for_timeout(DOUBLE_TAP_MS)
    assert page.evaluate(_UNCOVERED, ".caution summary")
    gang.tap_slowly("#dock .target")
    phone.until("() => location.hash.endsWith('/bars/b1-r3')")
    assert page.evaluate(_UNCOVERED, ".caution summary")
    brief = page.locator(".caution summary").inner_text()
    assert brief.startswith("Nobody in line with a bar")
    phone.tap(".caution summary")
    phone.sees(brief, "p.caution")
    assert len(page.locator("p.caution").inner_text()) > len(brief) + 5


def test_what_one_line_said_whole_the_next_says_in_brief(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    for line, whole in (("level-lf", 1), ("level-rf", 0)):
        page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/survey/{line}'; }}")
        phone.sees("Harness at the edge.", "#screen")
        assert page.locator("p.caution").count() == whole
        assert page.locator("p.help").count() == whole
    phone.tap("details.help summary")
    phone.sees("Last chance for shims", "p.help")


def test_the_next_bar_is_named_on_its_key_which_takes_no_late_tap(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, BARS)
    phone.tap('#dock [data-step="bars"]')
    phone.sees("Round 2, bar 1", "#dock .target .label")
    phone.sees("At target: ", "#dock .target small")
    gang.tap_slowly("#dock .target")
    phone.until("() => location.hash.endsWith('/bars/b2-r2')")
    phone.sees("Round 2, bar 2", "#dock .target .label")
    page.wait_for_timeout(250)
    assert page.evaluate(_TAP_TARGET) is True
    page.wait_for_timeout(NEXT_LINE_MS)
    assert page.evaluate("() => location.hash").endswith("/bars/b2-r2")
    gang.tap_slowly("#dock .target")
    phone.until("() => location.hash.endsWith('/bars/b3-r2')")


def test_that_pressure_was_reached_stands_where_its_minutes_stood(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, 2 * BARS)
    phone.tap('#dock [data-step="bars"]')
    gang.tap_slowly("#dock .target")
    phone.sees("Extension", ".field.active")
    gang.figure("11")
    phone.until("() => location.hash.endsWith('/bars/b2-r3')")
    phone.sees("before its time was over", "#won")
    page.wait_for_timeout(DOUBLE_TAP_MS)
    assert page.evaluate(_UNCOVERED, "#won")
    gang.tap_slowly("#dock .target")
    gang.figure("11")
    phone.until("() => location.hash.endsWith('/bars/b3-r3')")
    phone.until("() => document.querySelector('#won') === null")


def test_an_adhesive_says_what_was_planned_and_what_fits_and_a_lot_where_named(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.act()
    for _ in range(2):
        gang.choose(YES)
    # 17.9 to 21.5: warm 15 to 35, not cool to 20, not hot from 25.
    for figure in FACES:
        gang.figure(figure)
    phone.sees("Thermometer", ".field.active")
    gang.choose_first()
    phone.sees("Adhesive", ".field.active")
    said = page.locator("#dock .choice")
    # Each says its window and its open time, the day before as well.
    phone.sees("15 to 35 °C, open time 140 to 60 min", '#dock [data-value="2"]')
    phone.sees("Adhesive planned", '#dock [data-value="2"]')
    phone.sees("fits what was read", '#dock [data-value="2"]')
    assert [one.count("fits") for one in said.all_inner_texts()] == [0, 1, 0]
    assert [one.count("planned") for one in said.all_inner_texts()] == [0, 1, 0]
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/day-before/-'; }}")
    phone.sees("5 to 20 °C, open time 150 to 62 min", '#dock [data-value="1"]')
    gang.open_joint()
    gang.tell({"step": "faces", "values": ALL_READ})
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/mix-warm/1'; }}")
    phone.sees("named in Lots, warm", "#dock .choices")
    assert page.locator("#dock .choice", has_text="named in").count() == 1


def test_a_choice_copied_with_its_photo_waits_for_save_and_is_told_as_copied(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, 1)
    before = len(phone.storage("entries"))
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/bead/deck/paper'; }}")
    phone.sees("copied from paper", '[data-field="paper"]')
    assert "now" not in page.inner_text('[data-field="when"]')
    phone.tap('[data-field="photos"]')
    page.set_input_files("#camera", photo())
    page.locator("#dock .thumb img").wait_for()
    phone.tap('[data-field="when"]')
    phone.type_figure(page.evaluate(_TIME_NOW))
    phone.tap('[data-field="bead"]')
    gang.choose(YES)
    page.wait_for_timeout(500)
    assert len(phone.storage("entries")) == before
    gang.save()
    phone.sees("Copied from paper", "#notice")
    assert len(phone.storage("entries")) == before + 1
    # The next form knows that it is from paper, and is not saved as of now.
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/bead/left'; }}")
    phone.sees("copied from paper", '[data-field="paper"]')
    assert "now" not in page.inner_text('[data-field="when"]')
    gang.choose(YES)
    gang.save()
    phone.sees("When", ".field.active")
    gang.save()
    page.wait_for_timeout(500)
    assert len(phone.storage("entries")) == before + 1


def test_why_a_reading_is_corrected_is_seen_above_the_readings(gang: Gang) -> None:
    phone, page = gang.phone, gang.phone.page
    _bars(gang, 1)
    page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/bars/b1-r1/correct'; }}")
    phone.sees("Why", ".field >> nth=0")
    phone.tap('[data-field="reason"]')
    gang.tap_slowly("#dock .choice")
    phone.sees("Misread", '[data-field="reason"] .echo')
    phone.tap('[data-field="pressure"]')
    gang.figure("123")
    phone.until("() => location.hash.startsWith('#/joint/')")
    # Of the line itself, that it was corrected is read before what it says now.
    page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/bars/b1-r1'; }}")
    phone.sees("Misread", "#screen [data-corrected]")
    assert page.evaluate(_BEFORE, ["[data-corrected]", "dl.facts"])


def test_a_draft_after_a_killed_browser_shows_its_question_and_figure(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.act()
    for _ in range(2):
        gang.choose(YES)
    phone.type_figure(FACES[0])
    phone.restart()
    phone.tap("#unsaved")
    phone.sees("begun", "#begun")
    phone.tap('[data-field="cold-new"]')
    phone.page.wait_for_timeout(DOUBLE_TAP_MS)
    assert phone.page.evaluate(_UNCOVERED, ".field.active .flabel")
    assert phone.page.evaluate(_UNCOVERED, ".field.active .echo")


def _bars(gang: Gang, told: int) -> None:
    """Have the race begun, and so many bars of its rounds recorded."""
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * told)


def _keys_are_whole(gang: Gang) -> None:
    page = gang.phone.page
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_timeout(100)
        found: dict[str, Any] = page.evaluate(_LOWEST)
        assert found["keys"] <= found["bar"], (width, height, found)
        assert found["least"] >= 60, (width, height, found)
        assert found["uncovered"], (width, height)
    page.set_viewport_size({"width": SIZES[0][0], "height": SIZES[0][1]})


_SPEAK = """(language) => import("/phone/screens/words.js")
  .then((one) => one.speak(language))"""
_LOWEST = """() => {
  const keys = [...document.querySelectorAll("#dock .pad button")];
  const boxes = keys.map((one) => one.getBoundingClientRect());
  const nought = document.querySelector('#dock [data-key="0"]');
  const { left, right, top, bottom } = nought.getBoundingClientRect();
  const there = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return { keys: Math.max(...boxes.map((one) => one.bottom)),
    least: Math.min(...boxes.map((one) => one.height)),
    bar: document.getElementById("bar").getBoundingClientRect().top,
    uncovered: nought.contains(there) };
}"""
_UNCOVERED = """(selector) => {
  const one = document.querySelector(selector);
  const { left, right, top, bottom } = one.getBoundingClientRect();
  return [top + 3, bottom - 3].every((y) =>
    one.contains(document.elementFromPoint((left + right) / 2, y)));
}"""
_TAP_TARGET = """() => {
  const key = document.querySelector("#dock .target");
  key.click();
  return key.disabled;
}"""
_BEFORE = """(found) => {
  const [one, other] = found.map((each) => document.querySelector(each));
  return Boolean(one.compareDocumentPosition(other)
    & Node.DOCUMENT_POSITION_FOLLOWING);
}"""
_TIME_NOW = """() => {
  const now = new Date();
  const two = (one) => String(one).padStart(2, "0");
  return two(now.getHours()) + two(now.getMinutes());
}"""
