"""What phones send, spoiled: a clear no that names field and value, nothing altered.

An answer below 500 always; under /api an error says code, field, value and what is
allowed; what was in the ledger before stands in it after, byte for byte.
"""

import json
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from random import Random
from typing import Any

import pytest
from werkzeug.test import TestResponse

from fieldapp.config import DATABASE
from fieldapp.play.phone import Phone
from fieldapp.store.accounts import LONGEST_WAIT_MS
from tests.desk import Desk, desk
from tests.fuzz.spoil import (
    PATIENCE_S,
    TIMES,
    as_json,
    bounded,
    seeds,
    spoiled,
    spoiled_bytes,
)
from tests.people import NOON, wiped
from tests.sync.asking import bearer, code_for, enrolled, request_of, waiting

TYPES = (
    "application/json", "application/json", "application/json; charset=utf-16",
    "text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "",
    "image/jpeg",
)  # fmt: skip
RESULTS = {"stored", "duplicate", "fork", "quarantined", "unreadable"}


@pytest.fixture
def api(tmp_path: Path) -> Desk:
    return desk(tmp_path)


@pytest.fixture
def phone(api: Desk) -> Phone:
    phone = enrolled(api)
    for number in range(3):
        wiped(phone, now=NOON + number, temp=200 + number)
    return phone


@pytest.fixture(autouse=True)
def kept(api: Desk, phone: Phone) -> Iterator[None]:
    """Whatever is sent: what was there before stands as it was."""
    assert phone.token
    with bounded(PATIENCE_S * TIMES):
        before = ledger(api)
        yield
        assert ledger(api)[: len(before)] == before


def ledger(api: Desk) -> list[tuple[Any, ...]]:
    with closing(sqlite3.connect(api.site.data / DATABASE)) as opened:
        return opened.execute("SELECT * FROM ledger ORDER BY place").fetchall()


def sound(answer: TestResponse) -> None:
    """An answer that a person can work with, and no fault of ours."""
    assert answer.status_code < 500, answer.text
    if answer.status_code >= 400:
        told = json.loads(answer.data)["error"]
        assert told.keys() >= {"code", "field", "value", "allowed"}
        assert len(answer.data) < 2_000


@pytest.mark.parametrize(
    "path", ["/api/push", "/api/enrol", "/api/return", "/api/photo"]
)
def test_spoiled_bodies_are_refused_or_answered_entry_by_entry(
    api: Desk, phone: Phone, path: str
) -> None:
    good = request_of(code_for(api)) if path == "/api/enrol" else waiting(phone)
    pause_ms = 0
    if path == "/api/return":
        good = request_of("", "own") | good | {"challenge": "0" * 64}
        # Nobody is made to wait: each is read.
        pause_ms = LONGEST_WAIT_MS
    for seed in seeds(300):
        rng = Random(seed)
        api.site.now += pause_ms
        raw = as_json(spoiled(good, rng))
        if rng.random() < 0.4:
            raw = spoiled_bytes(as_json(good), rng)
        answer = api.client.post(
            path, data=raw, content_type=rng.choice(TYPES),
            headers=bearer(phone.token) | {"X-Photo-Hash": rng.choice(("", "0" * 64))},
        )  # fmt: skip
        sound(answer)


def test_spoiled_entries_get_an_answer_each_and_good_ones_are_stored(
    api: Desk, phone: Phone
) -> None:
    good = waiting(phone)["entries"]
    for seed in seeds(300):
        rng = Random(seed)
        entry = json.loads(good[0]["bytes"])
        text = json.dumps(spoiled(entry, rng), separators=(",", ":"), sort_keys=True)
        if rng.random() < 0.5:
            text = spoiled_bytes(good[0]["bytes"].encode(), rng).decode(
                "utf-8", "surrogateescape"
            )
        batch = [{"bytes": text, "sig": good[0]["sig"]}, good[1]]
        answer = api.client.post(
            "/api/push", json={"entries": batch}, headers=bearer(phone.token)
        )
        sound(answer)
        first, second = (each["result"] for each in answer.json["results"])
        assert first in RESULTS - {"stored"} or text == good[0]["bytes"]
        assert second in ("stored", "duplicate")


ROADS: tuple[Callable[[str], str], ...] = (
    lambda x: f"/api/pull?after={x}",
    lambda x: f"/api/pull?limit={x}",
    lambda x: f"/api/pull?after=0&after={x}",
    lambda x: f"/api/sheet/{x}",
    lambda x: f"/api/table/{x}",
    lambda x: f"/api/photo/{x}",
    lambda x: f"/api/ping?{x}",
    lambda x: f"/api/{x}",
)
ODD = (
    "", "0", "-1", "1e3", "\u0661", "9" * 17, "9" * 5_000, "%00", "%ff", "%ed%a0%80",
    "..%2f..%2fsite.key", "0 ", "0x1", "f" * 64, "F" * 64, "a" * 3_000, "%F0%9F%92%A3",
)  # fmt: skip


@pytest.mark.parametrize("road", ROADS, ids=range(len(ROADS)))
def test_odd_addresses_are_refused(
    api: Desk, phone: Phone, road: Callable[[str], str]
) -> None:
    for odd in ODD:
        sound(api.client.get(road(odd), headers=bearer(phone.token)))


@pytest.mark.parametrize(
    "header",
    ["", "Bearer", "Bearer ", "Bearer \xff", "Basic x", "Bearer " + "x" * 9_000],
    ids=range(6),
)
def test_odd_tokens_are_nobodys(api: Desk, phone: Phone, header: str) -> None:
    for path in ("/api/pull", "/api/bundle", "/api/photo/" + "0" * 64):
        answer = api.client.get(path, headers={"Authorization": header})
        sound(answer)
        assert answer.status_code == 401


def test_a_deep_a_wide_and_a_huge_body_are_refused(api: Desk, phone: Phone) -> None:
    bodies = (
        b"[" * 1_000_000,
        b'{"entries":' + b"[" * 200_000,
        b'{"entries":[' + b"{}," * 200_000 + b"{}]}",
        b'{"entries":[' + b'{"bytes":"' + b"x" * 10_000_000 + b'","sig":""}]}',
        b'{"entries":[],' + b"1" * 5_000_000,
        b'{"a":' + b"9" * 1_000_000 + b"}",
        b'{"entries":[]}' + b" " * 17_000_000,
    )
    for body in bodies:
        answer = api.client.post(
            "/api/push", data=body, content_type="application/json",
            headers=bearer(phone.token),
        )  # fmt: skip
        sound(answer)
        if answer.status_code == 200:
            assert answer.json["results"][0]["result"] == "unreadable"
