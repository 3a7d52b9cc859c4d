"""Who signs a gate: who has, who is still wanted, and the way back to it."""

from tests.phone.conftest import Make
from tests.phone.gang import JOINT, PINS, TITLE, Gang
from tests.phone.office import Office

OTHER = "j-e1"
ASIDE = """() => document.querySelector("#rests, [data-rest]")
  ?.compareDocumentPosition(document.getElementById("releases"))
  & Node.DOCUMENT_POSITION_PRECEDING"""
"""Whether who must sign stands before the evidence."""


def _show(gang: Gang, route: str) -> None:
    gang.phone.page.evaluate("(hash) => { location.hash = hash; }", f"#{route}")


def test_a_gate_with_two_signatures_says_first_who_has_signed_and_who_is_wanted(
    gang: Gang,
) -> None:
    phone = gang.phone
    _show(gang, f"/joint/{OTHER}")
    phone.sees("Joint E1", "#head")
    gang.go_on()
    _show(gang, f"/point/{OTHER}/lift")
    phone.until("() => document.querySelector('[data-rest]') !== null")
    # Where nobody has signed there is nothing to say first.
    assert phone.page.locator("#some-signed").count() == 0
    assert not phone.page.evaluate(ASIDE)

    phone.tap("#call")
    # Said where it was tapped: what, by whom, and who is missing still.
    phone.sees("Gate: lift · call", "#notice")
    phone.sees("Jorun Faleck · missing: Lifting supervisor, Erection engineer",
               "#notice")  # fmt: skip
    phone.tap("#release")
    phone.tap('#over [data-person="brannoc"]')
    phone.type_pin(PINS["brannoc"])
    phone.sees("Gate: lift · release", "#notice")
    phone.sees("Brannoc Teal · missing: Erection engineer", "#notice")
    phone.sees("1 of 2 signed", "#screen .headline")
    phone.sees("Lifting supervisor: Brannoc Teal", "#releases [data-given=yes]")
    phone.sees("Erection engineer: missing", "#releases [data-given=no]")
    assert phone.page.evaluate(ASIDE)
    assert phone.page.locator("#releases").count() == 1

    gang.release("edric")
    phone.sees("released", "#screen .headline")
    assert phone.page.locator("#some-signed").count() == 0
    assert phone.page.locator("#releases [data-given=yes]").count() == 2


def test_whoever_is_put_on_from_a_gate_is_led_back_and_is_named_with_role_and_firm(
    sample_office: Office, handset_of: Make
) -> None:
    phone = handset_of(sample_office).start()
    phone.enrol(sample_office.code("jorun"), PINS["jorun"])
    gang = Gang(phone)
    gang.open_joint()
    lift = f"#/point/{JOINT}/lift"
    _show(gang, lift[1:])
    phone.tap("#refuse")
    phone.tap("#screen .choice", "Reading missing")
    phone.tap("#refuse-now")
    phone.sees("Nobody on this phone may sign this", "#over")
    phone.tap("#put-on")
    phone.enrol(sample_office.code("brannoc"), PINS["brannoc"])
    # A second one all the same is led back to where the first was missed.
    phone.tap("#add-person")
    phone.enrol(sample_office.code("edric"), PINS["edric"])
    phone.sees("Gate: lift", "#to-gate")
    assert phone.page.locator("#to-bridge").count() == 0
    phone.tap("#to-gate")
    phone.until(f"() => location.hash === '{lift}'")

    phone.tap("#refuse")
    phone.tap("#screen .choice", "Reading missing")
    phone.tap("#refuse-now")
    phone.sees("Lifting supervisor · ", '#over [data-person="brannoc"] small')
    phone.sees("Erection engineer · ", '#over [data-person="edric"] small')
    phone.tap("#over .plain", "Cancel")

    # By the menu, and by Back, as well; and not once the joint itself was shown.
    phone.tap("#more")
    phone.tap("#back")
    phone.until(f"() => location.hash === '{lift}'")
    phone.tap("#back")
    phone.sees(TITLE, "#head")
    _show(gang, "/people")
    phone.sees("Go to the bridge", "#dock")
    assert phone.page.locator("#to-gate").count() == 0
