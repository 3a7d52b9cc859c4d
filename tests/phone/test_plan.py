"""A plan that waits is signed on the phone by three people, then its sheets come."""

from pathlib import Path

from tests.phone.conftest import Make
from tests.phone.handset import Handset
from tests.phone.office import Office, free_port
from tests.plan.sample import copied, spoil

PINS = {"edric": "551907", "caspar": "662018", "isaura": "930471"}
PARTS = ("prepared", "checked", "approved")


def test_a_plan_is_prepared_checked_and_approved_on_one_phone(
    tmp_path: Path, handset_of: Make
) -> None:
    site = copied(tmp_path / "site")
    office = Office(data=tmp_path / "office", port=free_port())
    office.command("load", str(site))
    office.start()
    try:
        phone = handset_of(office).start()
        phone.enrol(office.code("caspar"), PINS["caspar"])
        # The checker is here, who prepares is not yet.
        phone.tap("#more")
        phone.sees("A plan waits for signatures: prepared", "#to-plan")
        phone.tap("#to-plan")
        phone.sees("To be signed as prepared by another role", "#dock")
        add_others(phone, office)
        sign_as_all(phone)
        phone.tap("#more")
        phone.tap("#to-site")
        phone.sees("Joint W1", '[data-subject="j-w1"]')

        # A revision: the sheets in hand stay, and the phone hears of it by itself.
        spoil(site, "site.toml", "revision = 1", "revision = 2")
        office.command("load", str(site))
        phone.sees("A plan waits for your signature: prepared", "#to-plan")
        phone.sees("Joint W1", '[data-subject="j-w1"]')

        # Files that name no signers any more wait for those of the plan in force.
        text = (site / "site.toml").read_text("utf-8")
        start, end = text.index("[plan_signers]"), text.index("[roles]")
        (site / "site.toml").write_text(text[:start] + text[end:], "utf-8")
        office.command("load", str(site))
        phone.tap("#to-plan")
        phone.sees("This plan ends the signing of plans", "#rule")
        phone.sees("Sign as prepared", "#sign-plan")
    finally:
        office.kill()


def add_others(phone: Handset, office: Office) -> None:
    """Put those who prepare and approve on the same phone."""
    phone.tap("#more")
    phone.tap("#to-people")
    for person in ("edric", "isaura"):
        phone.tap("#add-person")
        phone.enrol(office.code(person), PINS[person])
        phone.sees("Put another person on", "#dock")


def sign_as_all(phone: Handset) -> None:
    """Read what waits and sign it, one after the other."""
    phone.tap("#more")
    phone.sees("A plan waits for your signature: prepared", "#to-plan")
    phone.tap("#to-plan")
    phone.sees("revision 1")
    phone.sees("Glued joint: 4 sheets")
    phone.sees("not yet: Erection engineer", '[data-part="prepared"]')
    for part, (person, pin) in zip(PARTS, PINS.items(), strict=True):
        phone.sees(f"Sign as {part}", "#sign-plan")
        phone.tap("#sign-plan")
        phone.type_pin(pin)
        if part != PARTS[-1]:
            phone.sees(person.capitalize(), f'[data-part="{part}"]')
    phone.sees("No plan waits for a signature.")
