"""Photos: small, whole, named by their hash, never lost and at the office once; and
what else a form takes: readings from paper, items of the register.
"""

import hashlib
import shutil
from collections.abc import Iterator
from datetime import datetime, timedelta
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Playwright

from fieldapp.clock import utc_now_ms
from fieldapp.config import open_door, running
from fieldapp.lookups.photos import photo_as_it_came
from fieldapp.store.database import connected
from fieldapp.store.register import registrations
from tests.phone.conftest import SAMPLE, Enrolled
from tests.phone.gang import ALL_READ, FACES, JOINT, WARM, YES, Gang
from tests.phone.handset import Handset
from tests.phone.ledger import arrived, state_at_office
from tests.phone.office import Office, free_port, load_signed
from tests.phone.screens import WHOLE, code_picture, hold_before, label_text
from tests.phone.yard import foreman_at_joint, jpeg, spoiled_site

LONGEST_PX = 1_600


@pytest.fixture(scope="module")
def enrolled_yard(
    playwright: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Enrolled:
    """Enrol the foreman of the spoiled site once; tests take copies."""
    folder = tmp_path_factory.mktemp("yard")
    (folder / "gang").mkdir()
    office = Office(data=folder / "office", port=free_port())
    phone = Handset(playwright=playwright, profile=folder / "gang", url=office.url)
    try:
        load_signed(office, spoiled_site(SAMPLE, folder))
        office.start()
        foreman_at_joint(office, phone.start(), JOINT)
        phone.sees("all at the office")
        phone.until(WHOLE)
    finally:
        phone.kill()
        office.kill()
    return Enrolled(data=office.data, profile=phone.profile, port=office.port)


@pytest.fixture
def yard(enrolled_yard: Enrolled, tmp_path: Path) -> Iterator[Office]:
    data = tmp_path / "office"
    shutil.copytree(enrolled_yard.data, data)
    served = Office(data=data, port=enrolled_yard.port)
    served.start()
    yield served
    served.kill()


@pytest.fixture
def gang(
    playwright: Playwright, enrolled_yard: Enrolled, yard: Office, tmp_path: Path
) -> Iterator[Gang]:
    profile = tmp_path / "gang"
    shutil.copytree(enrolled_yard.profile, profile, symlinks=True)
    phone = Handset(playwright=playwright, profile=profile, url=yard.url)
    try:
        phone.start()
        phone.sees("Faces and air", "#dock")
        yield Gang(phone)
    finally:
        phone.kill()
    assert phone.faults == []


def test_a_photo_taken_offline_arrives_once_though_the_browser_died(
    gang: Gang, yard: Office
) -> None:
    phone = gang.phone
    faces(gang)
    yard.kill()
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    # The step wants a photo: it is asked for before saving.
    phone.page.set_input_files("#camera", _camera(3_000, 2_000))
    phone.until("() => document.querySelector('#dock .thumb img') !== null")
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    phone.sees("done", '[data-step="ready"]')
    (kept,) = _photos(gang)
    assert kept["waiting"]
    phone.restart()
    phone.sees("waiting since")
    assert [row["hash"] for row in _photos(gang)] == [kept["hash"]]

    yard.start()
    phone.try_office()
    phone.sees("all at the office")
    assert not _photos(gang)[0]["waiting"]
    entry = next(one for one in arrived(yard, JOINT) if one.step == "ready")
    assert entry.photos == (kept["hash"],)
    raw = _at_office(yard, kept["hash"])
    assert hashlib.sha256(raw).hexdigest() == kept["hash"]
    picture = Image.open(BytesIO(raw))
    # 3000 x 2000 made small: the long side 1600, the short one two thirds of it.
    assert (picture.format, picture.size) == ("JPEG", (LONGEST_PX, 1_067))
    assert state_at_office(yard, JOINT)["steps"]["ready"]["status"] == "done"


def test_without_its_photo_a_line_is_saved_but_not_finished(gang: Gang) -> None:
    faces(gang)
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    gang.phone.sees("SAVE", "#dock")
    gang.save()
    gang.phone.until("() => location.hash.startsWith('#/joint/')")
    gang.phone.sees("under way", '[data-step="ready"]')
    gang.phone.page.evaluate(f"() => {{ location.hash = '#/line/{JOINT}/ready/-'; }}")
    gang.phone.tap("#add-photo")
    gang.phone.page.set_input_files("#photo-file", _camera(800, 600))
    gang.phone.until("() => document.querySelector('#dock .thumb img') !== null")
    gang.save()
    gang.phone.sees("done", '[data-step="ready"]')


def test_what_was_answered_is_kept_before_the_camera_opens(gang: Gang) -> None:
    phone = gang.phone
    faces(gang)
    gang.act()
    gang.choose(YES)
    phone.tap('[data-field="photos"]')
    with phone.page.expect_file_chooser():
        phone.tap('[data-pick="camera"]')
    phone.restart()
    phone.sees("Ready to mix", "#dock")
    gang.act()
    phone.sees("All in place", '[data-field="gap"]')


def test_a_photo_that_is_not_here_is_said_to_be_missing_and_then_fetched(
    gang: Gang, yard: Office
) -> None:
    phone = gang.phone
    faces(gang)
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    phone.page.set_input_files("#camera", _camera(400, 300))
    phone.until("() => document.querySelector('#dock .thumb img') !== null")
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    phone.sees("all at the office")
    yard.kill()
    phone.page.evaluate(_FORGET_PHOTOS)
    phone.restart()
    phone.sees("Look and decide")
    phone.page.evaluate(f"() => {{ location.hash = '#/point/{JOINT}/mixing'; }}")
    phone.sees("photo not seen on this phone", "#screen")
    yard.start()
    phone.try_office()
    phone.until("() => document.querySelector('#screen .thumb img') !== null")


def test_what_is_no_picture_is_refused_in_words(gang: Gang) -> None:
    faces(gang)
    gang.act()
    gang.phone.tap('[data-field="photos"]')
    text: Any = {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"no picture"}
    gang.phone.page.set_input_files("#camera", text)
    gang.phone.sees("no picture this phone can read", "#form-note")
    assert _photos(gang) == []


def test_a_reading_copied_from_paper_says_so_and_states_its_time(
    gang: Gang, yard: Office
) -> None:
    phone = gang.phone
    faces(gang)
    gang.act()
    gang.choose(YES)
    gang.choose(YES)
    phone.tap('[data-field="paper"]')
    phone.tap('[data-value="paper"]')
    phone.page.fill('#dock [data-field="writer"]', "N. Noll")
    phone.tap('[data-field="when"]')
    phone.sees("N. Noll", '[data-field="paper"]')
    then = datetime.now().replace(second=0, microsecond=0)  # noqa: DTZ005  # as typed
    then -= timedelta(days=2)
    phone.type_figure(then.strftime("%d%m%H%M"))
    phone.tap('[data-field="photos"]')
    phone.page.set_input_files("#photo-file", _camera(400, 300))
    phone.until("() => document.querySelector('#dock .thumb img') !== null")
    gang.save()
    phone.until("() => location.hash.startsWith('#/joint/')")
    phone.sees("all at the office")
    (entry,) = [one for one in arrived(yard, JOINT) if one.kind == "copied"]
    assert (entry.at, entry.at_by) == (int(then.timestamp() * 1_000), "typed")
    assert len(entry.photos) == 1
    assert entry.about == {"writer": "N. Noll"}


def test_before_a_gate_only_a_fit_item_can_be_chosen(gang: Gang, yard: Office) -> None:
    phone = gang.phone
    gang.act()
    phone.tap('[data-field="thermometer"]')
    phone.sees("out of calibration since", '[data-value="thermo-2"]')
    phone.tap('[data-value="thermo-2"]')
    phone.sees("Choose another", '[data-field="thermometer"]')
    good = label_text("tisk-crossing", "thermo-1")
    for label, answer in (
        (label_text("elsewhere", "thermo-1"), "belongs to another site"),
        (good[:-1] + ("0" if good[-1] != "0" else "1"), "damaged or was changed"),
        (label_text("tisk-crossing", "thermo-99"), "no label of this site's register"),
        ("lot-w1", "this is: Adhesive, warm; wanted: Thermometer"),
    ):
        phone.tap('[data-field="thermometer"]')
        phone.page.fill("#label", label)
        phone.page.press("#label", "Enter")
        phone.sees(answer, '[data-field="thermometer"]')
    phone.tap("#scan-label")
    hold_before(phone, [code_picture("https://elsewhere.example/thermo-1")])
    phone.sees("no label of a site", "#label-scan")
    hold_before(phone, [code_picture(good)])
    phone.sees("Surface thermometer 1", '[data-field="thermometer"]')
    _answer_faces(gang)
    # Before the race one form leads to the next.
    phone.until("() => !location.hash.includes('/faces/')")
    phone.sees("all at the office")
    entry = next(one for one in arrived(yard, JOINT) if one.step == "faces")
    assert entry.values["thermometer"] == "thermo-1"
    assert entry.needs == (_registration(yard, "thermo-1"),)


def faces(gang: Gang) -> None:
    """Have faces and air recorded."""
    gang.tell({"step": "faces", "values": ALL_READ})
    gang.phone.sees("Ready to mix", "#dock")


def _answer_faces(gang: Gang) -> None:
    for field, value in (("rag-new", "1"), ("rag-old", "1")):
        gang.phone.tap(f'[data-field="{field}"]')
        gang.choose(value)
    gang.phone.tap('[data-field="cold-new"]')
    for figure in FACES:
        gang.figure(figure)
    gang.phone.tap('[data-field="thermometer"]')
    gang.choose("thermo-1")
    gang.phone.tap('[data-field="formulation"]')
    gang.choose(WARM)
    gang.phone.tap('[data-field="seals"]')
    gang.choose(YES)
    gang.save()


def _camera(width: int, height: int) -> Any:
    return {"name": "face.jpg", "mimeType": "image/jpeg", "buffer": jpeg(width, height)}


def _photos(gang: Gang) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = gang.phone.page.evaluate(
        """async () => {
          const { transact } = await import("/phone/device/database.js");
          const rows = await transact(["photos"], "readonly", (store) =>
            store("photos").getAll());
          return rows.map(({ hash, waiting }) => ({ hash, waiting: Boolean(waiting) }));
        }"""
    )
    return found


_FORGET_PHOTOS = """async () => {
  const { transact } = await import("/phone/device/database.js");
  await transact(["photos"], "readwrite", (store) => { store("photos").clear(); });
}"""


def _at_office(office: Office, name: str) -> bytes:
    wired = running(open_door(office.data), utc_now_ms)
    with connected(wired.door.store):
        found = photo_as_it_came(wired.reader, name)
    assert found is not None
    return found[1]


def _registration(office: Office, item: str) -> str:
    wired = running(open_door(office.data), utc_now_ms)
    with connected(wired.door.store):
        told = registrations(wired.door.store)
    (found,) = [one.id for one in told if one.about["item"] == item]
    return found
