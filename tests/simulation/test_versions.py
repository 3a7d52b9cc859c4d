"""A phone of today with an office of the first day: nothing new may be needed.

The other way round, the first phone's push with the office of today, is told by
`tests/vectors/first_push.json`.
"""

from random import Random

from fieldapp.clock import utc_now_ms
from tests.javascript import JavaScript
from tests.people import FOREMAN, NOON
from tests.simulation.house import House
from tests.simulation.road import Road
from tests.simulation.shell_phone import ShellPhone


def test_a_phone_of_today_carries_with_an_office_of_the_first_day(
    house: House, javascript: JavaScript
) -> None:
    rng = Random(1)
    phone = ShellPhone(
        name="new", road=Road(port=house.office.port, rng=rng), engine=javascript,
        address=house.office.url, rng=rng,
    )  # fmt: skip
    phone.switch_on()
    phone.meet_an_old_office()
    phone.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    made = {
        phone.record(kind, person=FOREMAN, now=NOON, subject="J1", about=about)
        for kind, about in (("note", {"text": "here"}), ("hovered", {"text": "new"}))
    }
    phone.sync()
    assert phone.waiting() == set()
    books = house.books()
    assert made <= books.ids
    assert phone.holds().keys() == books.ids
