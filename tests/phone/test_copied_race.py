"""Copying a race from paper: what comes next on the sheet had not happened yet."""

from datetime import datetime, timedelta

from tests.phone.gang import DOUBLE_TAP_MS, JOINT, Gang
from tests.phone.paper import written


def test_while_a_race_is_copied_nothing_is_red_that_had_not_happened(
    gang: Gang,
) -> None:
    phone, page = gang.phone, gang.phone.page
    gang.prepare_surfaces()
    gang.release("leofric")
    route = f"#/form/{JOINT}/mix-warm/kit-1"
    page.evaluate("(route) => { location.hash = route; }", route)
    gang.choose_first()
    # Pressure was due 46 minutes after it; the sheet will say when it came.
    written(gang, datetime.now().astimezone() - timedelta(minutes=55))
    # Neither the temperature nor a photo of the sheet is at hand.
    while page.evaluate("() => document.body.dataset.screen") == "form":
        gang.save()
        page.wait_for_timeout(DOUBLE_TAP_MS)
    phone.sees("Written down later", "#written-later")
    assert page.locator(".chalk.red, .inhand.red").count() == 0
    assert page.locator("#alarm:visible").count() == 0
    assert page.locator("#notice.red").count() == 0
    # Whoever says that nothing is copied any more sees the race as it stands.
    phone.tap("#copying")
    phone.until("() => document.querySelector('.chalk') !== null")
