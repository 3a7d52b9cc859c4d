"""A gang at its joint outside any test: for what is looked at or counted on demand."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.phone.conftest import SAMPLE, gang_at_its_joint
from tests.phone.gang import Gang
from tests.phone.handset import Handset
from tests.phone.office import Office, free_port, load_signed


@contextmanager
def gang_alone() -> Iterator[tuple[Gang, Office, Path]]:
    """Give a gang enrolled, its office dead, and the folder they lie in until then."""
    work = Path(tempfile.mkdtemp())
    office = Office(data=work / "office", port=free_port())
    (work / "gang").mkdir()
    with sync_playwright() as playwright:
        phone = Handset(playwright=playwright, profile=work / "gang", url=office.url)
        try:
            load_signed(office, SAMPLE)
            gang = gang_at_its_joint(office, phone)
            office.kill()
            yield gang, office, work
        finally:
            phone.kill()
            office.kill()
            shutil.rmtree(work)
