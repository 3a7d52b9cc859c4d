"""What leads instead of the race, and what no single tap records any more."""

import json

from tests.phone.gang import JOINT, Gang
from tests.phone.handset import Handset
from tests.phone.test_overtime import _on_to
from tests.phone.test_stop import _REPORTED

BARS = 6
REASONS = "document.querySelectorAll('#dock .reasons .choice').length"
RACE_KEYS = "#dock .main[data-step]"
HOLD = "No adhesive for 24 hours after cleaning"
TWICE = """() => new Promise((done, fail) => {
  setTimeout(() => fail(new Error("nothing came")), 20_000);
  const dock = document.querySelector("#dock");
  const watch = new MutationObserver(() => queueMicrotask(() => {
    const key = dock.querySelector("#parted-decide");
    if (!key) return;
    watch.disconnect();
    done(key.disabled);
  }));
  watch.observe(dock, { childList: true });
  const key = document.querySelector("#nothing-left");
  key.click();
  key.click();
})"""


def _two_kits_on_one_face(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(
        {"step": "mix-warm", "line": "kit-1"},
        {"step": "mix-warm", "line": "kit-2"},
        {"step": "spread", "line": "kit-1"},
    )


def _parted_after_rain(gang: Gang) -> None:
    _two_kits_on_one_face(gang)
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    gang.tell({"step": "cleaned"})


def _gate_is_over(phone: Handset) -> None:
    # Its gate was used and is over, and says by what; nothing of it is green.
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("STOP, Rain", "#lapsed-by")
    phone.sees("It was used before that", "#used-before")
    phone.sees("lapsed", "#screen .headline .badge.yellow")
    phone.sees(HOLD, "#screen .missing")
    # What was read of a film is thrown away for no reason of a kit's.
    for step, count in (("spread", 4), ("faces", 1)):
        line = "kit-1" if step == "spread" else "-"
        route = f"#/line/{JOINT}/{step}/{line}"
        phone.page.evaluate("(route) => { location.hash = route; }", route)
        phone.tap("#discard")
        phone.until(f"() => {REASONS} === {count}")


def test_parted_and_cleaned_nothing_of_the_race_leads(gang: Gang) -> None:
    phone = gang.phone
    _parted_after_rain(gang)
    phone.sees("STOP", "#stop-decide")
    # A glove's double tap signs one note, and what comes in its place takes no tap.
    phone.page.locator("#nothing-left:enabled").wait_for()
    assert phone.page.evaluate(TWICE) is True
    phone.sees("How it goes on is decided first", "#parted")
    phone.sees(HOLD, "#holds")
    phone.sees("Report a nonconformance", "#parted-decide")
    kinds = [json.loads(row["bytes"])["kind"] for row in phone.storage("entries")]
    assert kinds.count("note") == 1
    assert phone.page.locator(RACE_KEYS).count() == 0
    _gate_is_over(phone)
    # From afar it says the same.
    phone.page.evaluate("() => { location.hash = '#/'; }")
    phone.sees("How it goes on is decided first", f"[data-subject={JOINT}]")
    gang.open_joint()
    # What is opened all the same is not recorded by one tap.
    before = len(phone.storage("entries"))
    for step in ("spread", "pot-kept"):
        phone.tap(f'[data-step="{step}"] .row')
        phone.tap(f'#dock [data-step="{step}"]')
        phone.until("() => document.body.dataset.screen !== 'joint'")
        phone.tap("#back")
        phone.until("() => document.body.dataset.screen === 'joint'")
    assert len(phone.storage("entries")) == before
    # Nor after a start anew, when the joint as it was seen last comes first.
    phone.restart()
    gang.open_joint()
    phone.sees(HOLD, "#holds")
    phone.sees("Report a nonconformance", "#parted-decide")


def test_parted_past_its_time_the_engineer_leads_and_no_old_clock(gang: Gang) -> None:
    phone = gang.phone
    _two_kits_on_one_face(gang)
    _on_to(gang, 1)
    phone.sees("Joint parted and cleaned", "#made-apart")
    gang.tell({"step": "cleaned"})
    phone.sees("Nonconformances", "#parted-decide")
    phone.sees(HOLD, "#holds")
    assert phone.page.locator(RACE_KEYS).count() == 0
    # A kit put on all the same is adhesive again: taken off first, no minutes in hand.
    gang.tell({"step": "spread", "line": "kit-2"})
    phone.sees("Joint parted and cleaned", "#made-apart")
    phone.sees(HOLD, "#holds")
    assert phone.page.locator("#in-hand").count() == 0
    assert phone.page.locator(RACE_KEYS).count() == 0


def test_what_a_gate_lies_before_is_not_recorded_by_one_tap(gang: Gang) -> None:
    phone = gang.phone
    before = len(phone.storage("entries"))
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}/spread'; }}")
    phone.sees("Comes after", '[data-step="spread"]')
    phone.tap('#dock [data-step="spread"]')
    phone.until("() => document.body.dataset.screen === 'form'")
    assert len(phone.storage("entries")) == before
    # Recorded out of order, it leads to no later step; nor does it once discarded.
    gang.tell({"step": "spread", "line": "kit-1"})
    gang.open_joint()
    phone.sees("Faces and air", "#dock")
    gang.sign({"kind": "discarded", "step": "spread", "line": "kit-1",
               "about": {"reason": "Recorded by mistake"}})  # fmt: skip
    phone.restart()
    phone.sees("Faces and air", "#dock")


def test_the_way_back_from_a_stop_is_in_sight_below_its_minutes(gang: Gang) -> None:
    phone = gang.phone
    _two_kits_on_one_face(gang)
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    phone.sees("Rain", "#stop-trace")
    above: bool = phone.page.evaluate(_ABOVE)
    assert above
    phone.tap("#nothing-left")
    phone.sees("Kits on the face", RACE_KEYS)
    phone.until("() => document.querySelector('#stop-trace') === null")


def test_a_stop_leaves_the_key_of_making_safe_however_it_was_put_on(
    gang: Gang,
) -> None:
    phone = gang.phone
    _two_kits_on_one_face(gang)
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    # While it is in force a report is of it, and of nothing the race had next.
    phone.page.evaluate(f"() => {{ location.hash = '#/nonconformance/{JOINT}/new'; }}")
    phone.page.locator("#screen textarea").wait_for()
    assert phone.page.input_value("#screen textarea") == "Rain: "
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    phone.sees("Joint parted and cleaned", "#made-apart")
    for status in ("ok", "anyway", "failed", "partial", "disputed"):
        assert phone.page.evaluate(_PUT_ON, [status, True]) is True, status
    assert phone.page.evaluate(_PUT_ON, ["discarded", True]) is False
    # A sheet issued before it could say what is taken off asks the STOP.
    assert phone.page.evaluate(_PUT_ON, ["ok", False]) is True


_PUT_ON = """async ([status, named]) => {
  const { model } = await import("/phone/screens/model.js");
  const { keys } = await import("/phone/screens/instead.js");
  const { stopLeft } = await import("/phone/screens/decided.js");
  const plain = (one) => JSON.parse(JSON.stringify(one));
  const { sheet, state } = model.open;
  const open = { ...model.open, sheet: plain(sheet), state: plain(state) };
  for (const id of open.sheet.steps.cleaned.takes_off) {
    for (const line of Object.values(open.state.steps[id].lines)) line.status = status;
  }
  if (!named) delete open.sheet.steps.cleaned.takes_off;
  const left = stopLeft(open);
  return keys(open, { calledOff: left, go: () => {} }, Date.now())
    .querySelector("#made-apart") !== null;
}"""


_ABOVE = """() => document.querySelector("#stop-trace").getBoundingClientRect().bottom
  <= document.querySelector("#minutes").getBoundingClientRect().top"""


def test_a_key_that_takes_a_lot_with_it_says_which(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    phone.sees("A ", '#dock [data-step="mix-warm"]')
    lot = phone.page.inner_text('#dock [data-step="mix-warm"] small')
    phone.page.wait_for_timeout(400)
    phone.tap('#dock [data-step="mix-warm"]')
    phone.sees(lot, "#notice")
    # Discarded, its lot is handed on no more: it is asked.
    gang.sign({"kind": "discarded", "step": "mix-warm", "line": "kit-2",
               "about": {"reason": "Wrong kit"}})  # fmt: skip
    phone.until("() => document.querySelectorAll('#dock small').length === 0")
    phone.tap('#dock [data-step="mix-warm"]')
    phone.until("() => document.body.dataset.screen === 'form'")


def test_a_broken_bar_is_decided_first_and_the_race_stays_in_reach(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * (2 * BARS + 2))
    # The bar in hand leads, and comes first on the card.
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}/bar-lost'; }}")
    phone.sees("bar 3", '#dock [data-step="bar-lost"]')
    phone.tap("#stop")
    phone.tap('[data-card="bar"]')
    phone.sees("bar 3", "#card-step .choices > :first-child")
    gang.open_joint()
    gang.tell({"step": "bar-lost", "line": "b3"})
    gang.sign({"kind": "made_safe", "about": {"how": "Bar broken"}})
    phone.sees("Bar broken", "#stop-decide.main")
    phone.sees("Report a nonconformance", "#stop-decide")
    phone.sees("Nothing is left to decide", "#nothing-left")
    phone.sees("Round 3, bar 4", "#go-on")
    # From afar, and what is to be reported, is the same.
    assert phone.page.evaluate(_LEADS_TO).startswith("STOP")
    # The open time runs: the form is one tap away, and says what was stopped.
    phone.tap("#go-on")
    phone.sees("Bar broken. Raise them only if the engineer says so", "#stop-before")
    phone.tap("#back")
    # Reported is not decided; the race leads again once it is.
    phone.tap("#stop-decide")
    phone.tap("#report-now")
    gang.open_joint()
    phone.sees("Nonconformances", "#stop-decide")
    assert phone.page.locator("#nothing-left").count() == 0
    about = {"target": phone.page.evaluate(_REPORTED, "Bar broken"),
             "verdict": "use_as_is", "reason": "Five bars hold it"}  # fmt: skip
    gang.sign({"kind": "disposition", "about": about}, "caspar")
    phone.sees("Round 3, bar 4", RACE_KEYS)
    assert phone.page.locator("#go-on").count() == 0
    gang.tell({"step": "bars", "line": "b4-r3"})
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/bars/b5-r3'; }}")
    phone.sees("Jack and gauge", "#screen")
    assert phone.page.locator("#stop-before").count() == 0


_LEADS_TO = """async () => {
  const { model } = await import("/phone/screens/model.js");
  const { leadsTo } = await import("/phone/screens/instead.js");
  return leadsTo(model.open, Date.now());
}"""


def test_a_wrong_kit_is_named_on_its_card_before_the_race_leads_on(gang: Gang) -> None:
    phone = gang.phone
    _two_kits_on_one_face(gang)
    phone.tap("#stop")
    phone.tap('[data-card="wrong-kit"]')
    phone.sees("What is thrown away?", "#card-discards")
    phone.sees("Kits on the face", '#card-discards [data-line="kit-1"]')
    phone.tap("#made-safe")
    phone.sees("What is thrown away?", "#stop-decide")
    phone.sees("Kit 2", "#go-on")
    # Made safe is said once: the card leads back, and names the kit by two taps.
    phone.tap("#stop-decide")
    phone.sees("W1", "#to-joint")
    assert phone.page.locator("#made-safe").count() == 0
    gang.tap_slowly('#card-discards [data-line="kit-2"]')
    gang.tap_slowly('[data-reason="Not the right one"]')
    phone.sees("discarded", '#card-discards [data-line="kit-2"]')
    gang.tap_slowly("#to-joint")
    phone.sees("Kit 3", RACE_KEYS)
    assert phone.page.locator("#stop-decide").count() == 0
