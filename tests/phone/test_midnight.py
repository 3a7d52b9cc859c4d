"""A race over midnight: hours stay large and whole, whose day they are stands small."""

from datetime import UTC, datetime

import pytest

from fieldapp.clock import utc_now_ms
from tests.phone.gang import Gang

LATE_HOUR = 23
NARROW = {"width": 320, "height": 640}
SPILLS = """() => [...document.querySelectorAll("#minutes b, #minutes .chalktime")]
  .filter((one) => {
    const strip = document.getElementById("minutes").getBoundingClientRect();
    const { left, right } = one.getBoundingClientRect();
    return left < strip.left || right > strip.right;
  }).map(({ innerText }) => innerText)"""
HEIGHTS = """() => [...document.querySelectorAll("#minutes .times li b")]
  .map((one) => one.lastChild)
  .map((hour) => {
    const range = document.createRange();
    range.selectNode(hour);
    return range.getClientRects().length;
  })"""
"""Over how many lines each hour is broken."""


@pytest.fixture
def late_gang(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Gang:
    """Put the gang where it is between 23 and 24 o'clock."""
    east = LATE_HOUR - datetime.now(UTC).hour
    east -= 24 if east > 14 else 0
    # The names of these zones count hours west of Greenwich.
    monkeypatch.setenv("TZ", f"Etc/GMT{-east:+d}")
    gang: Gang = request.getfixturevalue("gang")
    return gang


def test_a_deadline_of_tomorrow_keeps_its_hour_whole_on_a_narrow_phone(
    late_gang: Gang,
) -> None:
    phone = late_gang.phone
    late_gang.prepare_surfaces()
    late_gang.release("leofric")
    late_gang.first_kit_at(utc_now_ms() - 60_000)
    phone.page.set_viewport_size(NARROW)
    phone.page.evaluate(
        "async () => (await import('/phone/screens/words.js')).speak('de')"
    )
    phone.page.evaluate("() => dispatchEvent(new HashChangeEvent('hashchange'))")
    # The last deadline comes 76 minutes after the first kit.
    phone.until("() => document.querySelector('#minutes .times b small') !== null")
    assert phone.page.evaluate(SPILLS) == []
    assert set(phone.page.evaluate(HEIGHTS)) == {1}
