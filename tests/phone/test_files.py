"""Entries that come and go as files: judged like the network's, kept, carried on."""

import json
from pathlib import Path
from typing import Any

from playwright.sync_api import FilePayload

from fieldapp.clock import utc_now_ms
from fieldapp.config import open_door
from fieldapp.play.phone import Phone
from fieldapp.play.world import World
from fieldapp.store.database import connected
from fieldapp.store.ledger import Signed, rows_after
from tests.people import FOREMAN, INSPECTOR, SITE, SUBJECT
from tests.phone.conftest import Make
from tests.phone.handset import Handset
from tests.phone.ledger import arrived
from tests.phone.office import Office
from tests.phone.screens import WHOLE, code_picture, hold_before, label_text

PIN = "274951"


def test_a_file_is_judged_kept_and_carried_and_the_unknown_waits_for_its_roster(
    office: Office, handset_of: Make, tmp_path: Path
) -> None:
    phone = handset_of(office).start()
    phone.enrol(office.code(FOREMAN), PIN)
    phone.sees("all at the office", "#head")
    phone.until(WHOLE)
    office.kill()
    stranger, roster = _inspector_elsewhere(office)
    good, forged = stranger.outbox
    forged = Signed(body=forged.body, sig=good.sig)
    phone.page.evaluate("() => { location.hash = '#/roads'; }")

    _bring(phone, _parcel([good, forged], site="elsewhere"))
    phone.sees("from another site", "#outcome")
    _bring(phone, b'{"format": 1')
    phone.sees("not a parcel", "#outcome")
    _bring(phone, _parcel([good, good, forged, Signed(body="{}", sig=good.sig)]))
    phone.sees("kept apart", '[data-received="apart"]')
    assert _faults(phone)[_id(stranger, 0)] == "unknown_key"
    assert _believed(phone) == 0

    # Who the inspector is comes by hand as well, signed by the site's own key.
    _bring(phone, _parcel(roster))
    phone.sees("new, signatures hold", '[data-received="fresh"]')
    assert _believed(phone) == 1
    assert _id(stranger, 0) not in _faults(phone)

    with phone.page.expect_download() as download:
        phone.tap("#to-file")
    kept = tmp_path / "out.json"
    download.value.save_as(kept)
    written = json.loads(kept.read_text("utf-8"))
    assert written["site"] == SITE
    assert {"bytes": good.body, "sig": good.sig} in written["entries"]

    office.start()
    phone.try_office()
    phone.sees("all at the office", "#head")
    assert [entry.id for entry in arrived(office, SUBJECT)] == [_id(stranger, 0)]
    _follow_marks(phone)


def _follow_marks(phone: Handset) -> None:
    """A mark on the concrete opens its subject; any other says what it is."""
    phone.page.evaluate("() => { location.hash = '#/scan'; }")
    for text, words in (
        (label_text("elsewhere", SUBJECT, "SUBJECT"), "another site"),
        (label_text(SITE, "J9", "SUBJECT"), "no sheet on this phone"),
        (label_text(SITE, "jack-a"), "label of an item"),
        ("FR1:P001002", "damaged or cut off"),
    ):
        hold_before(phone, [code_picture(text)])
        phone.sees(words, "#scan-note")
    hold_before(phone, [code_picture(label_text(SITE, SUBJECT, "SUBJECT"))])
    phone.sees("Joint 1", "#head")
    # Where the browser reads codes itself, it is asked and the library is not.
    phone.page.reload()
    phone.sees("Joint 1", "#head")
    phone.page.evaluate(_OWN_DETECTOR, label_text(SITE, "J9", "SUBJECT"))
    phone.page.evaluate("() => { location.hash = '#/scan'; }")
    hold_before(phone, [code_picture("anything")])
    phone.sees("J9 has no sheet on this phone", "#scan-note")


def _inspector_elsewhere(office: Office) -> tuple[Phone, list[Signed]]:
    """Enrol the inspector on a phone this one has not heard of, with two notes."""
    door, now = open_door(office.data), utc_now_ms()
    with connected(door.store):
        world = World(door=door)
        phone = world.phone("elsewhere", now=now, zone=0)
        before = len(rows_after(door.store, 0, 100))
        world.enrol(phone, INSPECTOR, now)
        roster = rows_after(door.store, before, 100)
    for text in ("seen", "seen again"):
        phone.write(
            "note", person=INSPECTOR, now=now, subject=SUBJECT, about={"text": text}
        )
    return phone, [Signed(body=row.body, sig=row.sig) for row in roster]


def _parcel(entries: list[Signed], site: str = SITE) -> bytes:
    rows = [{"bytes": each.body, "sig": each.sig} for each in entries]
    return json.dumps({"format": 1, "site": site, "entries": rows}).encode()


def _bring(phone: Handset, raw: bytes) -> None:
    file: FilePayload = {
        "name": "entries.json", "mimeType": "application/json", "buffer": raw,
    }  # fmt: skip
    phone.page.set_input_files("#entries-file", file)


def _id(phone: Phone, place: int) -> str:
    return list(phone.entries)[place]


def _faults(phone: Handset) -> dict[str, str]:
    rows: list[dict[str, Any]] = phone.storage("entries")
    return {row["id"]: row["fault"] for row in rows if row.get("fault")}


def _believed(phone: Handset) -> int:
    found: int = phone.page.evaluate(
        """async (subject) => {
          const { entriesOf } = await import("/phone/device/book.js");
          return (await entriesOf(subject)).length;
        }""",
        SUBJECT,
    )
    return found


_OWN_DETECTOR = """(text) => {
  globalThis.BarcodeDetector = class {
    static getSupportedFormats() { return Promise.resolve(["qr_code"]); }
    detect() { return Promise.resolve([{ rawValue: text }]); }
  };
}"""
