"""What runs on above a form: by the clock, by others' entries; that there is a STOP."""

from fieldapp.clock import utc_now_ms
from tests.phone.gang import JOINT, Gang

STOP = {"kind": "stopped", "about": {"reason": "rain"}}
SAFE = {"kind": "made_safe", "about": {"how": "Covered"}}
TYPED = "() => document.querySelector('.field.active .echo').textContent"
RUNNING = "document.querySelector('#running .inhand:last-child')?.textContent ?? ''"

ANOTHER = """async () => {
  const { changed, model } = await import("/phone/screens/model.js");
  model.identity = { ...model.identity, device: "another" };
  changed();
}"""
"""Makes all that was recorded here another phone's."""


def racing(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.first_kit_at(utc_now_ms() - 60_000)


def test_the_minutes_run_on_above_an_open_form_by_the_clock(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.sees("in hand", "#running")
    phone.page.locator("#dock .pad").wait_for()
    phone.type_figure("21")
    before = phone.page.evaluate(TYPED)
    first = phone.page.evaluate(f"() => {RUNNING}")
    gang.clock_on(4)
    phone.until(f"() => {RUNNING} !== {first!r}")
    assert phone.page.evaluate(TYPED) == before
    # What another phone records moves them as well, and takes nothing typed.
    first = phone.page.evaluate(f"() => {RUNNING}")
    gang.tell({"step": "mix-warm"}, {"step": "spread"}, {"step": "close"})
    phone.until(f"() => {RUNNING} !== {first!r}")
    assert phone.page.evaluate(TYPED) == before


def test_the_minutes_are_on_every_screen_of_the_joint(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    for route in (
        f"line/{JOINT}/faces/-",
        f"stop/{JOINT}",
        f"nonconformance/{JOINT}/new",
        f"point/{JOINT}/mixing",
    ):
        phone.page.evaluate(f"() => {{ location.hash = '#/{route}'; }}")
        phone.sees("in hand", "#running")
    # The joint has its own, and a card says what is left beside its key.
    for route in (f"joint/{JOINT}", f"stop/{JOINT}/rain"):
        phone.page.evaluate(f"() => {{ location.hash = '#/{route}'; }}")
        phone.until("() => document.querySelector('#running').childElementCount === 0")


def test_a_stop_of_another_phone_is_told_above_an_open_form(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.page.locator("#dock .pad").wait_for()
    phone.type_figure("21")
    before = phone.page.evaluate(TYPED)
    gang.sign(STOP)
    phone.sees("STOP · Rain", "#stop-told")
    phone.sees("Part clean by", "#running")
    assert phone.page.evaluate(TYPED) == before
    # It forbids nothing.
    gang.save()
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.page.locator("#stop-told").wait_for()
    gang.sign(SAFE)
    phone.until("() => document.querySelector('#stop-told') === null")


def test_what_another_phone_read_meanwhile_is_told_before_saving(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    gang.tell({"step": "mix-warm"}, {"step": "spread"}, {"step": "close"})
    route = f"#/form/{JOINT}/bars/b1-r1"
    phone.page.evaluate("(route) => { location.hash = route; }", route)
    phone.sees("in hand", "#running")
    assert phone.page.locator("#meanwhile").count() == 0
    gang.tell({"step": "bars", "line": "b1-r1",
               "values": {"jack": "jack-a", "pressure": 150}})  # fmt: skip
    # Its own reading is told to nobody; that of another phone is.
    phone.page.wait_for_timeout(1500)
    assert phone.page.locator("#meanwhile").count() == 0
    phone.page.evaluate(ANOTHER)
    phone.sees("Recorded meanwhile · 150 bar", "#meanwhile")
    phone.sees("Jorun", "#meanwhile")


def test_what_was_half_typed_in_the_race_is_in_sight_after_a_restart(
    gang: Gang,
) -> None:
    phone = gang.phone
    racing(gang)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.page.locator("#dock .pad").wait_for()
    phone.type_figure("21")
    phone.sees("Not saved yet")
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.sees("Not saved yet", "#left-unsaved")
    phone.restart()
    phone.sees("Not saved yet", "#left-unsaved")
    phone.tap("#left-unsaved")
    phone.sees("21", ".field.active")


def test_a_time_over_names_what_is_over_and_what_is_next_apart(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    left = "() => document.querySelector('#left')?.textContent ?? ''"
    # Pressure was due; the open time still runs, and what is late is late for that.
    gang.clock_on(54)
    phone.sees("TIME OVER · Pressure by", ".chalk.red")
    phone.sees("Open time over in ", "#in-hand")
    assert phone.page.evaluate(left).startswith("+ ")
    gang.clock_on(15)
    phone.sees("TIME OVER · Open time over", ".chalk.red")
    phone.sees("Part clean by in ", "#in-hand")
    gang.clock_on(60)
    phone.sees("TIME OVER · Part clean by", ".chalk.red")
    assert "Part clean by in" not in phone.page.inner_text("#minutes")


def test_called_off_nothing_above_a_form_is_green_and_what_is_past_is_marked(
    gang: Gang,
) -> None:
    phone = gang.phone
    racing(gang)
    gang.sign(STOP)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.sees("Part clean by", "#running .inhand.yellow")
    assert phone.page.locator("#running .green").count() == 0
    gang.clock_on(120)
    phone.sees("Part clean by · + ", "#running .inhand.red:last-child")


def test_a_stop_that_stands_is_read_aloud_once(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    gang.sign(STOP)
    phone.page.locator("#stop-told[role=alert]").wait_for()
    # What changes beside it meanwhile has it read aloud by nobody once more.
    phone.page.evaluate(MARK)
    first = phone.page.evaluate(f"() => {RUNNING}")
    gang.clock_on(2)
    phone.until(f"() => {RUNNING} !== {first!r}")
    assert phone.page.evaluate(MOVED) == []
    phone.page.locator("#stop-told:not([role])").wait_for(timeout=20_000)
    gang.clock_on(2)
    phone.page.wait_for_timeout(1500)
    assert phone.page.locator("#stop-told[role=alert]").count() == 0


def test_what_fails_to_be_told_keeps_no_alarm_silent(gang: Gang) -> None:
    phone = gang.phone
    racing(gang)
    phone.page.evaluate(f"() => {{ location.hash = '#/form/{JOINT}/face-temp'; }}")
    phone.sees("in hand", "#running")
    phone.page.evaluate(BREAK)
    gang.clock_on(54)
    phone.sees("Pressure by", "#alarm")
    assert set(phone.faults) == {"cannot be told"}
    phone.faults.clear()


MARK = """() => {
  window.moved = [];
  new MutationObserver((all) => {
    for (const { addedNodes } of all) {
      for (const { id } of addedNodes) window.moved.push(id);
    }
  }).observe(document.querySelector("#running"), { childList: true });
}"""
MOVED = "() => window.moved.filter((id) => id === 'stop-told')"
BREAK = """() => {
  Node.prototype.isEqualNode = () => { throw new Error("cannot be told"); };
}"""
