"""Receipts: what the site's key says of a batch, and of the receipt before it."""

import hashlib
import json

from fieldapp.intake.batch import accept
from fieldapp.signatures import verify
from fieldapp.store.database import epoch
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Signed, ledger_head
from tests.people import NOON, Stage, wiped

GANG = Device(device="gang", revoked=False)


def test_the_receipt_names_what_is_in_the_ledger_and_is_signed(site: Stage) -> None:
    door, phone = site.wired.door, site.phone()
    wiped(phone)
    batch = [Signed(body="{}", sig=""), phone.outbox[-1]]
    accepted = accept(door, batch, pusher=GANG, now=NOON + 5)
    receipt = accepted.receipt
    assert verify(door.office.public, receipt.body.encode(), receipt.sig)
    head = ledger_head(door.store)
    assert json.loads(receipt.body) == {
        "format": 1, "site": "tarn", "epoch": epoch(door.store), "device": "gang",
        "number": 1, "at": NOON + 5, "head": head.head, "last": head.place,
        "entries": [{"id": accepted.results[1].id, "index": head.place}],
    }  # fmt: skip


def test_each_receipt_is_numbered_and_names_the_one_before(site: Stage) -> None:
    phone = site.phone()
    receipts = []
    for each in range(3):
        wiped(phone, temp=200 + each)
        accepted = accept(site.wired.door, [phone.outbox[-1]], pusher=GANG, now=NOON)
        receipts.append(accepted.receipt.body)
    told = [json.loads(each) for each in receipts]
    assert [each["number"] for each in told] == [1, 2, 3]
    hashes = [hashlib.sha256(each.encode()).hexdigest() for each in receipts]
    assert [each.get("before") for each in told] == [None, *hashes[:2]]
