"""After a rework the adhesive on the faces still sets: its last time stays in sight."""

from tests.phone.gang import ALL_READ, JOINT, Gang

STOP = {"kind": "stopped", "about": {"reason": "rain"}}
SAFE = {"kind": "made_safe", "about": {"how": "Covered"}}
WET = {"kind": "nonconformance", "about": {"text": "Wet adhesive on the face"}}
PART = "Part clean by"


def test_part_clean_by_outlasts_the_attempt_until_it_is_cleaned(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    phone.sees("attempt 2")
    phone.sees(PART, "#outlasting")
    phone.sees("min", "#outlasting .chalkwords span")
    # It is the large time, in sight above what is asked, and says what ends it.
    phone.until("() => document.querySelector('#screen').scrollTop === 0")
    assert phone.page.locator("#outlasting .chalktime").inner_text().count(":") == 1
    phone.sees("Joint parted and cleaned", "#outlasting")
    # From afar it presses like a race: it stands first, with its time.
    phone.page.evaluate("() => { location.hash = '#/'; }")
    first = "#dock .choices.tall button:first-child"
    phone.sees(PART, first)
    phone.sees("clock runs", first)
    gang.open_joint()
    # On a STOP card and beside a form it is there as well.
    phone.tap("#stop")
    phone.tap('[data-card="rain"]')
    phone.sees(PART, "#still-left")
    gang.sign(SAFE)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/cleaned'; }}")
    phone.sees(PART, ".inhand")
    gang.tell({"step": "cleaned"})
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("No adhesive for 24 hours after cleaning", "#minutes")
    assert phone.page.locator("#outlasting").count() == 0
    # Whoever releases the next mixing is told what came before it.
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("attempt 2", "#attempt")
    phone.sees("Joint parted and cleaned", "#attempt")
    phone.sees("No adhesive for 24 hours after cleaning", "#attempt")
    phone.sees("Rework: Wet: parted, clean, again", "[data-decided]")


def test_while_24_hours_run_no_reading_leads_that_would_be_too_old(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    gang.tell({"step": "cleaned"})
    phone.sees("No adhesive for 24 hours after cleaning: until", "#held")
    # Faces are good for an hour: that long before, they are of use.
    phone.sees("Faces and air", "#dock [data-early]")
    phone.sees("Too early: counts from", "#dock [data-early]")
    assert phone.page.locator("#dock .main").count() == 0
    phone.sees("Comes after: ", '[data-step="faces"]')
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("Faces and air · Comes after: ", f"[data-subject={JOINT}]")
    gang.open_joint()
    # Whoever means it reads all the same.
    phone.tap("#dock [data-early]")
    phone.sees("Faces and air", "#dock .main")
    # Its form says the same.
    phone.tap("#dock .main")
    phone.sees("Too early: counts from", "#screen #held")
    phone.tap("#back")
    gang.clock_on(23 * 60 + 1)
    phone.tap('[data-step="faces"] .row')
    phone.sees("Faces and air", "#dock .main")
    assert phone.page.locator("#held").count() == 0
    phone.sees("No adhesive for 24 hours after cleaning", "#holds")


def test_while_nothing_can_begin_nothing_is_said_of_beginning_now(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    gang.tell({"step": "cleaned"}, {"step": "faces", "values": ALL_READ})
    phone.sees("No adhesive for 24 hours after cleaning", "#minutes")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.page.locator("#begun-now").wait_for(state="attached")
    phone.page.wait_for_timeout(500)
    assert "If begun now" not in phone.page.inner_text("#screen")


def test_past_it_the_joint_says_that_nobody_forces_it_apart(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    phone.page.evaluate(_TWO_HOURS_AHEAD)
    phone.until("() => document.querySelector('#outlasting .chalk.red') !== null")
    phone.sees("TIME OVER", "#outlasting")
    phone.sees("nobody forces the joint apart", "#outlasting")


def test_it_rings_though_the_attempt_was_ordered_by_a_clock_ahead(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    phone.sees(PART, "#outlasting")
    assert phone.page.evaluate(_RINGS, 0) is True
    assert phone.page.evaluate(_RINGS, 3) is True


_RINGS = """async (hours) => {
  const { model } = await import("/phone/screens/model.js");
  const { alarmsOf } = await import("/phone/screens/alarms.js");
  const { outlasting } = await import("/phone/screens/outlasting.js");
  const { open } = model;
  const now = outlasting(open, Date.now()).at(-1).at + 60_000;
  const entries = open.entries.map((one) => (one.id === open.state.attempt
    ? { ...one, at: one.at + hours * 3_600_000 } : one));
  return alarmsOf({ ...open, entries }, now).some(({ id }) => id.startsWith("ended"));
}"""


def test_what_outlasts_it_for_days_lets_the_phone_sleep(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    phone.sees(PART, "#outlasting")
    assert phone.page.evaluate(_AWAKE, 2) is True
    assert phone.page.evaluate(_AWAKE, 13) is False


_AWAKE = """async (hours) => {
  const { changed, model } = await import("/phone/screens/model.js");
  const [left] = model.open.state.outlasting;
  const part = Date.now() + hours * 3_600_000;
  const state = { ...model.open.state, clocks: {},
    outlasting: [{ ...left, deadlines: { part } }] };
  model.open = { ...model.open, state };
  changed();
  return model.clockRuns;
}"""
_TWO_HOURS_AHEAD = "() => { const real = Date.now; Date.now = () => real() + 7.2e6; }"


def reworked_in_mid_spread(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(
        {"step": "mix-warm", "line": "kit-1"}, {"step": "spread", "line": "kit-1"}
    )
    gang.sign(STOP)
    gang.sign(WET)
    gang.sign(SAFE)
    gang.phone.sees("Nonconformances: 1/1", "#nonconformances")
    gang.dispose("caspar", "rework", "faces", "Wet: parted, clean, again")
