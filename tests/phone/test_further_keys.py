"""A further phone signed for by one's own; keys ended, as phones see it."""

from tests.people import FOREMAN, INSPECTOR
from tests.phone.conftest import Make
from tests.phone.handset import Handset
from tests.phone.office import Office
from tests.phone.screens import WHOLE, code_picture, codes_shown, hold_before

PIN, OTHER_PIN, GANG_PIN, NEW_PIN = "274951", "830264", "119630", "662018"


def test_a_person_comes_onto_the_gangs_phone_by_their_own_with_no_office(
    office: Office, handset_of: Make
) -> None:
    own, gang = handset_of(office, "own").start(), handset_of(office, "gang").start()
    own.enrol(office.code(INSPECTOR), PIN)
    gang.enrol(office.code(FOREMAN), OTHER_PIN)
    for phone in (own, gang):
        phone.sees("all at the office", "#head")
        phone.until(WHOLE)
    office.kill()

    _signed_for(own, gang)
    _go(gang, "/people")
    gang.sees("Omar Beck", f'[data-person="{INSPECTOR}"]')
    gang.start_shift(INSPECTOR, GANG_PIN)
    gang.tap(f'[data-keys="{INSPECTOR}"]')
    gang.sees("added with key")
    assert gang.page.locator("[data-key]").count() == 2

    office.start()
    own.try_office()
    own.sees("all at the office", "#head")
    listed = office.command("person", "list")
    assert [line.split()[-1] for line in listed.splitlines() if "omar" in line] == ["2"]
    assert listed.count("(active, ") == 3

    _lose(office, own, gang)


def _signed_for(own: Handset, gang: Handset) -> None:
    """Ask for a key on the gang's phone and sign for it on one's own."""
    gang.tap("#add-person")
    gang.tap("#own-phone")
    gang.type_pin(GANG_PIN)
    gang.sees("The same PIN again")
    gang.type_pin(GANG_PIN)
    gang.sees("Scan this with your own phone: there, Put me on another phone.")
    asked = gang.page.locator("canvas.qr").screenshot()
    signs = gang.page.locator("#asked-key").inner_text()
    _go(own, "/scan")
    hold_before(own, [asked])
    own.sees(signs)
    own.tap("#sign-key")
    own.type_pin(PIN)
    answer = codes_shown(own)
    assert len(answer) == 1
    gang.tap("#scan-answer")
    hold_before(gang, answer)
    # The office's word on the inspector came before the network went.
    gang.sees("new, signatures hold", "#received")


def _lose(office: Office, own: Handset, gang: Handset) -> None:
    """The inspector's own phone is lost: every phone that hears of it shows it."""
    device = own.page.evaluate(_DEVICE)
    office.command("person", "lose-phone", device, "--reason", "Left in a taxi")
    gang.tap("#marks")
    gang.tap("#dock .main")
    _go(gang, f"/keys/own/{INSPECTOR}")
    gang.until("() => document.querySelectorAll('[data-state=revoked]').length === 1")
    # What it signed for before it was lost stands: the gang's phone goes on.
    assert gang.page.locator('[data-state="active"]').count() == 1
    _is_told(office, own)
    _forget_pin(office, gang)


def _is_told(office: Office, own: Handset) -> None:
    """Who picks the lost phone up is told so, and a code does not hide it."""
    _go(own, "/office")
    own.tap("#dock .main")
    own.sees("reported lost", "#office-mark")
    own.sees("Take another phone", "#ended")
    own.page.reload()
    own.sees("Take another phone", "#ended")
    _go(own, "/enrol")
    own.page.fill("#code", office.code(INSPECTOR))
    own.tap("#dock .main")
    own.sees("Choose a PIN")
    own.type_pin(NEW_PIN)
    own.sees("The same PIN again")
    own.type_pin(NEW_PIN)
    own.sees("this phone was reported lost")


def _forget_pin(office: Office, gang: Handset) -> None:
    """The foreman's PIN is forgotten: a new key on the same phone takes over."""
    rows = [row for row in gang.storage("keys") if row["person"] == FOREMAN]
    office.command(
        "person",
        "retire-key",
        FOREMAN,
        rows[0]["key"][:12],
        "--reason",
        "PIN forgotten",
    )
    _go(gang, "/people")
    gang.tap("#add-person")
    code = office.code(FOREMAN)
    hold = code_picture(f"{office.url}/phone/#/enrol/{code}")
    gang.tap("#scan-code")
    hold_before(gang, [hold])
    gang.until(f"() => document.querySelector('#code')?.value === '{code}'")
    gang.enrol(code, NEW_PIN)
    gang.until(
        f"() => document.querySelectorAll('[data-person={FOREMAN}]').length === 1"
    )
    gang.start_shift(FOREMAN, NEW_PIN)
    # Nothing was wiped: the old key lies where it lay.
    assert len([r for r in gang.storage("keys") if r["person"] == FOREMAN]) == 2


def _go(phone: Handset, route: str) -> None:
    phone.page.evaluate(f"() => {{ location.hash = '#{route}'; }}")


_DEVICE = """async () => {
  const { getMeta } = await import("/phone/device/database.js");
  return (await getMeta("identity")).device;
}"""
