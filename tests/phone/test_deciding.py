"""Nonconformances by right of role: what is known is offered, the rest is not."""

import json

from tests.phone.gang import JOINT, PINS, Gang

PATCH = "Patch with the approved mortar, seen by the inspector."
HERE = """async (people) => {
  const { changed, model } = await import("/phone/screens/model.js");
  model.here = model.here.filter(({ person }) => people.includes(person));
  changed();
}"""


def test_what_was_proposed_is_taken_over_by_whoever_decides(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    # The lift is behind: only what is still to come is said to be shut.
    phone.sees("Gate: mixing", "#shuts")
    assert "Gate: lift" not in phone.page.inner_text("#shuts")
    phone.tap('[data-verdict="repair"]')
    phone.page.fill("#screen textarea", PATCH)
    phone.tap("#propose")
    phone.type_pin(PINS["edric"])
    phone.until("() => location.hash.startsWith('#/joint/')")
    phone.sees("Repair \u00b7 proposal", "#notice")
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    phone.tap("[data-take]")
    phone.tap("#dispose")
    phone.type_pin(PINS["caspar"])
    phone.until("() => location.hash.startsWith('#/joint/')")
    entries = [json.loads(row["bytes"]) for row in phone.storage("entries")]
    [decided] = [each for each in entries if each["kind"] == "disposition"]
    assert decided["person"] == "caspar"
    assert decided["about"]["verdict"] == "repair"
    assert decided["about"]["reason"] == PATCH


def test_a_released_gate_says_that_it_is_shut_and_by_what_wherever_it_is_told(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.prepare_surfaces()
    gang.release("leofric")
    gang.sign({"kind": "nonconformance", "about": {"text": "Jack leaks oil"}})
    phone.sees("shut", '[data-point="mixing"] .badge')
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    # Nothing is mixed yet: it holds that up, as the joint says.
    phone.sees("Shuts: Gate: mixing", "#shuts")
    phone.page.evaluate(
        "(route) => { location.hash = route; }", f"/point/{JOINT}/mixing"
    )
    phone.sees("Jack leaks oil", "#screen .missing")
    head = phone.page.inner_text("#screen .headline")
    assert "shut" in head
    assert "released" not in head
    assert "runs out" in head
    phone.sees("Leofric", "#releases")
    assert phone.page.locator("#begun-now").count() == 0


def test_nobody_is_offered_what_they_may_not_sign(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    fault = f"/nonconformance/{JOINT}"
    phone.page.evaluate(HERE, ["jorun", "edric"])
    phone.page.evaluate("(route) => { location.hash = route; }", fault)
    phone.tap("[data-fault]")
    phone.tap('[data-verdict="repair"]')
    phone.sees("Propose", "#propose")
    assert phone.page.locator("#dispose").count() == 0
    phone.page.evaluate("(route) => { location.hash = route; }", f"/joint/{JOINT}")
    phone.until("() => document.body.dataset.screen === 'joint'")
    phone.page.evaluate(HERE, ["jorun"])
    phone.page.evaluate("(route) => { location.hash = route; }", fault)
    phone.tap("[data-fault]")
    phone.sees("disposes", "#screen .hint")
    assert phone.page.locator("[data-verdict]").count() == 0


def test_a_report_names_the_step_in_hand_and_wants_more_than_that(gang: Gang) -> None:
    phone = gang.phone
    phone.page.evaluate(
        "(route) => { location.hash = route; }", f"/nonconformance/{JOINT}/new"
    )
    phone.until("() => document.querySelector('#report-now')")
    where = phone.page.input_value("#screen textarea")
    assert where == "Faces and air: "
    phone.tap("#report-now")
    phone.sees("Say it in a few words first", "#screen .note")
    phone.page.fill("#screen textarea", f"{where}a shear key is chipped")
    phone.tap_twice("#report-now")
    phone.sees("Faces and air: a shear key is chipped", "[data-fault]")
    # A thumb's second tap reports nothing more, and opens no fresh report.
    phone.sees("Saved", "#notice")
    route = f"#/nonconformance/{JOINT}"
    phone.until(f"() => location.hash === '{route}'")
    entries = [json.loads(row["bytes"]) for row in phone.storage("entries")]
    kinds = [each["kind"] for each in entries]
    assert kinds.count("nonconformance") == 1
    # What a STOP card is about could be signed as it stands: not by the tap that led
    # there.
    phone.page.evaluate("(hash) => { location.hash = hash; }", f"/stop/{JOINT}/rain")
    phone.tap_twice("#report")
    phone.sees("Report a nonconformance", "#report-now")
    assert len(phone.storage("entries")) == len(entries)


def test_a_report_written_over_the_step_is_as_good_however_short(gang: Gang) -> None:
    phone = gang.phone
    phone.tap("#nonconformances")
    phone.tap("#report")
    phone.page.fill("#screen textarea", "Oil")
    phone.tap("#report-now")
    phone.sees("Oil", "[data-fault]")


def test_what_was_missing_is_not_said_any_more_once_it_is_there(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    phone.tap('[data-verdict="rework"]')
    phone.tap("#dispose")
    phone.sees("Choose the step to start again from", "#decide-note")
    phone.tap("#screen [data-from]")
    assert phone.page.locator("#decide-note").count() == 0
    phone.tap("#dispose")
    phone.sees("Say it in a few words first", "#decide-note")
    phone.page.fill("#screen textarea", "Read")
    assert phone.page.locator("#decide-note").count() == 0


def test_a_reason_half_typed_outlives_a_killed_browser_until_it_is_signed(
    gang: Gang,
) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    fault = phone.page.evaluate("() => location.hash")
    half = {
        fault: "Patch with",
        f"#/nonconformance/{JOINT}/new": "Faces and air: oil on",
        f"#/point/{JOINT}/mixing": "Not seen from",
    }
    for route, said in half.items():
        write(gang, route, said)
    phone.restart()
    for route, said in half.items():
        go_to_reason(gang, route)
        phone.until(f"() => document.querySelector({AREA!r})?.value === {said!r}")
        phone.sees("Not saved yet", "#screen .reasons")
    # What is chosen instead is no longer half typed; what is signed is forgotten.
    phone.tap("#screen .choice", "Reading missing")
    phone.tap("#refuse-now")
    phone.type_pin(PINS["leofric"])
    phone.sees("Reading missing", "#refused-by")
    phone.tap("#refuse")
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value("#screen textarea") == ""
    write(gang, fault, "")
    phone.restart()
    go_to_reason(gang, fault)
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value("#screen textarea") == ""
    assert phone.page.locator("#screen .reasons .careful:visible").count() == 0


def test_a_refusal_called_off_leaves_no_words_to_who_refuses_next(gang: Gang) -> None:
    phone = gang.phone
    write(gang, f"#/point/{JOINT}/mixing", "Not seen from")
    phone.tap("#refuse-not")
    phone.tap("#refuse")
    phone.page.wait_for_timeout(300)
    assert phone.page.input_value(AREA) == ""


def test_a_reason_half_typed_keeps_nothing_new_from_who_decides(gang: Gang) -> None:
    phone = gang.phone
    gang.sign({"kind": "nonconformance", "about": {"text": "Shear key chipped"}})
    phone.tap("#nonconformances")
    phone.tap("[data-fault]")
    fault = phone.page.evaluate("() => location.hash")
    write(gang, fault, "Patch with")
    phone.restart()
    go_to_reason(gang, fault)
    phone.until(f"() => document.querySelector({AREA!r})?.value === 'Patch with'")
    gang.tell({"step": "cleaned"})
    phone.sees("Joint parted and cleaned", "#since")
    assert phone.page.input_value(AREA) == "Patch with"


AREA = "#screen textarea"


def write(gang: Gang, route: str, said: str) -> None:
    go_to_reason(gang, route)
    gang.phone.page.fill(AREA, said)
    gang.phone.page.wait_for_timeout(300)


def go_to_reason(gang: Gang, route: str) -> None:
    gang.phone.page.evaluate("(route) => { location.hash = route; }", route)
    if "/point/" in route:
        gang.phone.tap("#refuse")
    gang.phone.page.locator(AREA).wait_for()
