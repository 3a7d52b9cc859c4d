"""What the phone's tests share: one Playwright, and offices and handsets that end."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, sync_playwright

from fieldapp.config import open_door
from tests.people import put_in_force, sheet
from tests.phone.gang import JOINT, TITLE, Gang
from tests.phone.handset import Handset
from tests.phone.hanging import hang_segment
from tests.phone.office import Office, free_port, load_signed
from tests.phone.screens import WHOLE
from tests.phone.stores import STORES, STORES_PIN, go, shift

SAMPLE = Path(__file__).resolve().parents[2] / "sample_site"
BARE = "/phone/manifest.webmanifest"
"""An address of the phone's own that starts nothing."""
Make = Callable[..., Handset]


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """The one Playwright of the run."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """A small site in force and served."""
    data = tmp_path / "office"
    put_in_force(open_door(data), sheet())
    served = Office(data=data, port=free_port())
    served.start()
    yield served
    served.kill()


@pytest.fixture(scope="session")
def sample_data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample site, loaded and signed once; tests take copies."""
    office = Office(data=tmp_path_factory.mktemp("sample") / "office", port=0)
    load_signed(office, SAMPLE)
    return office.data


@pytest.fixture
def sample_office(sample_data: Path, tmp_path: Path) -> Iterator[Office]:
    """The sample site, loaded and served."""
    served = Office(data=tmp_path / "office", port=free_port())
    shutil.copytree(sample_data, served.data)
    served.start()
    yield served
    served.kill()


@pytest.fixture(scope="module")
def bare_phone(
    playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Handset]:
    """A phone with an office and nothing on it, for what needs no screens."""
    folder = tmp_path_factory.mktemp("bare")
    (folder / "phone").mkdir()
    put_in_force(open_door(folder / "office"), sheet())
    served = Office(data=folder / "office", port=free_port())
    phone = Handset(playwright=playwright, profile=folder / "phone", url=served.url)
    try:
        served.start()
        yield phone.start(BARE)
    finally:
        phone.kill()
        served.kill()
    assert phone.faults == []


@pytest.fixture
def emptied(bare_phone: Handset) -> Handset:
    """The same phone for every test, its storage wiped between them."""
    for other in bare_phone.browser.contexts[0].pages:
        if other != bare_phone.page:
            other.close()
    bare_phone.page.goto("about:blank")
    bare_phone.page.goto(bare_phone.url + BARE)
    bare_phone.page.evaluate(_WIPE)
    return bare_phone


_WIPE = """async () => {
  for (const { name } of await indexedDB.databases()) {
    await new Promise((done, failed) => {
      const asked = indexedDB.deleteDatabase(name);
      asked.onsuccess = done;
      asked.onerror = asked.onblocked = () => failed(new Error(name));
    });
  }
}"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enrolled:
    """A phone with its people, a segment hung, switched off; and its office.

    Their keys take a PIN in one round: phones on a copy of it have `quick_pins`.
    """

    data: Path
    profile: Path
    port: int


def gang_at_its_joint(office: Office, phone: Handset) -> Gang:
    """Enrol the sample site's people at a joint whose segment hangs; all is kept.

    The office has the sample site in force and does not serve yet.
    """
    hang_segment(office.data, JOINT)
    office.start()
    gang = Gang(phone.start())
    gang.enrol_everybody(office)
    phone.until("() => navigator.serviceWorker.controller !== null")
    gang.open_joint()
    phone.sees("all at the office")
    phone.until(WHOLE)
    return gang


@pytest.fixture(scope="session")
def enrolled(
    playwright: Playwright, sample_data: Path, tmp_path_factory: pytest.TempPathFactory
) -> Enrolled:
    """Enrol the sample site's people and hang a segment once; tests take copies."""
    folder = tmp_path_factory.mktemp("enrolled")
    (folder / "gang").mkdir()
    office = Office(data=folder / "office", port=free_port())
    shutil.copytree(sample_data, office.data)
    phone = Handset(
        playwright=playwright, profile=folder / "gang", url=office.url, quick_pins=True
    )
    try:
        gang_at_its_joint(office, phone)
    finally:
        phone.kill()
        office.kill()
    return Enrolled(data=office.data, profile=phone.profile, port=office.port)


@pytest.fixture
def office_of_gang(enrolled: Enrolled, tmp_path: Path) -> Iterator[Office]:
    """The enrolled gang's office, not started; it keeps its address."""
    data = tmp_path / "office"
    shutil.copytree(enrolled.data, data)
    office = Office(data=data, port=enrolled.port)
    yield office
    office.kill()


@pytest.fixture
def gang(
    playwright: Playwright, enrolled: Enrolled, office_of_gang: Office, tmp_path: Path
) -> Iterator[Gang]:
    """The enrolled gang at its joint, the server dead."""
    profile = tmp_path / "gang"
    shutil.copytree(enrolled.profile, profile, symlinks=True)
    phone = Handset(
        playwright=playwright, profile=profile, url=office_of_gang.url, quick_pins=True
    )
    try:
        phone.start()
        phone.sees(TITLE, "#head")
        yield Gang(phone)
    finally:
        phone.kill()
    assert phone.faults == []


@pytest.fixture
def stores(gang: Gang, office_of_gang: Office) -> Gang:
    """The gang's phone with stores on it in their own shift; no network."""
    phone = gang.phone
    office_of_gang.start()
    go(gang, "/enrol")
    phone.enrol(office_of_gang.code(STORES), STORES_PIN)
    phone.sees("Stores", f'[data-person="{STORES}"]')
    phone.until(WHOLE)
    office_of_gang.kill()
    shift(gang, STORES, STORES_PIN)
    return gang


@pytest.fixture
def handset_of(playwright: Playwright, tmp_path: Path) -> Iterator[Make]:
    """Makes phones; each is switched off at the end, and none may have failed."""
    made: list[Handset] = []

    def make(office: Office, name: str = "gang") -> Handset:
        profile = tmp_path / name
        profile.mkdir()
        handset = Handset(playwright=playwright, profile=profile, url=office.url)
        made.append(handset)
        return handset

    yield make
    for handset in made:
        handset.kill()
    assert [fault for handset in made for fault in handset.faults] == []
