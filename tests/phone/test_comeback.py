"""Phones the office does not know: an empty one from one's own, one it forgot."""

import shutil
from pathlib import Path

from fieldapp.config import DATABASE
from tests.people import FOREMAN, INSPECTOR
from tests.phone.conftest import Make
from tests.phone.handset import Handset
from tests.phone.office import Office
from tests.phone.screens import WHOLE, codes_shown, hold_before

PIN, NEW_PIN = "274951", "830264"


def test_an_empty_phone_is_taken_into_use_from_ones_own_and_after_a_restore_again(
    office: Office, handset_of: Make
) -> None:
    own, empty = handset_of(office, "own").start(), handset_of(office, "empty").start()
    own.enrol(office.code(INSPECTOR), PIN)
    own.sees("all at the office", "#head")
    for phone in (own, empty):
        phone.until(WHOLE)
    office.kill()
    before = office.data.with_name("before")
    shutil.copytree(office.data, before)

    _join(own, empty)
    _ask(own, empty)
    empty.until("() => location.hash === '#/people'")
    empty.sees("is on this phone now", "#joined")

    office.start()
    _go(empty, "/office")
    empty.sees("waits for your PIN", "#office-mark")
    empty.sees("Your own phone signed for this one")
    empty.tap("#prove")
    empty.type_pin(NEW_PIN)
    empty.sees("all at the office", "#head")
    token = _token(empty)
    assert token
    empty.until("() => !document.querySelector('#prove')")
    own.sees("all at the office", "#head")

    _put_back(office, before)
    empty.sees("not known there", "#office-mark")
    empty.sees("another phone signed for this one")
    empty.tap("#prove")
    empty.type_pin(NEW_PIN)
    empty.until("() => !document.querySelector('#prove')")
    assert _token(empty) not in ("", token)
    assert empty.faults == own.faults == []
    listed = office.command("person", "list")
    assert FOREMAN in listed
    assert listed.count("(active, ") == 2


def _join(own: Handset, empty: Handset) -> None:
    """Show the empty phone which site it is for."""
    _go(own, f"/keys/own/{INSPECTOR}")
    own.tap("#sign-for-empty")
    own.sees("On the empty phone")
    site = own.page.locator("canvas.qr").screenshot()
    empty.tap("#own-phone")
    empty.sees("The other phone is empty")
    hold_before(empty, [site])
    empty.sees("Choose a PIN")
    # Nobody is on it yet: it is nobody's fault that no office knows it.
    empty.page.wait_for_timeout(500)
    assert empty.page.locator("#office-mark").count() == 0


def _ask(own: Handset, empty: Handset) -> None:
    """Choose a PIN, have one's own phone sign for it, and take the answer back."""
    empty.type_pin(NEW_PIN)
    empty.sees("The same PIN again")
    empty.type_pin(NEW_PIN)
    empty.sees("Scan this with your own phone: there, Scan its code.")
    asked = empty.page.locator("canvas.qr").screenshot()
    own.tap("#scan-asked")
    hold_before(own, [asked])
    own.tap("#sign-key")
    own.type_pin(PIN)
    answer = codes_shown(own)
    own.sees("On the other phone: Scan the answer")
    empty.tap("#scan-answer")
    # One picture too many, as a camera brings it: all of it is in already.
    hold_before(empty, [*answer, *answer])


def _put_back(office: Office, before: Path) -> None:
    """Bring the office back in silence to before it heard of that phone."""
    office.kill()
    for part in office.data.glob(f"{DATABASE}*"):
        part.unlink()
    for part in before.glob(f"{DATABASE}*"):
        shutil.copy(part, office.data)
    office.start()


def _token(phone: Handset) -> str:
    return str(phone.page.evaluate(_IDENTITY).get("token", ""))


_IDENTITY = """async () => {
  const { getMeta } = await import("/phone/device/database.js");
  return getMeta("identity");
}"""


def _go(phone: Handset, route: str) -> None:
    phone.page.evaluate(f"() => {{ location.hash = '#{route}'; }}")
