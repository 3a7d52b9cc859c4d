"""The phone's API: a whole exchange, who is given what, and a disk that fails."""

import json

import pytest

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.signatures import verify
from fieldapp.store.database import StoreUnavailable, connected, writing
from fieldapp.store.devices import revoke_device
from tests.desk import Desk
from tests.people import FOREMAN, INSPECTOR, NOON, SUBJECT, sheet, wiped
from tests.sync.asking import (
    bearer,
    code_for,
    enrolled,
    pull,
    request_of,
    send,
    waiting,
)


def test_a_phone_enrols_pushes_pulls_and_reads_its_sheet(api: Desk) -> None:
    answer = send(api, "/api/enrol", request_of(code_for(api)))
    assert answer.status_code == 200
    told = answer.json
    assert told["person"] == FOREMAN
    assert told["site"] == "tarn"
    assert told["office_key"] == api.site.wired.door.office.public
    headers = bearer(told["token"])
    found = api.client.get("/api/pull?after=0", headers=headers).json
    assert [each["index"] for each in found["entries"]] == [1, 2]
    assert found["last"] == 2
    assert found["now"] == NOON
    for each in found["entries"]:
        assert verify(told["office_key"], each["bytes"].encode(), each["sig"])
    bundle = api.client.get("/api/bundle", headers=headers).json
    assert bundle["site"]["title"] == "Tarn crossing"
    sheet_hash = bundle["sheets"][SUBJECT]["hash"]
    body = api.client.get(f"/api/sheet/{sheet_hash}", headers=headers).data
    assert body == canonical(sheet())
    assert fingerprint(sheet()) == sheet_hash


def test_what_is_pushed_arrives_once_on_another_phone(api: Desk) -> None:
    phone = enrolled(api)
    entry = wiped(phone)
    for result in ("stored", "duplicate"):
        answer = send(api, "/api/push", waiting(phone), phone.token)
        assert answer.json["results"] == [
            {"id": entry.id, "result": result, "index": 4}
        ]
    found = pull(api, phone, "?after=3").json["entries"]
    assert [each["bytes"] for each in found] == [phone.outbox[0].body]
    receipt = answer.json["receipt"]
    office = api.site.wired.door.office.public
    assert verify(office, receipt["bytes"].encode(), receipt["sig"])


def test_a_second_person_is_enrolled_with_the_devices_token_which_stays(
    api: Desk,
) -> None:
    first = send(api, "/api/enrol", request_of(code_for(api))).json["token"]
    wanted = request_of(code_for(api, INSPECTOR))
    assert send(api, "/api/enrol", wanted).status_code == 403
    second = send(api, "/api/enrol", wanted, first)
    assert second.json["token"] == first
    assert second.json["person"] == INSPECTOR


def test_pages_of_a_pull_follow_on(api: Desk) -> None:
    phone = enrolled(api)
    first = pull(api, phone, "?after=0&limit=2").json
    rest = pull(api, phone, "?after=2&limit=500").json
    assert [e["index"] for e in first["entries"] + rest["entries"]] == [1, 2, 3]
    assert first["head"] == rest["head"]


def test_a_ping_needs_no_token_and_tells_nothing_of_the_site(api: Desk) -> None:
    assert set(api.client.get("/api/ping").json) == {"now", "epoch", "last", "api"}


@pytest.mark.parametrize(
    "path", ["/api/pull", "/api/bundle", "/api/sheet/x", "/api/table/x"]
)
@pytest.mark.parametrize(
    "headers",
    [{}, {"Authorization": "Bearer x"}, {"Authorization": "Bearer"},
     {"Authorization": "Basic eDp5"}, {"Authorization": "\xff"}],
    ids=["none", "unknown", "empty", "basic", "not ascii"],
)  # fmt: skip
def test_nothing_is_given_without_a_known_token(
    api: Desk, path: str, headers: dict[str, str]
) -> None:
    answer = api.client.get(path, headers=headers)
    assert answer.status_code == 401
    assert answer.json["error"]["field"] == "Authorization"


def test_a_page_session_is_no_token(api: Desk) -> None:
    api.sign_in()
    assert api.client.get("/api/pull").status_code == 401


def test_a_revoked_device_gets_nothing_and_its_entries_are_set_apart(
    api: Desk,
) -> None:
    phone = enrolled(api)
    store = api.site.wired.door.store
    with connected(store), writing(store):
        revoke_device(store, "gang", NOON)
    assert pull(api, phone).status_code == 403
    assert pull(api, phone).json["error"]["code"] == "revoked"
    wiped(phone)
    answer = send(api, "/api/push", waiting(phone), phone.token)
    assert [each["result"] for each in answer.json["results"]] == ["quarantined"]


def test_an_empty_batch_is_answered_with_a_receipt(api: Desk) -> None:
    answer = send(api, "/api/push", {"entries": []}, enrolled(api).token)
    assert answer.json["results"] == []
    assert json.loads(answer.json["receipt"]["bytes"])["entries"] == []


def test_an_enrolment_with_a_wrong_code_is_403_and_the_tries_slow_down(
    api: Desk,
) -> None:
    seen = [
        send(api, "/api/enrol", request_of("AAAA-AAAA")).status_code for _ in range(6)
    ]
    assert seen == [403] * 5 + [429]
    api.site.now += 60_000
    assert send(api, "/api/enrol", request_of(code_for(api))).status_code == 200


def test_a_code_can_be_looked_at_without_being_spent_or_guessed(api: Desk) -> None:
    good = {"code": code_for(api)}
    for _ in range(2):
        told = send(api, "/api/code", good).json
        assert (told["person"], told["name"]) == (FOREMAN, "Ida Fell")
    for _ in range(4):
        refused = send(api, "/api/code", {"code": "AAAA-AAAA"})
        assert refused.json["error"]["code"] == "code_unknown"
    assert send(api, "/api/code", good).status_code == 200
    # A right one in between forgave nothing, and enrolling counts with it.
    assert send(api, "/api/enrol", request_of("AAAA-AAAA")).status_code == 403
    assert send(api, "/api/code", good).status_code == 429
    api.site.now += 60_000
    assert send(api, "/api/enrol", request_of(good["code"])).status_code == 200
    assert send(api, "/api/code", good).json["error"]["code"] == "code_used"
    late = {"code": code_for(api)}
    api.site.now += 3_600_000
    assert send(api, "/api/code", late).json["error"]["code"] == "code_unknown"


def test_a_device_id_that_is_a_path_is_refused(api: Desk) -> None:
    answer = send(api, "/api/enrol", request_of(code_for(api), device="../x"))
    assert answer.json["error"]["field"] == "device"


def test_a_hash_not_kept_here_is_404(api: Desk) -> None:
    phone = enrolled(api)
    for path in ("/api/sheet/" + "0" * 64, "/api/table/..%2f..", "/api/nothing"):
        answer = api.client.get(path, headers=bearer(phone.token))
        assert answer.status_code == 404
        assert answer.json["error"]["code"] == "not_found"
    assert api.client.get("/api/push").json["error"]["code"] == "not_allowed"


def test_a_disk_nearly_full_is_told_in_words_and_nothing_is_acknowledged(
    api: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = enrolled(api)
    wiped(phone)
    with monkeypatch.context() as patched:
        patched.setattr("fieldapp.store.room.SPARE_BYTES", 10**18)
        answer = send(api, "/api/push", waiting(phone), phone.token)
        assert send(api, "/api/push", waiting(phone)).status_code == 401
        wish = request_of("AAAA-AAAA")
        assert send(api, "/api/enrol", wish).status_code == 403
        assert pull(api, phone).status_code == 200
    assert answer.status_code == 503
    assert "nearly full" in answer.json["error"]["allowed"]
    assert answer.headers["Retry-After"]
    answer = send(api, "/api/push", waiting(phone), phone.token)
    assert answer.json["results"][0]["result"] == "stored"


def test_when_the_disk_fails_the_answer_is_503_and_nothing_is_acknowledged(
    api: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = enrolled(api)
    wiped(phone)

    def fail(*_args: object, **_kwargs: object) -> None:
        raise StoreUnavailable("database or disk is full")

    with monkeypatch.context() as patched:
        patched.setattr("fieldapp.sync.api.accept", fail)
        answer = send(api, "/api/push", waiting(phone), phone.token)
    assert answer.status_code == 503
    assert answer.headers["Retry-After"]
    assert "results" not in answer.json
    answer = send(api, "/api/push", waiting(phone), phone.token)
    assert answer.json["results"][0]["result"] == "stored"
