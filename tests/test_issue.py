"""A subject begun gets its newest sheet when somebody orders it, never in its race."""

from pathlib import Path

import pytest

from fieldapp.commands import CommandFault
from fieldapp.commands.issue import ordered
from fieldapp.store.database import connected
from tests.people import INSPECTOR, SUBJECT
from tests.web.race import ENGINEER, Race, amend, race


@pytest.fixture
def site(tmp_path: Path) -> Race:
    """Give the site whose first joint is begun and waits for a newer sheet."""
    made = race(tmp_path)
    made.wiped()
    amend(made)
    return made


def _issued(site: Race, *, look: bool = False) -> list[str]:
    door = site.desk.site.wired.door
    with connected(door.store):
        return ordered(door, [SUBJECT], site.desk.site.now, look=look)


def test_a_race_keeps_its_sheet_until_it_is_over(site: Race) -> None:
    site.say("release", INSPECTOR, point="go", unlocked="pin")
    site.at(5).say("done", step="mix", line="k1")
    site.at(6)
    with pytest.raises(CommandFault, match="a race runs there"):
        _issued(site)
    assert "would get" in _issued(site, look=True)[0]
    site.at(8).say("done", step="mix", line="k2")
    site.at(10).say("release", ENGINEER["id"], point="look", unlocked="pin")
    site.at(20).say("done", step="close")
    assert "issued" in _issued(site)[0]


def test_before_the_race_the_order_is_carried_out(site: Race) -> None:
    assert "issued" in _issued(site)[0]
