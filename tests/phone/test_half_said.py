"""What is half said of a decision or release outlives a killed browser, no more; what
a release left open is closed from where it shuts the work.
"""

from tests.phone.gang import JOINT, PINS, Gang
from tests.phone.test_deciding import AREA, go_to_reason, write


def test_conditions_half_said_outlive_a_killed_browser(gang: Gang) -> None:
    phone, area = gang.phone, AREA
    gang.prepare_surfaces()
    gang.act()
    gate = phone.page.evaluate("() => location.hash")
    phone.tap("#with-conditions")
    phone.page.fill(area, "Seal of duct 3 pressed home")
    phone.tap('[data-before="weight"]')
    phone.tap("#add-condition")
    phone.page.fill(area, "Wedge out")
    phone.page.wait_for_timeout(300)
    phone.restart()
    phone.page.evaluate("(route) => { location.hash = route; }", gate)
    phone.tap("#with-conditions")
    phone.sees("Seal of duct 3 pressed home", "#screen")
    phone.sees("Not saved yet", "#screen")
    assert phone.page.input_value(area) == "Wedge out"
    # Whoever calls it off leaves nothing behind.
    phone.tap("#dock .pair .plain")
    phone.tap("#with-conditions")
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value(area) == ""
    assert "Seal of duct 3" not in phone.page.inner_text("#screen")
    # Nor does who refuses it meanwhile.
    phone.page.fill(area, "Wedge out")
    phone.page.wait_for_timeout(300)
    gang.sign({"kind": "refusal", "point": gate.split("/")[-1],
               "about": {"reason": "Faces are wet"}}, "leofric")  # fmt: skip
    phone.page.evaluate(f"() => {{ location.hash = '#/joint/{JOINT}'; }}")
    phone.page.evaluate("(route) => { location.hash = route; }", gate)
    phone.tap("#with-conditions")
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value(area) == ""


def test_what_a_release_left_open_is_closed_from_the_step_it_shuts(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.act()
    phone.tap("#with-conditions")
    phone.page.fill("#screen textarea", "Eye wash bottle to be replaced")
    phone.tap('[data-before="mix-warm"]')
    phone.tap("#release-now")
    phone.type_pin(PINS["leofric"])
    phone.until(f"() => location.hash === '#/joint/{JOINT}'")
    phone.sees("It happened anyway", "#dock .plain")
    phone.sees("Close it", "#dock .main")
    phone.tap('#dock [data-point="mixing"]')
    phone.tap("[data-close]")
    phone.page.fill("#dock textarea", "New bottle hung")
    phone.tap("#close-now")
    phone.sees("New bottle hung", "#conditions")


def test_a_verdict_half_chosen_outlives_a_killed_browser(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    fault = phone.page.evaluate("() => location.hash")
    phone.tap('[data-verdict="rework"]')
    phone.tap("#screen [data-from]")
    phone.page.wait_for_timeout(300)
    phone.restart()
    go_to_reason(gang, fault)
    phone.until(_CHOSEN)
    phone.sees("Not saved yet", "#screen .reasons")
    # What is decided is forgotten with its verdict.
    phone.page.fill(AREA, "Read again")
    phone.tap("#dispose")
    phone.type_pin(PINS["caspar"])
    phone.until("() => location.hash.startsWith('#/joint/')")
    assert _written(gang) == []


def test_what_was_half_typed_goes_once_another_has_decided(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    gang.sign({"kind": "nonconformance", "about": {"text": "Oil on a face"}})
    phone.tap("#nonconformances")
    phone.page.locator("[data-fault]").first.wait_for()
    faults = phone.page.evaluate(_FAULTS)
    for fault in faults:
        write(gang, f"#/nonconformance/{JOINT}/{fault}", "Patch with")
    assert len(_written(gang)) == len(faults)
    about = {"target": faults[0], "verdict": "use_as_is", "reason": "Looked at"}
    gang.sign({"kind": "disposition", "about": about}, "caspar")
    phone.page.evaluate(f"() => {{ location.hash = '#/nonconformance/{JOINT}'; }}")
    phone.page.wait_for_timeout(300)
    # Of the other one nobody has decided anything.
    assert [key.endswith(faults[1]) for key in _written(gang)] == [True]
    go_to_reason(gang, f"#/nonconformance/{JOINT}/{faults[0]}")
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value(AREA) == ""


_CHOSEN = """() => ["verdict", "from"].every((name) =>
  document.querySelector(`[data-${name}][aria-pressed="true"]`))"""
_FAULTS = """async () => {
  const { model } = await import("/phone/screens/model.js");
  return model.open.state.nonconformances.map(({ id }) => id);
}"""
_KEPT = """async () => {
  const { transact } = await import("/phone/device/database.js");
  const keys = await transact(["meta"], "readonly", (store) =>
    store("meta").getAllKeys());
  return keys.filter((key) => key.startsWith("written/"));
}"""


def _written(gang: Gang) -> list[str]:
    found: list[str] = gang.phone.page.evaluate(_KEPT)
    return found


def test_what_another_phone_released_drops_nothing_half_said_here(gang: Gang) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.act()
    gate = phone.page.evaluate("() => location.hash")
    phone.tap("#with-conditions")
    phone.page.fill(AREA, "Wedge out")
    phone.tap('[data-before="weight"]')
    phone.tap("#release-now")
    phone.page.locator(".pin, #pin, .pad").first.wait_for()
    gang.sign({"kind": "release", "point": gate.split("/")[-1], "about": {}}, "leofric")
    phone.page.get_by_role("button", name="Cancel").last.click()
    phone.page.wait_for_timeout(300)
    assert len(_written(gang)) == 1
    # Left, it is over: the gate was released by another.
    phone.page.evaluate(f"() => {{ location.hash = '#/nonconformance/{JOINT}'; }}")
    phone.page.wait_for_timeout(300)
    assert _written(gang) == []


def test_a_verdict_kept_is_not_drawn_over_another_screen(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    phone.tap('[data-verdict="use_as_is"]')
    phone.page.wait_for_timeout(300)
    fault = phone.page.evaluate("() => location.hash.split('/').at(-1)")
    assert phone.page.evaluate(_DRAWN, [JOINT, fault, True]) > 0
    assert phone.page.evaluate(_DRAWN, [JOINT, fault, False]) == 0


_DRAWN = """async ([joint, fault, here]) => {
  const { mount } = await import("/phone/screens/nonconformance.js");
  const [element, dock] = [1, 2].map(() => document.createElement("div"));
  const leave = mount(element, { dock, go: () => {}, params: [joint, fault],
    here: () => here });
  element.replaceChildren();
  await new Promise((done) => setTimeout(done, 300));
  leave();
  return element.childElementCount;
}"""
