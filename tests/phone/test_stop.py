"""STOP: always there, recorded at one tap, never refused, no PIN."""

from typing import Any

from tests.phone.gang import JOINT, PINS, TITLE, Gang

FORM = f"/form/{JOINT}/faces/-"
SCREENS = (
    "/", "/people", "/more", "/office", f"/joint/{JOINT}", FORM,
    f"/point/{JOINT}/mixing", f"/nonconformance/{JOINT}",
)  # fmt: skip

GO = """(route) => {
  document.body.dataset.screen = "";
  location.hash = route;
}"""
TWICE = """(reason) => new Promise((done) => {
  const dock = document.getElementById("dock");
  const watch = new MutationObserver(() => {
    const key = dock.querySelector("#made-safe");
    if (!key) return;
    watch.disconnect();
    key.click();
    done();
  });
  watch.observe(dock, { childList: true });
  for (const key of [reason, '[data-card="power"]', reason]) {
    document.querySelector(key).click();
  }
})"""
"""A gloved thumb taps again: on the reasons, and on what came in their place."""
SAFE_TWICE = """() => new Promise((done) => setTimeout(() => {
  const key = document.querySelector("#made-safe");
  key.click();
  key.click();
  done();
}, 400))"""


def test_one_tap_on_the_reason_records_stop_and_opens_its_card(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate("(route) => { location.hash = route; }", FORM)
    phone.until("() => document.body.dataset.screen === 'form'")
    phone.tap("#stop")
    phone.sees("Rain", '[data-card="rain"]')
    phone.sees(TITLE, "#whose")
    phone.page.evaluate(TWICE, '[data-card="rain"]')
    phone.sees("Cover both faces at once")
    phone.sees(TITLE, "#whose")
    phone.sees("Stop recorded")
    assert _entries(gang, "made_safe") == []
    stopped = _entries(gang, "stopped")
    assert [entry["about"]["reason"] for entry in stopped] == ["rain"]
    assert stopped[0]["unlocked"] == "shift"
    # Whoever was called away from a form is back in it, and from there at the joint.
    phone.tap("#back")
    phone.until(f"() => location.hash === '#{FORM}'")
    phone.tap("#back")
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.tap("#stop-card")
    phone.sees("Cover both faces at once")
    phone.tap("#back")
    phone.until("() => document.body.dataset.screen === 'joint'")
    # One tap where the work was stopped, and a thumb's second one says nothing more.
    phone.page.evaluate(SAFE_TWICE)
    phone.until("() => !document.querySelector('#made-safe')")
    assert len(_entries(gang, "made_safe")) == 1
    # What stopped it stays in sight until somebody says what becomes of it.
    phone.sees("Rain", "#stopped-before")
    assert phone.page.locator("#over").is_hidden()
    # Whoever says it need not say again what stopped it.
    phone.tap("#stopped-before")
    phone.tap("#report-now")
    phone.sees("Rain", "[data-fault]")


def test_a_release_lapses_on_a_stop_the_plan_names(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.phone.sees("GO", "#go")
    gang.phone.tap("#stop")
    gang.phone.tap('[data-card="rain"]')
    gang.phone.tap("#made-safe")
    gang.phone.sees("lapsed", '[data-point="mixing"]')
    assert gang.phone.page.locator("#go").count() == 0


def test_a_stop_that_ended_a_release_in_use_keeps_the_joint_until_it_is_decided(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell(
        {"step": "mix-warm", "line": "kit-1"}, {"step": "spread", "line": "kit-1"}
    )
    gang.sign({"kind": "nonconformance", "about": {"text": "A hose leaks"}})
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    # The release that kit 1 was mixed on is no more, and nothing says to go on.
    phone.sees("lapsed", '[data-point="mixing"]')
    phone.sees("Report a nonconformance", "#dock")
    # Parted and cleaned at once, before anybody decides: it ends the adhesive's clocks.
    phone.tap("#made-apart")
    phone.until("() => document.body.dataset.screen === 'form'")
    gang.choose("1")
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.until("() => document.querySelector('#made-apart') === null")
    done = [e["step"] for e in _entries(gang, "done") if e["step"] == "cleaned"]
    assert done == ["cleaned"]
    phone.until("() => document.querySelector('#chalk') === null")
    # What is done all the same can be written down.
    phone.tap('[data-step="mix-warm"] .row')
    phone.tap('[data-step="mix-warm"] [data-line="kit-2"]')
    phone.until("() => document.body.dataset.screen === 'form'")
    phone.tap("#back")
    # Something else that is decided says nothing of it.
    _use_as_is(gang, "A hose leaks")
    phone.sees("Rain", "#stopped-before")
    phone.tap("#stop-decide")
    phone.tap("#report-now")
    # Of several reported of no step any may come first.
    phone.page.locator("[data-fault]", has_text="Rain").wait_for()
    gang.open_joint()
    phone.sees("Rain", "#stopped-before")
    # The gate says in its own words what shuts it.
    phone.tap('[data-point="mixing"] > .row')
    phone.sees("An open nonconformance shuts this gate: Rain", '[data-point="mixing"]')
    _use_as_is(gang, "Rain")
    phone.until("() => document.querySelector('#stopped-before') === null")


def _no_minutes_in_hand(gang: Gang) -> None:
    """Where it may only be parted, what is left for that is told, and nothing green."""
    phone = gang.phone
    phone.until("() => document.querySelector('#stop-card, #stop-decide') !== null")
    phone.sees("Part clean by", "#minutes .chalk.yellow")
    assert phone.page.locator("#in-hand, #minutes .green").count() == 0


def test_only_a_stop_that_leaves_the_release_leaves_the_minutes_in_hand(
    gang: Gang,
) -> None:
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.tell({"step": "mix-warm", "line": "kit-1"})
    # What is reported of work half done shuts nothing of it, in the column either.
    gang.sign({"kind": "nonconformance", "about": {"text": "A hose leaks"}})
    gang.phone.sees("1/1", "#nonconformances")
    gang.phone.sees("released", '[data-point="mixing"]')
    gang.sign({"kind": "stopped", "about": {"reason": "power"}})
    gang.phone.until("() => document.querySelector('#stop-card') !== null")
    gang.phone.sees("Pressure by", "#minutes .chalk")
    gang.phone.sees("min in hand", "#in-hand")
    gang.sign({"kind": "made_safe", "about": {"how": "Pump replaced"}})
    gang.sign({"kind": "stopped", "about": {"reason": "rain"}})
    _no_minutes_in_hand(gang)
    gang.sign({"kind": "made_safe", "about": {"how": "Covered"}})
    _no_minutes_in_hand(gang)


def test_a_word_that_nothing_is_left_to_decide_ends_what_is_said_of_a_stop(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.sign({"kind": "stopped", "about": {"reason": "power"}})
    gang.sign({"kind": "made_safe", "about": {"how": "Pump replaced"}})
    phone.tap("#stopped-before")
    phone.tap("#nothing-left")
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.until("() => document.querySelector('#stopped-before') === null")
    assert "Power" in _entries(gang, "note")[0]["about"]["text"]


def _use_as_is(gang: Gang, text: str) -> None:
    target = gang.phone.page.evaluate(_REPORTED, text)
    about = {"target": target, "verdict": "use_as_is", "reason": "Looked at"}
    gang.sign({"kind": "disposition", "about": about}, "caspar")


def test_stop_stands_in_the_same_place_on_every_screen(gang: Gang) -> None:
    places = set()
    for hand in ("right", "left"):
        gang.phone.tap("#more")
        gang.phone.tap(f'[data-setting="hand-{hand}"]')
        for screen in SCREENS:
            gang.phone.page.evaluate(GO, screen)
            gang.phone.until("() => document.body.dataset.screen !== ''")
            places.add(_box(gang))
    assert len(places) == 1


def test_an_open_pin_pad_leaves_stop_free(gang: Gang) -> None:
    gang.prepare_surfaces()
    released = len(_entries(gang, "release"))
    gang.act()
    gang.phone.tap("#release")
    gang.phone.sees("PIN of", "#over")
    gang.phone.tap("#stop")
    gang.phone.tap('[data-card="rain"]')
    gang.phone.sees("Stop recorded")
    assert len(_entries(gang, "release")) == released


def test_without_a_shift_the_card_still_opens_first(gang: Gang) -> None:
    phone = gang.phone
    phone.tap("#more")
    phone.tap("#to-people")
    phone.tap('[data-person="jorun"] .plain')
    phone.tap("#back")
    phone.tap("#stop")
    phone.tap('[data-card="rain"]')
    phone.sees("Cover both faces at once")
    phone.sees("sign in to record it")


_REPORTED = """async (text) => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.entries.find(({ about }) => about.text === text).id;
}"""


def test_a_wrong_pin_holds_up_no_recording(gang: Gang) -> None:
    gang.prepare_surfaces()
    gang.act()
    for _ in range(3):
        gang.phone.tap("#release")
        gang.phone.type_pin("111111")
        gang.phone.sees("Wrong PIN", "#over")
        gang.phone.tap("#over .plain")
    gang.phone.tap("#release")
    gang.phone.sees("Recording goes on", "#over")
    gang.phone.type_pin(PINS["leofric"])
    gang.phone.sees("Wait", "#over")
    gang.phone.tap("#over .plain")
    gang.phone.tap("#back")
    gang.phone.tap('[data-step="faces"] .row')
    gang.act()
    gang.phone.until("() => document.body.dataset.screen === 'form'")


def _box(gang: Gang) -> tuple[float, ...]:
    found: dict[str, Any] | None = gang.phone.page.locator("#stop").bounding_box()
    assert found is not None
    return tuple(found[name] for name in ("x", "y", "width", "height"))


def _entries(gang: Gang, kind: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = gang.phone.page.evaluate(
        """async (kind) => {
          const { transact } = await import("/phone/device/database.js");
          const rows = await transact(["entries"], "readonly", (store) =>
            store("entries").getAll());
          return rows.map((row) => JSON.parse(row.bytes))
            .filter((entry) => entry.kind === kind);
        }""",
        kind,
    )
    return found


def test_stop_says_what_to_do_where_the_sheet_is_not_on_this_phone(gang: Gang) -> None:
    phone = gang.phone
    for route in ("/joint/j-nowhere", "/stop/j-nowhere/rain", "/form/j-nowhere/x/-"):
        phone.page.evaluate("() => { document.body.dataset.screen = ''; }")
        phone.page.evaluate("(route) => { location.hash = route; }", route)
        phone.until("() => document.body.dataset.screen !== ''")
        phone.tap("#stop")
        phone.sees("Stop the work by voice", "#stop-nowhere")
    phone.tap("#stop-elsewhere")
    phone.tap(f'[data-subject="{JOINT}"]')
    phone.sees("STOP: why?", "#screen")
    assert phone.faults == []
