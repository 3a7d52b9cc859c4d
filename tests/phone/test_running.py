"""What runs on above a form: by the clock, by others' entries; that there is a STOP."""

from fieldapp.clock import utc_now_ms
from tests.phone.gang import JOINT, Gang

STOP = {"kind": "stopped", "about": {"reason": "rain"}}
SAFE = {"kind": "made_safe", "about": {"how": "Covered"}}
TYPED = "() => document.querySelector('.field.active .echo').textContent"
RUNNING = "document.querySelector('#running .inhand:last-child')?.textContent ?? ''"


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
