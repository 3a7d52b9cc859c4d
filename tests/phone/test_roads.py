"""Entries that go from phone to phone with no network: by screen, camera and file."""

import random
from pathlib import Path

from tests.phone.conftest import Make
from tests.phone.gang import JOINT, PINS, TITLE, Gang
from tests.phone.handset import Handset
from tests.phone.ledger import arrived, state_at_office
from tests.phone.office import Office
from tests.phone.screens import WHOLE, camera_on, codes_shown, hold_before

INSPECTOR = "leofric"
LARGEST_MODULES = 17 + 4 * 22
"""Of a code of version 22 (ISO/IEC 18004: 17 modules and 4 more a version)."""
QUIET = 4


def test_two_phones_take_a_joint_through_its_gate_with_the_office_dead(
    gang: Gang, office_of_gang: Office, handset_of: Make, tmp_path: Path
) -> None:
    inspector = _inspector_joins(gang, office_of_gang, handset_of)
    other = inspector.phone
    gang.prepare_surfaces()
    gang.act()
    gang.phone.tap("#call")
    gang.phone.sees("waits", "#called")
    _shows_and_reads_out_of_order(gang.phone, other)
    other.tap(f'[data-open="{JOINT}"]')
    other.sees("called", '[data-point="mixing"]')
    inspector.release(INSPECTOR)
    # The road to the other phone is at hand where the release leaves one.
    other.tap("#joint-roads")
    other.sees("Show what is new here: 1")
    release = _shown(other)
    assert len(release) == 1
    assert _modules(other) <= LARGEST_MODULES

    gang.phone.kill()
    gang.phone.arguments = camera_on(release, tmp_path / "seen.mjpeg")
    gang.phone.start()
    gang.phone.sees(TITLE, "#head")
    _go(gang.phone, "/scan")
    gang.phone.sees("1 new, signatures hold", "#received")
    gang.phone.tap(f'[data-open="{JOINT}"]')
    gang.phone.sees("GO", "#go")
    gang.act()
    gang.phone.until("() => document.body.dataset.screen === 'form'")

    office_of_gang.start()
    gang.phone.try_office()
    other.try_office()
    gang.phone.sees("all at the office")
    other.sees("all at the office")
    ids = [entry.id for entry in arrived(office_of_gang, JOINT)]
    assert len(ids) == len(set(ids))
    state = state_at_office(office_of_gang, JOINT)
    assert state["points"]["mixing"]["status"] == "released"


def _inspector_joins(gang: Gang, office: Office, handset_of: Make) -> Gang:
    """Enrol the inspector on a phone of their own; both hear of it, the office dies."""
    office.start()
    other = handset_of(office, "inspector").start()
    other.enrol(office.code(INSPECTOR), PINS[INSPECTOR])
    inspector = Gang(other)
    inspector.open_joint()
    for row in other.storage("keys"):
        _knows(gang.phone, INSPECTOR, key=row["key"])
    for phone in (gang.phone, other):
        phone.until(WHOLE)
    office.kill()
    return inspector


def _shows_and_reads_out_of_order(one: Handset, other: Handset) -> None:
    frames = _shown(one)
    assert len(frames) > 1
    _go(other, "/scan")
    random.shuffle(frames)
    hold_before(other, frames[:1] + frames[:-1])
    other.sees("Missing:", "#progress")
    hold_before(other, frames[-1:])
    other.sees("3 new, signatures hold", "#received")


def _shown(phone: Handset) -> list[bytes]:
    _go(phone, f"/roads/{JOINT}")
    phone.tap('[data-show="new"]')
    return codes_shown(phone)


def _go(phone: Handset, route: str) -> None:
    phone.page.evaluate(f"() => {{ location.hash = '#{route}'; }}")


def _modules(phone: Handset) -> int:
    width: int = phone.page.evaluate("() => document.querySelector('canvas.qr').width")
    return width - 2 * QUIET


def _knows(phone: Handset, person: str, key: str) -> None:
    """Wait until a phone has heard of a key of a person."""
    phone.until(f"""async () => {{
      const {{ people }} = await import("/phone/device/library.js");
      const known = (await people())["{person}"]?.keys ?? {{}};
      return "{key}" in known;
    }}""")
