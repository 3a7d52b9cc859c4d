"""An inspector who comes late: called, waited for, a deputy in time, called again."""

from tests.phone.gang import JOINT, PINS, Gang
from tests.phone.office import Office

MINUTE_MS = 60_000
REFOLDED_MS = 7_000
DEPUTY, DEPUTY_PIN = "isaura", "930471"


def _call_and_wait(gang: Gang) -> None:
    """Call to the mixing gate and wait longer than its deputy has to."""
    gang.prepare_surfaces()
    gang.act()
    gang.phone.tap("#call")
    gang.phone.sees("waits 0:0", "#called")
    gang.phone.page.clock.install()
    gang.phone.page.clock.fast_forward(21 * MINUTE_MS)
    gang.phone.sees("waits 21 min", "#called")


def test_an_inspector_comes_late_refuses_releases_and_is_called_again(
    gang: Gang,
) -> None:
    phone = gang.phone
    _call_and_wait(gang)
    phone.sees("or Owner's engineer", "#releases")
    phone.sees(", since ", "#releases")

    phone.tap("#refuse")
    phone.tap("#refuse-now")
    phone.sees("Choose a reason", "#screen")
    phone.tap("#screen .choice", "Not seen at the face")
    phone.tap("#refuse-now")
    phone.type_pin(PINS["leofric"])
    phone.sees("Not seen at the face", "#refused-by")
    phone.tap("#release")
    phone.type_pin(PINS["leofric"])
    phone.sees("GO", "#go")

    # A release holds 30 minutes: then nothing is mixed before a new one.
    phone.page.clock.fast_forward(31 * MINUTE_MS)
    phone.sees("run out", '[data-point="mixing"]')
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("has run out", "#releases")
    assert phone.page.locator("#releases [data-given=yes]").count() == 0
    phone.tap("#release")
    phone.type_pin(PINS["leofric"])
    phone.sees("GO", "#go")

    # A refusal that the release had not seen wins; the release is told all the same.
    about = {"reason": "Not seen at the face"}
    gang.sign({"kind": "refusal", "point": "mixing", "about": about}, "leofric")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("Not seen at the face", "#refused-by")
    phone.sees("Released by Leofric", "[data-overruled]")
    # It rings where it came from another phone: this one may have shown GO.
    assert phone.page.evaluate(_RINGS, False) == []
    (alarm,) = phone.page.evaluate(_RINGS, True)
    assert (alarm["text"], alarm["respond"]) == (
        "Gate: mixing: refused",
        "Not seen at the face",
    )
    assert alarm["priority"] == "high"


_RINGS = """async (fromAnother) => {
  const { alarmsOf } = await import("/phone/screens/alarms.js");
  const { model } = await import("/phone/screens/model.js");
  const { identity, open } = model;
  if (fromAnother) model.identity = { ...identity, device: "another" };
  const found = alarmsOf(open, open.asOf);
  model.identity = identity;
  return found.filter(({ id }) => id.startsWith("refused."));
}"""


def test_a_deputy_signs_once_the_minutes_of_the_plan_are_waited(
    gang: Gang, office_of_gang: Office
) -> None:
    phone = gang.phone
    office_of_gang.start()
    phone.try_office()
    phone.page.evaluate("() => { location.hash = '#/people'; }")
    phone.tap("#add-person")
    phone.enrol(office_of_gang.code(DEPUTY), DEPUTY_PIN)
    phone.sees("Isaura Pendrell")
    office_of_gang.kill()
    gang.open_joint()
    _call_and_wait(gang)
    phone.sees(", since ", "#releases")
    # The rules are asked again every few seconds.
    phone.page.wait_for_timeout(REFOLDED_MS)
    phone.tap("#release")
    phone.tap(f'[data-person="{DEPUTY}"]')
    phone.type_pin(DEPUTY_PIN)
    phone.sees("released", '[data-point="mixing"]')
