"""What tests of the commands share: how one is given, and a folder to give it."""

from pathlib import Path

from fieldapp.cli import main
from fieldapp.plan import Compiled
from fieldapp.store.database import connected
from tests.people import NOON, stage, wiped
from tests.plan.sample import SAMPLE, compiled


def run(*arguments: object) -> int:
    """Give a command as it would be typed; gives its exit status."""
    return main([str(each) for each in arguments])


def begun(data: Path) -> Path:
    """Put the small site in force in a new data folder, with one entry in it."""
    made = stage(data)
    phone = made.phone()
    wiped(phone)
    with connected(made.wired.door.store):
        made.world.sync(phone, NOON)
    return made.data


def at_hand(folder: Path) -> Compiled:
    """Give the sample site as it was compiled once, for commands that load it often.

    It stands in for `compiled_site`, which other tests have a command call in earnest.
    """
    assert folder.resolve() == SAMPLE
    return compiled()
