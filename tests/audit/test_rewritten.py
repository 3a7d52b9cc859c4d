"""A ledger written anew, heads and all, by somebody who lacks only the keys."""

import json
import re
from collections.abc import Callable

import pytest

from fieldapp.config import DATABASE
from fieldapp.intake.office import end_key
from fieldapp.signatures import new_key
from fieldapp.store.database import connected
from fieldapp.store.guards import guards
from tests.audit.tampering import (
    Out,
    Row,
    by_hand,
    check,
    forged,
    put_back,
    rewrite,
    rows,
)
from tests.people import FOREMAN, NOON, Stage, wiped

FIRST = 3
"""How many rows stand before the second of the foreman's four entries."""


def removed(found: list[Row], _site: Stage) -> list[Row]:
    return found[:FIRST] + found[FIRST + 1 :]


def swapped(found: list[Row], _site: Stage) -> list[Row]:
    return [*found[:FIRST], found[FIRST + 1], found[FIRST], *found[FIRST + 2 :]]


def cut_short(found: list[Row], _site: Stage) -> list[Row]:
    return found[:-1]


def repeated_inside(found: list[Row], site: Stage) -> list[Row]:
    key = site.world.phones["gang"].key_of(FOREMAN)
    return [*found[:FIRST], forged(found[FIRST], key, zone=60), *found[FIRST:]]


def by_a_stranger(found: list[Row], _site: Stage) -> list[Row]:
    return [*found, forged(found[-1], zone=60)]


def by_a_strangers_own_key(found: list[Row], _site: Stage) -> list[Row]:
    key = new_key()
    return [*found, forged(found[-1], key, zone=60, key=key.id)]


def as_the_office(found: list[Row], _site: Stage) -> list[Row]:
    """Enrol a stranger with a signature that is not the office's."""
    key = new_key()
    about = json.loads(found[1]["body"])["about"]
    about |= {"key": key.id, "public": key.public}
    return [*found, forged(found[1], key, about=about)]


def on_another_device(found: list[Row], site: Stage) -> list[Row]:
    key = site.world.phones["gang"].key_of(FOREMAN)
    row = forged(found[-1], key, device="own", seq=1)
    return [*found, row | {"device": "own", "seq": 1}]


def before_its_enrolment(found: list[Row], _site: Stage) -> list[Row]:
    return [found[0], found[2], found[1], *found[3:]]


def without_its_enrolment(found: list[Row], _site: Stage) -> list[Row]:
    return [found[0], *found[2:]]


REWRITTEN: dict[Callable[[list[Row], Stage], list[Row]], str] = {
    removed: "receipt 2: index 4: its entry is gone",
    swapped: "receipt 2: index 4: its entry is at index 5",
    cut_short: "receipt 4: index 6: its entry is gone",
    repeated_inside: "receipt 2: index 4: its entry is at index 5",
    by_a_stranger: "index 7: .*signature does not hold",
    by_a_strangers_own_key: "index 7: .*its key is not one of ida's",
    as_the_office: "index 7: .*(signature does not hold|its key is not)",
    on_another_device: "index 7: .*its key belongs to the device gang",
    before_its_enrolment: "index 2: .*its key is not one of ida's",
    without_its_enrolment: "index 2: .*its key is not one of ida's",
}


@pytest.mark.parametrize("change", REWRITTEN, ids=lambda each: each.__name__)
def test_a_ledger_written_anew_with_all_its_heads_is_found(
    site: Stage, change: Callable[[list[Row], Stage], list[Row]], capsys: Out
) -> None:
    with by_hand(site.data / DATABASE) as hand:
        rewrite(hand, change(rows(hand), site))
    put_back(site.data / DATABASE, guards())
    status, told = check(site, capsys)
    assert status == 1
    assert re.search(f"(?m)^WRONG {REWRITTEN[change]}", told), told


def test_an_entry_taken_out_with_its_receipt_is_missed_by_the_next_receipt(
    site: Stage, capsys: Out
) -> None:
    with by_hand(site.data / DATABASE) as hand:
        rewrite(hand, removed(rows(hand), site))
        hand.execute("DELETE FROM receipts WHERE number = 2")
        hand.execute("UPDATE receipts SET number = number - 1 WHERE number > 2")
    status, told = check(site, capsys)
    assert status == 1
    assert "receipt 2: was made as receipt 3" in told
    assert "receipt 2: does not follow from the receipt before it" in told
    assert "note: device gang: number 2 is missing" in told


def test_what_a_revoked_key_signed_afterwards_is_found(
    fresh: Stage, capsys: Out
) -> None:
    phone = fresh.world.phones["gang"]
    key = phone.key_of(FOREMAN)
    door = fresh.wired.door
    with connected(door.store):
        end_key(door, person=FOREMAN, key=key.id, reason="lost", revoked=True, now=NOON)
    assert check(fresh, capsys)[0] == 0
    with by_hand(fresh.data / DATABASE) as hand:
        found = rows(hand)
        rewrite(hand, [*found, forged(found[5], key, zone=60) | {"seq": 4}])
    put_back(fresh.data / DATABASE, guards())
    status, told = check(fresh, capsys)
    assert status == 1
    assert re.search("WRONG index 8: .*its key was revoked at index 7", told), told


def test_an_entry_still_on_its_way_is_a_note_and_no_fault(
    fresh: Stage, capsys: Out
) -> None:
    phone = fresh.world.phones["gang"]
    wiped(phone, temp=300)
    lost = phone.outbox.pop()
    wiped(phone, temp=301)
    with connected(fresh.wired.door.store):
        fresh.world.push(phone, NOON)
    status, told = check(fresh, capsys)
    assert status == 0
    assert "note: device gang: number 5 is missing" in told
    assert "note: ledger: 1 entries that others name have not arrived" in told
    phone.outbox.append(lost)
    with connected(fresh.wired.door.store):
        fresh.world.push(phone, NOON)
    assert "note" not in check(fresh, capsys)[1]


def test_a_key_its_person_added_holds_and_one_a_stranger_added_does_not(
    fresh: Stage, capsys: Out
) -> None:
    phone = fresh.world.phones["gang"]
    with connected(fresh.wired.door.store):
        own = fresh.world.phone("own", now=NOON)
        key = own.key_of(FOREMAN)
        about = {"key": key.id, "public": key.public, "device": "own"}
        phone.write("key_added", person=FOREMAN, now=NOON, about=about)
        fresh.world.push(phone, NOON)
        wiped(own)
        fresh.world.push(own, NOON)
    assert check(fresh, capsys)[0] == 0
    with by_hand(fresh.data / DATABASE) as hand:
        found = rows(hand)
        stranger = new_key()
        added = about | {"key": stranger.id, "public": stranger.public}
        forged_key = forged(found[6], stranger, about=added, seq=6, prev=found[6]["id"])
        theirs = forged(found[7], stranger, key=stranger.id, seq=2, prev=found[7]["id"])
        rewrite(hand, [*found, forged_key | {"seq": 6}, theirs | {"seq": 2}])
    put_back(fresh.data / DATABASE, guards())
    status, told = check(fresh, capsys)
    assert status == 1
    assert "WRONG index 9: key_added by ida on gang: the signature" in told
    assert "WRONG index 10: done by ida on own: its key is not one of ida's" in told
