"""Files of entries at the desk and by command: judged like the network's."""

import json
from io import BytesIO
from pathlib import Path

import pytest
from werkzeug.datastructures import FileStorage
from werkzeug.test import TestResponse, encode_multipart

from fieldapp.cli import main
from fieldapp.intake.parcel import LARGEST_BYTES, MOST_ENTRIES
from fieldapp.store.database import connected
from fieldapp.store.ledger import Signed, all_apart, rows_of_subject
from tests.desk import TOKEN, Desk, desk
from tests.people import FOREMAN, INSPECTOR, NOON, SITE, SUBJECT, wiped


@pytest.fixture
def page(tmp_path: Path) -> Desk:
    return desk(tmp_path)


def parcel(*entries: Signed, **changes: object) -> bytes:
    rows = [{"bytes": each.body, "sig": each.sig} for each in entries]
    return json.dumps({"format": 1, "site": SITE, "entries": rows} | changes).encode()


def bring(page: Desk, raw: bytes, token: str | None = None) -> TestResponse:
    if token is None:
        found = TOKEN.search(page.client.get("/import").text)
        token = found[1] if found else ""
    file = FileStorage(stream=BytesIO(raw), filename="entries.json")
    boundary, body = encode_multipart({"csrf_token": token, "file": file})
    kind = f"multipart/form-data; boundary={boundary}"
    return page.client.post("/import", data=body, content_type=kind)


def stored(page: Desk) -> int:
    store = page.site.wired.door.store
    with connected(store):
        return len(rows_of_subject(store, SUBJECT))


def test_a_file_is_judged_entry_by_entry_and_may_be_brought_twice(page: Desk) -> None:
    page.sign_in()
    phone = page.site.phone()
    wiped(phone)
    good = phone.outbox[-1]
    wiped(phone, temp=230)
    forged = Signed(body=phone.outbox[-1].body, sig=good.sig)
    stranger = page.site.world.phone("gang", now=NOON, zone=0)
    wiped(stranger)
    raw = parcel(good, forged, Signed(body="{ nothing", sig=good.sig))
    answer = bring(page, raw)
    assert answer.status_code == 200
    for words in ("new, signatures hold", "signature does not hold", "not readable"):
        assert words in answer.text
    assert stored(page) == 1
    again = bring(page, raw)
    assert "were here before" in again.text
    assert stored(page) == 1


def test_what_is_signed_with_an_unknown_key_waits_for_its_enrolment(
    page: Desk,
) -> None:
    page.sign_in()
    phone = page.site.phone("gang", INSPECTOR)
    wiped(phone)  # the foreman's key is not enrolled on this phone
    assert "not known yet" in bring(page, parcel(phone.outbox[-1])).text
    store = page.site.wired.door.store
    with connected(store):
        assert len(all_apart(store)) == 1
        page.site.world.enrol(phone, FOREMAN, NOON)
        assert all_apart(store) == []
    assert stored(page) == 1


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "damaged"),
        (b"\xff\xfe{}", "damaged"),
        (b"[" * 100_000, "damaged"),
        (b'{"format": 1, "format": 1}', "damaged"),
        (b"[]", "not a file of entries"),
        (b'{"format": 2, "entries": []}', "not a file of entries"),
        (parcel(site="elsewhere"), "of another site: elsewhere"),
        (parcel(entries=[0] * (MOST_ENTRIES + 1)), "Too many entries"),
    ],
)
def test_what_is_no_such_file_is_refused_whole(
    page: Desk, raw: bytes, words: str
) -> None:
    page.sign_in()
    answer = bring(page, raw)
    assert answer.status_code == 400
    assert words in answer.text
    assert "Nothing was taken in" in answer.text


def test_a_file_needs_a_sign_in_its_token_and_a_bounded_size(page: Desk) -> None:
    phone = page.site.phone()
    wiped(phone)
    raw = parcel(phone.outbox[-1])
    assert bring(page, raw, token="").status_code == 400
    assert bring(page, b"x" * (2 * 1024 * 1024), token="").status_code == 413
    page.sign_in()
    assert bring(page, raw, token="made up").status_code == 400
    assert bring(page, b"x" * (LARGEST_BYTES + 200_000)).status_code == 413
    assert stored(page) == 0
    # Larger than any other form may be, and still taken.
    filler = Signed(body="x" * (2 * 1024 * 1024), sig="")
    assert bring(page, parcel(phone.outbox[-1], filler)).status_code == 200
    assert stored(page) == 1


def test_the_command_takes_a_file_in_and_says_what_became_of_it(
    page: Desk, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    phone = page.site.phone()
    wiped(phone)
    file = tmp_path / "entries.json"
    file.write_bytes(parcel(phone.outbox[-1], phone.outbox[-1]))
    command = ["import", str(file), "--data", str(page.site.data)]
    assert main(command) == 0
    told = capsys.readouterr().out.split("\n")
    assert told[0] == "2 entries"
    assert {line.strip() for line in told[1:3]} == {"stored: 1", "duplicate: 1"}
    file.write_bytes(b"{")
    assert main(command) == 2
    assert "damaged" in capsys.readouterr().err
    assert main(["import", str(tmp_path / "none"), "--data", str(tmp_path)]) == 2
