"""Copying a race from paper: what comes next on the sheet had not happened yet.

What was still ahead when it was written down is live all the same: another phone takes
a race over, where the first one died, by copying what is chalked up.
"""

from datetime import datetime, timedelta

import pytest

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import DOUBLE_TAP_MS
from tests.phone.paper import written


def test_while_a_race_is_copied_nothing_is_red_that_had_not_happened(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    # Even the last of its times, 76 minutes after it, is past.
    _first_kit_copied(gang, minutes_ago=79)
    phone.sees("Written down later", "#written-later")
    assert page.locator(".chalk, .inhand, .times .past").count() == 0
    assert page.locator("#alarm:visible").count() == 0
    assert page.locator("#notice.red").count() == 0
    # Whoever says that nothing is copied any more sees the race as it stands.
    phone.tap("#copying")
    phone.until("() => document.querySelector('.chalk.red') !== null")


def test_a_race_taken_over_by_another_phone_keeps_its_minutes_and_its_alarm(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    _first_kit_copied(gang, minutes_ago=12)
    phone.sees("Copying from paper", "#copying")
    assert page.locator("#written-later").count() == 0
    phone.sees("Pressure by", ".chalk")
    # By the plan's own times: 46 minutes of work, 34 left until pressure.
    phone.sees("min too late", "#in-hand")
    # Past what was ahead when it was written, it is over, copied or not.
    gang.clock_on(100)
    phone.sees("TIME OVER", ".chalk.red")
    phone.sees("is past", "#alarm")
    assert page.locator("#written-later").count() == 0


def test_what_was_ahead_when_it_was_written_is_live_beside_what_was_past(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    # Pressure was due 46 minutes after it; the open time is over after 66.
    _first_kit_copied(gang, minutes_ago=55)
    phone.sees("Open time over", ".chalk")
    phone.sees("Written down later", "#written-later")
    assert page.locator(".chalk.red, .inhand.red, .times .past").count() == 0
    assert page.locator("#alarm:visible").count() == 0
    assert page.locator("#notice.red").count() == 0
    gang.clock_on(15)
    phone.sees("TIME OVER", ".chalk.red")
    phone.sees("Open time over", "#alarm")


def test_a_time_over_that_was_kept_back_is_told_to_whoever_goes_on_live(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    _first_kit_copied(gang, minutes_ago=79)
    phone.sees("Written down later", "#written-later")
    assert page.locator("#notice.red").count() == 0
    phone.tap("#copying")
    # Past its time the joint leads to who decides; the race goes on from the column.
    phone.sees("Open time over", "#dock")
    page.evaluate(_GO, f"#/joint/{JOINT}/mix-warm")
    gang.tap_slowly('#dock [data-step="mix-warm"]')
    phone.sees("Time is over: Pressure by", "#notice.red")
    phone.sees("Time is over: Open time over", "#notice.red")
    # Told once: whoever goes on has heard it.
    page.evaluate(_GO, f"#/joint/{JOINT}/spread")
    gang.tap_slowly('#dock [data-step="spread"]')
    phone.sees("Kit 1", "#notice.green")
    assert "Pressure by" not in page.inner_text("#notice")


_GO = "(hash) => { location.hash = hash; }"


def _first_kit_copied(gang: Gang, minutes_ago: int) -> None:
    """Copy the first kit from paper; its temperature and a photo are not at hand."""
    page = gang.phone.page
    # Mixing was released before it: what is done earlier is against the gate.
    gang.clock_on(-minutes_ago - 2)
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.clock_on(minutes_ago + 2)
    # The release has run out by now, which the phone may or may not have seen yet.
    route = f"#/form/{JOINT}/mix-warm/kit-1/paper"
    page.evaluate("(route) => { location.hash = route; }", route)
    gang.choose_first()
    written(gang, datetime.now().astimezone() - timedelta(minutes=minutes_ago))
    for _ in range(20):
        if page.evaluate("() => document.body.dataset.screen") != "form":
            return
        gang.save()
        page.wait_for_timeout(DOUBLE_TAP_MS)
    raise AssertionError(page.inner_text("body"))


_ALARMS = """async ({ began, kind, made, now, copying, spent }) => {
  const { model } = await import("/phone/screens/model.js");
  const { alarmsOf } = await import("/phone/screens/alarms.js");
  const MIN = 60_000;
  const ratio = (id) => ({ id, title: id, num: 1, den: 1, raises: "nonconformance" });
  const clock = (minutes, more) => ({ status: "running", ended: 0, start: 0,
    deadlines: minutes, left: {}, ...more });
  const sheet = {
    flow: ["mix", "bars"], points: {},
    steps: { mix: { title: "Mix", class: "raced" },
      bars: { title: "Bars", class: "raced" } },
    clocks: [
      { id: "open", start: "mix", until: "bars", temps: [],
        ratios: [ratio("pressure"), ratio("over")] },
      { id: "pot", start: "mix", until: "bars", temps: [], per_line: true,
        ratios: [ratio("pot")] },
      { id: "arm", other: { subject: "j-other" }, until: "bars", temps: [],
        ratios: [ratio("arm")] },
    ],
  };
  const state = {
    points: {},
    steps: { mix: { lines: { k1: { at: began * MIN, entry: "one", status: "ok" } } },
      bars: { lines: {} } },
    clocks: {
      open: clock({ pressure: 46 * MIN, over: 66 * MIN },
        spent ? { alarm: "above" } : {}),
      "pot/k1": clock({ pot: 20 * MIN }),
      arm: clock({ arm: 5 * MIN }),
    },
  };
  const entries = [{ id: "one", kind, step: "mix", line: "k1", at: began * MIN,
    made: made * MIN, about: {} }];
  const sheetBefore = model.copying;
  const shift = model.shift ? `${model.shift.person} ${model.shift.until}` : "";
  model.copying = copying
    ? { subject: "j", goesOn: true, shift, writer: "", at: 0, hashes: [], noted: 0 }
    : undefined;
  const open = { subject: "j", sheet, state, entries, asOf: now * MIN };
  const found = alarmsOf(open, now * MIN).map(({ id }) => id.split(".")[0] + "."
    + id.split(".")[1]);
  model.copying = sheetBefore;
  return found.sort();
}"""
OWN, POT, ARM = ["open.over", "open.pressure"], ["pot.pot"], ["arm.arm"]


@pytest.mark.parametrize(
    ("case", "told"),
    [
        # Taken over: kit 1 done at 0, written at 10, all of it still ahead.
        ({"made": 10, "now": 100}, ARM + OWN + POT),
        # Written when the kit's own time was past, the others ahead.
        ({"made": 30, "now": 50}, ["arm.arm", "open.pressure"]),
        # Written when all was past: the other arm rings, for no paper began that.
        ({"made": 90, "now": 95}, ARM),
        # The life was ended by a reading, not by the paper's lateness.
        ({"made": 90, "now": 95, "spent": True}, ARM + OWN),
        # Nothing is copied any more: it rings as it stands, but not for hours.
        ({"made": 90, "now": 95, "copying": False}, ["arm.arm", *OWN]),
        ({"made": 600, "now": 610, "copying": False}, ARM),
        # Begun here and now: a sheet copied beside it silences none of it.
        ({"made": 0, "now": 200, "kind": "done"}, ARM + OWN + POT),
    ],
)
def test_an_alarm_is_silent_only_for_what_was_past_when_it_was_written(
    gang: Gang, case: dict[str, object], told: list[str]
) -> None:
    asked = {"began": 0, "kind": "copied", "copying": True, "spent": False} | case
    assert gang.phone.page.evaluate(_ALARMS, asked) == sorted(told)
