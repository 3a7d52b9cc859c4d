"""A form left half filled: nothing typed is lost, and nothing of it is recorded."""

from typing import Any

from tests.phone.gang import FACES, WARM, YES, Gang
from tests.phone.handset import DOUBLE_TAP_MS

STOP = {"kind": "stopped", "about": {"reason": "something"}}
SAFE = {"kind": "made_safe", "about": {"how": "Seen to"}}


def test_a_form_left_by_more_by_stop_or_by_a_killed_browser_goes_on(
    gang: Gang,
) -> None:
    phone = gang.phone
    before = len(phone.storage("entries"))
    _half(gang)
    phone.tap("#more")
    phone.tap("#back")
    phone.sees("Not saved yet", "#unsaved")
    phone.sees("Not saved yet", '[data-step="faces"]')
    phone.tap("#stop")
    phone.tap("#back")
    phone.restart()
    phone.tap("#unsaved")
    phone.sees("by Jorun Faleck", "#begun")
    phone.sees("18.4", '[data-field="cold-new"]')
    assert len(phone.storage("entries")) == before
    phone.tap('[data-field="hot-new"]')
    for figure in FACES[1:]:
        gang.figure(figure)
    gang.choose_first()
    gang.choose(WARM)
    gang.choose(YES)
    gang.save()
    # What is asked next opens by itself; one tap leads back to the joint.
    phone.sees("Ready to mix", "#head")
    phone.tap("#back")
    phone.sees("done", '[data-step="faces"]')
    assert phone.page.locator("#unsaved").count() == 0
    assert _kept(gang) == []
    assert len(phone.storage("entries")) == before + 1


def test_a_figure_half_typed_is_asked_again_after_a_kill_and_mended_from_the_notice(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.go_on(until="bars")
    gang.tell(*[{"step": "bars"}] * 3, {"sign": STOP}, {"sign": SAFE})
    gang.act()
    gang.choose_first()
    phone.sees("Pressure", ".field.active")
    phone.type_figure("21")
    phone.sees("FAR BELOW", "#means.red")
    phone.until(_WARNED)
    phone.restart()
    phone.tap('#dock [data-step="bars"]')
    phone.sees("21", '.field.active[data-field="pressure"]')
    phone.sees("FAR BELOW", "#means.red")
    phone.until(_WARNED)
    # On its jack, which nobody types, saving says as well what it would raise.
    phone.tap('[data-field="jack"]')
    phone.sees("Nonconformance", "#means.red")
    phone.until(_WARNED)
    phone.tap('[data-field="pressure"]')
    gang.tap_slowly('#dock [data-key="go"]')
    phone.sees("outside the band of this round", "#notice.red")
    phone.tap("#notice [data-amends]", "Correct")
    phone.until("() => location.hash.endsWith('/correct')")
    phone.sees("21", '.field.active[data-field="pressure"]')


def test_answers_are_thrown_away_only_when_it_was_meant_twice(gang: Gang) -> None:
    phone = gang.phone
    _half(gang)
    phone.tap("#back")
    phone.tap("#unsaved")
    phone.sees("begun", "#begun")
    phone.tap('[data-away="ask"]')
    assert len(_kept(gang)) == 1
    phone.tap('[data-away="sure"]')
    phone.until("() => location.hash.startsWith('#/joint/')")
    assert _kept(gang) == []
    gang.act()
    phone.sees("\N{HORIZONTAL ELLIPSIS}", '[data-field="cold-new"]')


def test_a_second_tap_on_the_key_to_a_form_saves_nothing_of_it(gang: Gang) -> None:
    phone = gang.phone
    _half(gang)
    phone.tap('[data-field="hot-new"]')
    for figure in FACES[1:]:
        gang.figure(figure)
    gang.choose_first()
    gang.choose(WARM)
    gang.choose(YES)
    phone.tap("#back")
    phone.sees("Not saved yet", "#dock")
    before = len(phone.storage("entries"))
    phone.page.evaluate(_TWICE)
    phone.until("() => window.second === true")
    phone.sees("SAVE", '#dock [data-key="go"]')
    assert len(phone.storage("entries")) == before
    phone.page.wait_for_timeout(DOUBLE_TAP_MS)
    gang.save()
    phone.sees("Ready to mix", "#head")
    assert len(phone.storage("entries")) == before + 1


_WARNED = """() =>
  document.querySelector('#dock [data-key="go"]')?.dataset.warns === "yes"
"""
_TWICE = """() => {
  const dock = document.querySelector("#dock");
  new MutationObserver((_, seen) => {
    const save = dock.querySelector('.main[data-key="go"]');
    if (!save) return;
    seen.disconnect();
    save.click();
    window.second = true;
  }).observe(dock, { childList: true, subtree: true, attributes: true });
  dock.querySelector(".main").click();
}"""
"""Taps what leads to a form, and SAVE as soon as it stands in the same place."""


def _half(gang: Gang) -> None:
    """Answer three questions of the first form that is next."""
    gang.act()
    for question in ("Dry rag, new face", "Dry rag, old face"):
        gang.phone.sees(question, ".field.active")
        gang.choose("1")
    gang.phone.sees("Coldest, new face", ".field.active")
    gang.phone.type_figure(FACES[0])


def _kept(gang: Gang) -> list[dict[str, Any]]:
    rows: list[Any] = gang.phone.storage("meta")
    return [row for row in rows if isinstance(row, dict) and "answers" in row]
