"""Every envelope that cannot be read names field, value and what is allowed."""

import pytest

from fieldapp.store.database import connected
from fieldapp.store.ledger import ledger_head
from tests.desk import Desk
from tests.people import wiped
from tests.sync.asking import (
    bearer,
    code_for,
    enrolled,
    pull,
    request_of,
    send,
    waiting,
)


@pytest.mark.parametrize(
    ("query", "field"),
    [("?after=-1", "after"), ("?after=x", "after"), ("?after=1.5", "after"),
     ("?after=", "after"), ("?after=1_0", "after"), ("?after=%D9%A1", "after"),
     ("?after=99999999999999999999", "after"), ("?limit=0", "limit"),
     ("?limit=501", "limit"), ("?limit=%00", "limit")],
)  # fmt: skip
def test_a_pull_that_cannot_be_read_names_field_value_and_what_is_allowed(
    api: Desk, query: str, field: str
) -> None:
    answer = pull(api, enrolled(api), query)
    assert answer.status_code == 400
    fault = answer.json["error"]
    assert fault["field"] == field
    assert "whole number" in fault["allowed"]
    assert "value" in fault


ENVELOPES: dict[str, bytes] = {
    "empty": b"",
    "not json": b"entries",
    "half": b'{"entries": [',
    "not utf-8": b'{"entries": ["\xff"]}',
    "utf-16": '{"entries": []}'.encode("utf-16"),
    "with a mark": b"\xef\xbb\xbf{}",
    "a list": b"[]",
    "a number": b"1",
    "null": b"null",
    "nothing in it": b"{}",
    "entries a map": b'{"entries": {}}',
    "entries text": b'{"entries": "x"}',
    "entries null": b'{"entries": null}',
    "repeated": b'{"entries": [], "entries": []}',
    "repeated inside": b'{"entries": [{"bytes": "a", "bytes": "b"}]}',
    "nan": b'{"entries": [NaN]}',
    "infinity": b'{"entries": [], "x": Infinity}',
    "deep": b'{"entries": ' + b"[" * 200_000 + b"]" * 200_000 + b"}",
    "huge number": b'{"entries": [], "x": ' + b"9" * 10_000 + b"}",
}


@pytest.mark.parametrize("fault", ENVELOPES)
def test_an_envelope_that_cannot_be_read_is_400_and_stores_nothing(
    api: Desk, fault: str
) -> None:
    phone = enrolled(api)
    answer = send(api, "/api/push", ENVELOPES[fault], phone.token)
    assert answer.status_code == 400
    assert set(answer.json["error"]) == {"code", "field", "value", "allowed"}
    with connected(api.site.wired.door.store):
        assert ledger_head(api.site.wired.door.store).place == 3


def test_more_entries_than_a_batch_holds_are_413(api: Desk) -> None:
    phone = enrolled(api)
    answer = send(api, "/api/push", {"entries": [{}] * 201}, phone.token)
    assert answer.status_code == 413
    assert answer.json["error"]["value"] == 201


def test_a_body_over_the_limit_is_413(api: Desk) -> None:
    phone = enrolled(api)
    body = b'{"entries": ["' + b"x" * (17 * 1024 * 1024) + b'"]}'
    answer = send(api, "/api/push", body, phone.token)
    assert answer.status_code == 413
    assert answer.json["error"]["code"] == "too_large"


def test_another_content_type_is_415(api: Desk) -> None:
    phone = enrolled(api)
    answer = api.client.post(
        "/api/push", data={"entries": "[]"}, headers=bearer(phone.token)
    )
    assert answer.status_code == 415


@pytest.mark.parametrize(
    "item",
    [None, 1, "text", [], {}, {"bytes": 1, "sig": 2}, {"bytes": "{}", "sig": None},
     {"bytes": "\ud800", "sig": "x"}, {"bytes": None}],
    ids=range(9),
)  # fmt: skip
def test_an_odd_item_gets_its_own_answer_and_holds_no_other_up(
    api: Desk, item: object
) -> None:
    phone = enrolled(api)
    entry = wiped(phone)
    body = {"entries": [item, *waiting(phone)["entries"]]}
    answer = send(api, "/api/push", body, phone.token)
    assert answer.status_code == 200
    results = answer.json["results"]
    assert results[0]["result"] == "unreadable"
    assert results[1] == {"id": entry.id, "result": "stored", "index": 4}


@pytest.mark.parametrize("field", ["code", "device", "public", "proof"])
@pytest.mark.parametrize("value", [None, 1, [], {}, "", "\ud800", "é", "x" * 301])
def test_an_enrolment_names_the_field_that_is_wrong(
    api: Desk, field: str, value: object
) -> None:
    wanted = {**request_of(code_for(api)), field: value}
    answer = send(api, "/api/enrol", wanted)
    assert answer.status_code == 400
    assert answer.json["error"]["field"] == field
