"""Entries that cannot be read: each gets a reason and holds no other up."""

import json

import pytest

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.intake.batch import accept
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Signed, rows_of_subject
from tests.people import NOON, SUBJECT, Stage, wiped

GANG = Device(device="gang", revoked=False)


def broken(signed: Signed, name: str) -> str:
    known = json.loads(signed.body)
    return {
        "spaced": signed.body.replace(":", ": ", 1),
        "empty": "",
        "number": "1",
        "list": "[]",
        "null": "null",
        "half": signed.body[: len(signed.body) // 2],
        "repeated field": signed.body.replace("{", '{"at":1,', 1),
        "lone surrogate": signed.body.replace("wipe", "wi\ud800pe"),
        "escaped surrogate": signed.body.replace("wipe", "wi\\ud800pe"),
        "a fraction": signed.body.replace('"temp":215', '"temp":21.5'),
        "too large a number": signed.body.replace("215", str(2**53)),
        "deep": "[" * 100_000,
        "over size": json.dumps(known | {"about": {"text": "x" * 70_000}}),
        "unknown field": canonical(known | {"colour": "red"}).decode(),
        "seq zero": canonical(known | {"seq": 0}).decode(),
        "seq as text": canonical(known | {"seq": "1"}).decode(),
        "no step": canonical({k: v for k, v in known.items() if k != "step"}).decode(),
        "after unsorted": canonical(known | {"after": ["b" * 64, "a" * 64]}).decode(),
        "a path as person": canonical(known | {"person": "../x"}).decode(),
    }[name]


FAULTS = (
    "spaced", "empty", "number", "list", "null", "half", "repeated field",
    "lone surrogate", "escaped surrogate", "a fraction", "too large a number", "deep",
    "over size", "unknown field", "seq zero", "seq as text", "no step",
    "after unsorted", "a path as person",
)  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_what_cannot_be_read_gets_a_reason_and_holds_nothing_up(
    site: Stage, fault: str
) -> None:
    phone = site.phone()
    wiped(phone)
    good = phone.outbox[-1]
    bad = broken(good, fault)
    batch = [Signed(body=bad, sig="x"), good]
    found = accept(site.wired.door, batch, pusher=GANG, now=NOON).results
    assert [each.result for each in found] == ["unreadable", "stored"]
    assert found[0].reason
    assert len(found[0].reason) < 400
    if fault != "lone surrogate":
        assert found[0].id == sha256_hex(bad.encode())
    assert len(rows_of_subject(site.wired.door.store, SUBJECT)) == 1


@pytest.mark.parametrize("sig", ["\ud800", "\u00e9" * 86, "\0"])
def test_what_can_be_no_signature_is_set_apart_and_holds_nothing_up(
    site: Stage, sig: str
) -> None:
    phone = site.phone()
    for temp in (215, 216):
        wiped(phone, temp=temp)
    first, second = phone.outbox
    batch = [Signed(body=first.body, sig=sig), second]
    found = accept(site.wired.door, batch, pusher=GANG, now=NOON).results
    assert [each.result for each in found] == ["quarantined", "stored"]
    assert found[0].reason == "bad_signature"
    (again,) = accept(site.wired.door, [first], pusher=GANG, now=NOON).results
    assert again.result == "stored"
