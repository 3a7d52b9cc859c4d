"""A wait that began by a wrong clock: nobody knows when it ends, the phone says so."""

from tests.phone.gang import Gang
from tests.phone.test_outlasting import reworked_in_mid_spread

YESTERDAY = "{ const real = Date.now; Date.now = () => real() - 86_400_000; }"


def test_a_wait_that_a_wrong_clock_began_shows_no_hour(gang: Gang) -> None:
    phone = gang.phone
    reworked_in_mid_spread(gang)
    phone.kill()
    phone.wake()
    # The battery was flat: the clock came back a day behind.
    phone.page.add_init_script(YESTERDAY)
    phone.page.goto(phone.url + "/phone/")
    phone.sees("attempt 2")
    gang.tell({"step": "cleaned"})
    # Its own clock, wrong or not, tells how long it runs while it goes on.
    phone.sees("No adhesive for 24 hours after cleaning", "#holds")
    phone.restart()
    phone.sees("when it began is not known", "#holds")
    phone.sees("Read the step again on a phone whose clock is right", "#holds")
    assert phone.page.locator("#holds b").count() == 0
