"""Two real browsers and a real server, killed at drawn moments: nothing is lost.

`sh tests/simulation/long.sh browsers SECONDS` goes on for as long as told.
"""

from pathlib import Path

from playwright.sync_api import Playwright

from tests.simulation.browsers import simulate

STEPS = 12


def test_nothing_is_lost_when_browsers_and_server_are_killed(
    playwright: Playwright, tmp_path: Path
) -> None:
    tally = simulate(playwright, tmp_path, 11, phones=2, steps=STEPS)
    assert tally.losses == []
    assert tally.saved
    assert tally.faults["browser killed"]
    assert tally.faults["server killed"]
