"""Days on which something goes wrong: what the phone says before it is too late."""

import re
from datetime import datetime, timedelta

from fieldapp.clock import utc_now_ms
from tests.phone.gang import ALL_READ, JOINT, PINS, YES, Gang
from tests.phone.paper import WRITER, written

HOT_FORMULATION, COOL_FORMULATION = 3, 1
SUN = {"cold-new": 310, "hot-new": 390, "cold-old": 302, "hot-old": 364, "air": 340,
       "humidity": 38}  # fmt: skip
SHADED = {"how": 1, "hottest": 390, "rag": 1}
WARMED = {"enclosure": 1, "coldest": 62, "hottest": 240, "air": 78, "rising": 1}
MORNING = {"cold-new": 62, "hot-new": 140, "cold-old": 60, "hot-old": 135, "air": 60,
           "formulation": COOL_FORMULATION}  # fmt: skip
BARS, ROUNDS_BEGUN = 6, 2
SPARE = "jack-b"
AN_HOUR_AGO_MS = 61 * 60_000
ROUNDING_MIN = 1


def test_a_hot_day_is_reckoned_before_the_first_kit(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ | SUN})
    # The reading failed: what it calls for stands beside reading again.
    phone.sees("Hot route", "#dock")
    phone.sees("Read again: Faces and air", "#dock")
    gang.tell(
        {"step": "hot-route", "values": SHADED},
        {"step": "faces", "values": ALL_READ | SUN | {"formulation": HOT_FORMULATION}},
        {"step": "lots-hot"},
        {"step": "hot-route", "values": SHADED},
        {"step": "ready"},
    )
    # Whoever opens the gate sees it as well.
    gang.act()
    phone.sees("min too late", "#begun-now")
    phone.tap("#back")
    gang.release("leofric")
    # 46 min of work against 70 % of a life of 66 min that shrinks to 62: too late, and
    # nobody need mix a kit to learn it.
    phone.sees("GO", "#go")
    phone.sees("min too late", "#begun-now")
    # By the plan's times alone: nobody's pace is known, and GO stays GO.
    phone.sees("no pace known yet", "#begun-now")
    assert "TOO LATE" not in phone.page.inner_text("#go")
    before = _minutes(gang, "#begun-now .inhand")
    gang.tell({"step": "mix-hot", "line": "kit-1"})
    phone.sees("min too late", "#in-hand")
    assert abs(_minutes(gang, "#in-hand") - before) <= ROUNDING_MIN


def test_a_cold_morning_waits_and_reads_again(gang: Gang) -> None:
    phone = gang.phone
    read = ALL_READ | MORNING
    gang.tell(
        {"step": "faces", "values": read, "at": utc_now_ms() - AN_HOUR_AGO_MS},
        {"step": "lots-cool"},
    )
    phone.sees("Cold route", "#dock")
    gang.tell({"step": "cold-route", "values": WARMED}, {"step": "ready"})
    phone.sees("Look and decide", "#dock")
    # The gate finds the faces too old: the reading is one tap away.
    phone.tap("#dock [data-step='faces']")
    phone.sees("Coldest, new face", "#screen")
    phone.tap("#back")
    gang.tell({"step": "faces", "values": read})
    phone.until("() => document.querySelectorAll('#dock .main').length === 1")
    gang.release("leofric")
    phone.sees("GO", "#go")


def test_rain_in_mid_spread_leads_to_a_second_attempt(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(
        {"step": "mix-warm", "line": "kit-1"}, {"step": "spread", "line": "kit-1"}
    )
    phone.tap("#stop")
    phone.tap('[data-card="rain"]')
    phone.sees("Part clean by", "#still-left")
    phone.tap("#report")
    phone.tap("#report-now")
    phone.sees("Rain", "[data-fault]")
    phone.tap("[data-fault]")
    phone.tap('[data-verdict="rework"]')
    phone.tap("#dispose")
    phone.sees("Choose the step to start again from", "#decide-note")
    phone.tap('[data-from="faces"]')
    phone.page.fill("#screen textarea", "Wet adhesive: parted, clean, again.")
    phone.tap("#dispose")
    phone.type_pin(PINS["caspar"])
    phone.sees("attempt 2")
    phone.tap("#made-safe")
    # The 24 hours begin with cleaning, so that it is asked for before anything else.
    phone.sees("Joint parted and cleaned", "#dock")
    gang.tell({"step": "cleaned"})
    phone.sees("Faces and air", "#dock")
    phone.sees("No adhesive for 24 hours after cleaning", "#minutes")


def _minutes(gang: Gang, where: str) -> int:
    found = re.search(r"(\d+)\s+min", gang.phone.page.inner_text(where))
    assert found is not None
    return int(found[1])


def test_a_jack_that_dies_is_not_taken_over_to_the_next_bar(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * (BARS + 2))
    phone.tap("#stop")
    phone.tap('[data-card="power"]')
    phone.sees("kN", "#forces-now")
    # What each bar carries: two of them have had their second round.
    forces = phone.page.locator("#forces-now li b").all_inner_texts()
    assert len(forces) == BARS
    assert len(set(forces)) == ROUNDS_BEGUN
    phone.tap("#made-safe")
    phone.tap('#dock [data-step="bars"]')
    # The same jack would be taken over from bar to bar, but not past a STOP.
    phone.sees("Jack and gauge", ".field.active")
    # The one in hand is marked: it may be what failed.
    phone.sees("In hand at STOP", '#dock [data-stopped="yes"]')
    assert phone.page.locator("#dock [data-stopped]").count() == 1
    gang.choose(SPARE)
    phone.tap("#dock .target")
    phone.sees("Jack B", '[data-field="jack"]')


def test_a_sheet_of_paper_is_copied_from_form_to_form(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    phone.tap('[data-field="paper"]')
    phone.tap('[data-value="paper"]')
    phone.page.fill("#writer", WRITER)
    gang.save()
    yesterday = datetime.now().astimezone() - timedelta(days=1, minutes=5)
    gang.figure(yesterday.strftime("%d%m%H%M"))
    # The photo of the sheet is asked for, and holds nothing up.
    gang.save()
    phone.sees("Copying from paper", "#copying")
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/ready/-/again'; }}")
    phone.sees(f"copied from paper: {WRITER}", '[data-field="paper"]')
    # A time of day is of the day of the sheet, not of today.
    phone.tap('[data-field="when"]')
    earlier = yesterday - timedelta(minutes=2)
    phone.type_figure(earlier.strftime("%H%M"))
    phone.sees(str(earlier.day), '[data-field="when"] .echo')
    phone.tap('[data-away="ask"]')
    phone.tap('[data-away="sure"]')
    phone.tap("#copying")
    phone.until("() => document.querySelector('#copying') === null")
    [copied] = [row for row in phone.storage("entries") if '"copied"' in row["bytes"]]
    assert f'"writer":"{WRITER}"' in copied["bytes"]
    assert '"at_by":"typed"' in copied["bytes"]


def test_a_clock_that_was_put_back_is_told_and_times_are_asked_for(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate(_HOURS_AHEAD)
    gang.tell({"step": "faces", "values": ALL_READ})
    phone.page.reload()
    phone.sees("clock was put back", "#clock-fault")
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    # What else is answered at once wants its time stated.
    phone.sees("When", ".field.active")
    phone.tap("#back")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    # It was mixed after what another phone had recorded: it counts from then.
    phone.until("() => /^\\d/.test(document.querySelector('#left')?.textContent)")


_HOURS_AHEAD = "() => { const real = Date.now; Date.now = () => real() + 21_600_000; }"


def test_a_killed_browser_asks_whether_the_sheet_is_still_copied(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    _copy_ready(gang)
    phone.sees("Copying from paper", "#copying")
    phone.restart()
    # Neither silently on nor silently off: until it is said, no tap records.
    phone.sees(f"paper sheet of {WRITER}, last", "#copying-left")
    assert phone.page.locator("#dock .main").count() == 0
    gang.tap_slowly('[data-copying="on"]')
    phone.sees("Copying from paper", "#copying")
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/ready/-/again'; }}")
    phone.sees(f"copied from paper: {WRITER}", '[data-field="paper"]')
    phone.restart()
    gang.tap_slowly('[data-copying="end"]')
    phone.sees("Look and decide", "#dock")
    phone.restart()
    phone.sees("Look and decide", "#dock")
    assert phone.page.locator("#copying-left").count() == 0


def test_in_another_shift_of_another_day_nobody_copies_on(gang: Gang) -> None:
    phone = gang.phone
    gang.tell({"step": "faces", "values": ALL_READ})
    _copy_ready(gang)
    phone.sees("Copying from paper", "#copying")
    phone.page.evaluate(_YESTERDAY)
    phone.restart()
    phone.sees("Look and decide", "#dock")
    assert phone.page.locator("#copying, #copying-left").count() == 0


_YESTERDAY = """async () => {
  const { getMeta, putMeta } = await import("/phone/device/database.js");
  const sheet = await getMeta("copying");
  await putMeta("copying",
    { ...sheet, shift: "jorun 0", noted: sheet.noted - 86_400_000 });
}"""


def test_what_happened_anyway_names_who_wrote_its_paper(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    phone.tap('[data-step="mix-warm"] .row')
    gang.act()
    gang.choose_first()
    written(gang, datetime.now().astimezone() - timedelta(minutes=3))
    phone.tap('[data-field="reason"]')
    phone.tap("#dock .choice")
    for _ in range(3):  # the temperature of the mix is not on the paper
        gang.save()
    phone.sees("failed", '[data-step="mix-warm"]')
    phone.sees("Nonconformances: 1/1", "#nonconformances")
    [copied] = [row for row in phone.storage("entries") if '"copied"' in row["bytes"]]
    assert f'"writer":"{WRITER}"' in copied["bytes"]
    assert '"reason":"Not noticed in time"' in copied["bytes"]


def test_a_race_copied_in_the_evening_counts_no_minutes(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    morning = datetime.now().astimezone() - timedelta(hours=10)
    gang.first_kit_at(int(morning.timestamp() * 1000))
    phone.sees("Written down later", "#written-later")
    phone.sees("End not entered yet", "#written-later")
    assert phone.page.locator("#in-hand").count() == 0
    assert phone.page.locator("#alarm:visible").count() == 0
    # The judgement is the rules': over, until the end is entered.
    phone.sees("Nonconformances", "#nonconformances")
    phone.restart()
    phone.sees("Written down later", "#written-later")


def test_a_cold_phone_says_since_when_the_office_was_heard(gang: Gang) -> None:
    phone = gang.phone
    phone.sees("heard", "#unreached")
    phone.restart()
    phone.sees("heard", "#unreached")
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Office last heard", "#office-heard")


def test_a_screen_that_comes_by_itself_takes_no_tap_of_that_moment(gang: Gang) -> None:
    phone = gang.phone
    phone.kill()
    phone.wake()
    phone.page.add_init_script(_FIRST_KEY)
    phone.page.goto(phone.url + "/phone/")
    phone.until("() => window.firstKey !== undefined")
    assert phone.page.evaluate("() => window.firstKey") is False
    phone.until(f"() => ({_REACHED})()")


_REACHED = """() => {
  const key = document.querySelector("#dock .main");
  if (!key) return undefined;
  const { x, y, width, height } = key.getBoundingClientRect();
  return key.contains(document.elementFromPoint(x + width / 2, y + height / 2));
}"""
_FIRST_KEY = f"""new MutationObserver(() => {{
  window.firstKey ??= ({_REACHED})();
}}).observe(document, {{ childList: true, subtree: true }})"""
"""Whether a thumb reached the first main key in the moment it came."""


def _copy_ready(gang: Gang) -> None:
    """Copy the step that is next from a sheet of paper, a minute old."""
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    written(gang, datetime.now().astimezone() - timedelta(minutes=1))
    gang.save()
