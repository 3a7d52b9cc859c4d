"""A gang at its joint outside any test: for what is looked at or counted on demand."""

import shutil
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.phone.conftest import SAMPLE, gang_at_its_joint
from tests.phone.gang import Gang
from tests.phone.handset import Handset
from tests.phone.office import Office, free_port, load_signed


@contextmanager
def gang_apart(
    begin: Callable[[Office, Handset], Gang],
) -> Iterator[tuple[Gang, Office, Path]]:
    """Give a gang as begun, its office, and the folder they lie in until then.

    `begin` gets the office with the sample site in force, not serving yet.
    """
    work = Path(tempfile.mkdtemp())
    office = Office(data=work / "office", port=free_port())
    (work / "gang").mkdir()
    with sync_playwright() as playwright:
        phone = Handset(playwright=playwright, profile=work / "gang", url=office.url)
        try:
            load_signed(office, SAMPLE)
            yield begin(office, phone), office, work
        finally:
            phone.kill()
            office.kill()
            shutil.rmtree(work)


@contextmanager
def gang_alone() -> Iterator[tuple[Gang, Office, Path]]:
    """Give a gang enrolled, its office dead, and the folder they lie in until then."""
    with gang_apart(gang_at_its_joint) as (gang, office, work):
        office.kill()
        yield gang, office, work
