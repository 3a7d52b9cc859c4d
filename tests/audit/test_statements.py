"""One statement at the SQL prompt: the check finds it and says where."""

import re

import pytest

from fieldapp.config import DATABASE, SITE_KEY
from fieldapp.lookups.audit import audit
from fieldapp.signatures import kept_key
from fieldapp.store.copies import looked_at
from fieldapp.store.guards import guards
from tests.audit.tampering import Out, by_hand, check, put_back
from tests.people import Stage


def test_what_nobody_touched_holds(site: Stage, capsys: Out) -> None:
    status, told = check(site, capsys)
    assert status == 0
    assert "6 entries, 1 photos" in told
    assert "4 receipts" in told
    assert "every signature, link and hash holds" in told


SQL: dict[str, str] = {
    "UPDATE ledger SET sig = 'x' WHERE place = 4": "index 4: .*signature does not hold",
    "UPDATE ledger SET body = replace(body, '216', '217')": "index 4: the bytes",
    "UPDATE ledger SET head = id WHERE place = 4": "index 4: the head",
    "DELETE FROM ledger WHERE place = 4": "index 4: missing, found 5",
    "UPDATE ledger SET place = 40 WHERE place = 6": "index 6: missing, found 40",
    "UPDATE ledger SET place = 'x' WHERE place = 6": "ledger: an index that is no",
    "UPDATE ledger SET subject = 'J2' WHERE place = 4": "index 4: the column subject",
    "UPDATE ledger SET seq = 9 WHERE place = 4": "index 4: the column seq",
    "UPDATE ledger SET person = 'omar' WHERE place = 4": "index 4: the column person",
    "UPDATE ledger SET body = x'00' WHERE place = 4": "index 4: something that is not",
    "UPDATE ledger SET body = CAST(x'7bff7d' AS TEXT) WHERE place = 4":
        "index 4: cannot be read",
    "UPDATE ledger SET body = '{}' WHERE place = 4": "index 4: is no entry",
    "UPDATE meta SET value = 'fell' WHERE name = 'site'": "index 3: .*another site",
    "UPDATE receipts SET body = replace(body, ':4', ':5') WHERE number = 2":
        "receipt 2: the signature",
    "UPDATE receipts SET body = '' WHERE number = 2": "receipt 2: the signature",
    "UPDATE receipts SET device = 'own' WHERE number = 2": "receipt 2: device or time",
    "DELETE FROM receipts WHERE number = 2": "receipt 2: missing, found 3",
    "UPDATE bodies SET body = replace(body, 'Wipe', 'Wash')": "sheet .*the bytes",
    "UPDATE bodies SET body = body || ' ' WHERE kind = 'sheet'": "sheet .*canonical",
    "DELETE FROM bodies WHERE kind = 'sheet'": "index 1: the sheet .*missing",
    "DELETE FROM bodies WHERE kind = 'site'": "site: the document",
    "UPDATE photos SET width = 1": "photo .*type or size",
    "UPDATE photos SET body = x'ffd8'": "photo .*bytes are not those of the hash",
    "UPDATE photos SET body = 'text'": "photo .*no picture",
    "UPDATE meta SET value = '99' WHERE name = 'schema'": "database: has schema 99",
}  # fmt: skip


@pytest.mark.parametrize("statement", SQL)
def test_one_statement_is_found_and_named(
    site: Stage, statement: str, capsys: Out
) -> None:
    with by_hand(site.data / DATABASE) as hand:
        assert hand.execute(statement).rowcount >= 1
    put_back(site.data / DATABASE, guards())
    status, told = check(site, capsys)
    assert status == 1
    assert re.search(f"(?m)^WRONG {SQL[statement]}", told), told
    assert "NOT consistent" in told


def test_a_guard_that_was_dropped_is_named(site: Stage, capsys: Out) -> None:
    with by_hand(site.data / DATABASE):
        pass
    status, told = check(site, capsys)
    assert status == 1
    for guard in guards():
        assert f"the guard {guard} is gone" in told


@pytest.mark.parametrize("column", ["id", "body", "sig", "head"])
def test_a_flipped_bit_is_found_wherever_it_is(site: Stage, column: str) -> None:
    path = site.data / DATABASE
    key = kept_key(site.data / SITE_KEY)
    with by_hand(path) as hand:
        asked = f"SELECT CAST({column} AS BLOB) FROM ledger WHERE place = 4"
        (whole,) = hand.execute(asked).fetchone()
    missed = []
    for place in range(0, len(whole), 1 + len(whole) // 16):
        changed = bytearray(whole)
        changed[place] ^= 1 << place % 7
        with by_hand(path) as hand:
            change = f"UPDATE ledger SET {column} = CAST(? AS TEXT) WHERE place = 4"
            hand.execute(change, (bytes(changed),))
        with looked_at(path) as store:
            report = audit(store, office_key=key.id, office_public=key.public)
        if not any(each.where == "index 4" for each in report.faults):
            missed.append(place)
    assert missed == []
