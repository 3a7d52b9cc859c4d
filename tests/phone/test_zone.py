"""A phone set to another zone than its site says so beside what waits."""

import pytest
from playwright.sync_api import expect

from tests.phone.gang import Gang

AWAY, SITES = "UTC", "Etc/GMT-1"
"""The sample site's hours are one east of Greenwich; these names count west."""


@pytest.mark.parametrize(
    ("zone", "said"), [(AWAY, ["hours in UTC+0, site UTC+1"]), (SITES, [])]
)
def test_hours_that_are_not_the_sites_are_told_on_every_screen(
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
    zone: str,
    said: list[str],
) -> None:
    monkeypatch.setenv("TZ", zone)
    gang: Gang = request.getfixturevalue("gang")
    gang.phone.sees("all at the office", "#marks")
    expect(gang.phone.page.locator("#zone-mark")).to_have_text(said)
    gang.phone.restart()
    gang.phone.sees("all at the office", "#marks")
    expect(gang.phone.page.locator("#zone-mark")).to_have_text(said)
