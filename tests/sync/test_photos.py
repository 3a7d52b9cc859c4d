"""Photos from phones: kept as they came, or refused with what is allowed."""

import hashlib
from io import BytesIO

import pytest
from PIL import Image
from werkzeug.test import TestResponse

from fieldapp.intake import photos as intake_photos
from fieldapp.lookups import folded
from fieldapp.lookups.photos import missing_photos, photos_of
from fieldapp.store.database import StoreUnavailable, connected, writing
from fieldapp.store.devices import revoke_device
from fieldapp.store.images import LARGEST_BYTES
from tests.desk import Desk
from tests.people import FOREMAN, NOON, SUBJECT, wiped
from tests.pictures import hollow_png, moving_picture, picture, told_picture
from tests.sync.asking import bearer, enrolled, send, waiting

ABSENT = "ab" * 32


def sha(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()


def offer(
    api: Desk, token: str | None, raw: bytes, name: str | None = None, **more: str
) -> TestResponse:
    headers = {**bearer(token), "X-Photo-Hash": sha(raw) if name is None else name}
    kind = more.pop("content_type", "image/jpeg")
    return api.client.post("/api/photo", data=raw, content_type=kind, headers=headers)


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_a_photo_is_kept_as_it_came_and_given_back_byte_for_byte(
    api: Desk, form: str
) -> None:
    phone, raw = enrolled(api), picture(form)
    answer = offer(api, phone.token, raw)
    assert answer.json == {"hash": sha(raw), "result": "stored"}
    assert offer(api, phone.token, raw).json["result"] == "duplicate"
    found = api.client.get(f"/api/photo/{sha(raw)}", headers=bearer(phone.token))
    assert found.data == raw
    assert found.mimetype == f"image/{form.lower()}"


def test_other_bytes_than_the_hash_names_are_refused(api: Desk) -> None:
    phone, raw = enrolled(api), picture()
    answer = offer(api, phone.token, raw, name=ABSENT)
    assert answer.status_code == 400
    fault = answer.json["error"]
    assert (fault["code"], fault["field"], fault["value"]) == (
        "hash_wrong",
        "X-Photo-Hash",
        ABSENT,
    )
    found = api.client.get(f"/api/photo/{ABSENT}", headers=bearer(phone.token))
    assert found.status_code == 404


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"GIF89a" + b"\0" * 40, "no picture that is read here"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no picture that is read here"),
        (b"%PDF-1.7", "no picture that is read here"),
        (picture("GIF"), "no picture that is read here"),
        (picture("TIFF"), "no picture that is read here"),
        (picture(size=(400, 300))[:-900], "a picture that breaks off"),
        (hollow_png(200, 200), "a picture that breaks off"),
        (hollow_png(9_000, 9_000), "9000 x 9000 pixels"),
        (hollow_png(13_000, 10), "13000 x 10 pixels"),
        (hollow_png(10_001, 10_001), "a picture too large to open"),
        (hollow_png(60_000, 60_000), "a picture too large to open"),
        (moving_picture(), "a moving picture"),
        (picture()[:10], "no picture that is read here"),
    ],
    ids=range(13),
)
def test_what_is_no_whole_picture_is_refused_with_what_is_allowed(
    api: Desk, raw: bytes, words: str
) -> None:
    answer = offer(api, enrolled(api).token, raw)
    assert answer.status_code == 400
    fault = answer.json["error"]
    assert fault["code"] == "not_a_photo"
    assert fault["value"] == words
    assert fault["allowed"]


def test_nothing_and_too_much_are_refused(api: Desk) -> None:
    phone = enrolled(api)
    assert offer(api, phone.token, b"").status_code == 400
    answer = offer(api, phone.token, b"\0" * (LARGEST_BYTES + 1))
    assert answer.status_code == 413
    assert str(LARGEST_BYTES) in answer.json["error"]["allowed"]


@pytest.mark.parametrize("name", ["", "xyz", "AB" * 32, "ab" * 31])
def test_a_hash_that_is_none_is_named(api: Desk, name: str) -> None:
    answer = offer(api, enrolled(api).token, picture(), name=name)
    assert answer.status_code == 400
    assert answer.json["error"]["field"] == "X-Photo-Hash"


def test_a_photo_comes_as_a_picture_from_a_phone_that_is_known(api: Desk) -> None:
    phone, raw = enrolled(api), picture()
    assert offer(api, None, raw).status_code == 401
    wrong = offer(api, phone.token, raw, content_type="application/json")
    assert wrong.status_code == 415
    assert wrong.json["error"]["field"] == "Content-Type"


def test_a_revoked_phone_may_bring_photos_up_to_a_quota_and_is_given_none(
    api: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(intake_photos, "REVOKED_PHOTOS", 1)
    phone, store = enrolled(api), api.site.wired.door.store
    with connected(store), writing(store):
        revoke_device(store, "gang", NOON)
    assert offer(api, phone.token, picture()).status_code == 200
    answer = offer(api, phone.token, picture(colour=(1, 2, 3)))
    assert answer.status_code == 429
    assert answer.json["error"]["code"] == "quota"
    found = api.client.get(f"/api/photo/{ABSENT}", headers=bearer(phone.token))
    assert found.status_code == 403


def test_a_full_disk_acknowledges_no_photo(
    api: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_args: object, **_named: object) -> None:
        raise StoreUnavailable("database or disk is full")

    phone, raw = enrolled(api), picture()
    with monkeypatch.context() as patch:
        patch.setattr(intake_photos, "keep_photo", full)
        answer = offer(api, phone.token, raw)
    assert answer.status_code == 503
    assert "result" not in answer.json
    assert offer(api, phone.token, raw).json["result"] == "stored"


def test_a_photo_that_has_not_arrived_is_named_with_who_took_it(api: Desk) -> None:
    phone, raw = enrolled(api), picture()
    entry = wiped(phone, photos=sorted([sha(raw), ABSENT]))
    send(api, "/api/push", waiting(phone), phone.token)
    offer(api, phone.token, raw)
    reader = api.site.wired.reader
    with connected(reader.store):
        (missing,) = missing_photos(reader, [entry])
        assert (missing.hash, missing.entry.person) == (ABSENT, FOREMAN)
        assert len(photos_of(reader, [entry, entry])) == 2


def test_the_desk_shows_a_photo_upright_and_with_nothing_but_the_picture(
    api: Desk,
) -> None:
    phone, raw = enrolled(api), told_picture()
    offer(api, phone.token, raw)
    address = f"/photos/{sha(raw)}"
    assert api.client.get(address).status_code == 302
    api.sign_in()
    answer = api.client.get(address)
    assert answer.mimetype == "image/jpeg"
    assert b"Tarn Camera Works" in raw
    assert b"Tarn Camera Works" not in answer.data
    with Image.open(BytesIO(answer.data)) as shown:
        assert shown.size == (20, 40)
        assert not shown.getexif()
    assert api.client.get(f"{address}/small").status_code == 200
    assert api.client.get(f"/photos/{ABSENT}").status_code == 404
    assert api.client.get("/photos/nothing").status_code == 404


def test_a_small_copy_is_small_and_what_was_clear_is_white(api: Desk) -> None:
    drawn = BytesIO()
    Image.new("RGBA", (900, 300), (0, 0, 0, 0)).save(drawn, "PNG")
    raw = drawn.getvalue()
    offer(api, enrolled(api).token, raw)
    api.sign_in()
    with Image.open(BytesIO(api.client.get(f"/photos/{sha(raw)}/small").data)) as shown:
        assert max(shown.size) == 320
        assert shown.getpixel((5, 5)) == (255, 255, 255)


def test_a_kept_photo_can_be_neither_changed_nor_deleted(api: Desk) -> None:
    offer(api, enrolled(api).token, picture())
    store = api.site.wired.door.store
    with connected(store):
        for order in ("UPDATE photos SET body = x'00'", "DELETE FROM photos"):
            with pytest.raises(Exception, match="a photo is never"):
                store.database.execute_sql(order)


def test_a_photo_that_no_entry_names_changes_no_joint(api: Desk) -> None:
    reader = api.site.wired.reader
    phone = enrolled(api)
    with connected(reader.store):
        before = folded(reader, SUBJECT, NOON)
    offer(api, phone.token, picture())
    with connected(reader.store):
        after = folded(reader, SUBJECT, NOON)
    assert before is not None
    assert after is not None
    assert after.state == before.state
