"""Photos whose road was cut: whatever happened, they are offered until they are there.

Each test is one way found by the machine in which a photo was lost. The phones are the
program's own modules; the office is the real server.
"""

import contextlib
from random import Random

import pytest

from fieldapp.clock import utc_now_ms
from tests.javascript import JavaScript
from tests.people import FOREMAN, NOON
from tests.simulation.acts import picture
from tests.simulation.forger import by_hand
from tests.simulation.house import House
from tests.simulation.road import Refused
from tests.simulation.shell_phone import Killed, ShellPhone
from tests.simulation.test_lost import SUBJECT, phone_of

STEPS_OF_A_ROUND = 60


def photographed(phone: ShellPhone) -> str:
    about = {"text": "as it looked"}
    phone.photograph(
        picture(Random(phone.name)), "note", person=FOREMAN, now=NOON, subject=SUBJECT,
        about=about,
    )  # fmt: skip
    (name,) = phone.photos()
    return name


def test_a_phone_killed_while_it_offers_all_again_offers_its_photos_too(
    house: House, javascript: JavaScript
) -> None:
    phone = phone_of(house, javascript, "gang")
    name = photographed(phone)
    phone.sync()
    assert name in house.books().photos
    killed = 0
    for after in range(3, STEPS_OF_A_ROUND, 4):
        # An office brought back from before the photo came.
        with by_hand(house.database) as hand:
            hand.execute("DELETE FROM photos")
            new = (f"{after:016x}",)
            hand.execute("UPDATE meta SET value = ? WHERE name = 'epoch'", new)
        with contextlib.suppress(Killed):
            phone.sync_killed(after)
            killed -= 1
        killed += 1
        phone.sync()
        assert name in house.books().photos, f"killed after {after} steps"
        assert phone.waiting_photos() == set()
    assert killed > 3


def test_a_lost_phone_still_brings_the_photos_of_what_it_brings(
    house: House, javascript: JavaScript
) -> None:
    lost = phone_of(house, javascript, "lost")
    name = photographed(lost)
    house.revoke(lost.device, lost.key_ids(), utc_now_ms())
    with pytest.raises(Refused):
        lost.sync()
    assert name in house.books().photos
    assert lost.waiting_photos() == set()
