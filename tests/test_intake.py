"""The door in: evidence is never refused, and an answer means it is on disk."""

import json
from typing import Any

import pytest

from fieldapp.core.canonical import canonical
from fieldapp.core.roster import find_key
from fieldapp.intake import batch as door_module
from fieldapp.intake.batch import QuotaReached, Result, accept
from fieldapp.intake.door import OFFICE
from fieldapp.intake.office import end_key
from fieldapp.lookups import roster_of
from fieldapp.play.phone import Phone
from fieldapp.signatures import new_key, sign, verify
from fieldapp.store.database import StoreUnavailable
from fieldapp.store.devices import Device
from fieldapp.store.ledger import (
    Signed,
    all_apart,
    ledger_head,
    rows_after,
    rows_of_subject,
)
from tests.people import (
    FOREMAN,
    INSPECTOR,
    NOON,
    SUBJECT,
    Stage,
    put_in_force,
    sheet,
    wiped,
)

GANG = Device(device="gang", revoked=False)


def push(site: Stage, *signed: Signed, pusher: Device = GANG) -> tuple[Result, ...]:
    return accept(site.wired.door, signed, pusher=pusher, now=NOON).results


def last(phone: Phone) -> Signed:
    return phone.outbox[-1]


def document(signed: Signed) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(signed.body)
    return found


def count(site: Stage) -> int:
    return len(rows_of_subject(site.wired.door.store, SUBJECT))


def test_a_signed_entry_is_stored_and_gets_the_next_index(site: Stage) -> None:
    phone = site.phone()
    before = ledger_head(site.wired.door.store).place
    entry = wiped(phone)
    assert push(site, last(phone)) == (
        Result(result="stored", id=entry.id, index=before + 1),
    )


def test_the_same_entry_again_is_a_duplicate_at_its_index(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    (first,) = push(site, last(phone))
    again = push(site, last(phone), last(phone))
    assert [each.result for each in again] == ["duplicate", "duplicate"]
    assert [each.index for each in again] == [first.index, first.index]
    assert count(site) == 1


def test_an_entry_twice_in_one_batch_is_stored_once(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    found = push(site, last(phone), last(phone))
    assert [each.result for each in found] == ["stored", "duplicate"]


def test_other_bytes_under_the_same_number_are_stored_as_a_fork(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    signed = last(phone)
    push(site, signed)
    other = phone.sign(document(signed) | {"values": {"temp": 60}})
    (found,) = push(site, other)
    assert found.result == "fork"
    assert count(site) == 2


def test_a_bad_signature_is_set_apart(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    forged = Signed(body=last(phone).body, sig=sign(new_key(), b"other"))
    (found,) = push(site, forged)
    assert (found.result, found.reason) == ("quarantined", "bad_signature")
    assert count(site) == 0
    assert push(site, last(phone))[0].result == "stored"


def test_an_unknown_key_waits_apart_until_it_is_enrolled(site: Stage) -> None:
    site.phone()
    stranger = site.world.phone("own", now=NOON)
    entry = wiped(stranger)
    (found,) = push(site, last(stranger))
    assert (found.result, found.reason) == ("quarantined", "unknown_key")
    site.world.enrol(stranger, FOREMAN, NOON)
    assert [row.id for row in rows_of_subject(site.wired.door.store, SUBJECT)] == [
        entry.id
    ]
    assert all_apart(site.wired.door.store) == []
    assert push(site, last(stranger))[0].result == "duplicate"


def test_a_key_of_another_device_is_set_apart(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    moved = phone.sign(document(last(phone)) | {"device": "other"})
    (found,) = push(site, moved)
    assert (found.result, found.reason) == ("quarantined", "other_device")


def test_a_key_of_another_person_is_set_apart(site: Stage) -> None:
    phone = site.phone("gang", FOREMAN, INSPECTOR)
    wiped(phone)
    body = canonical(document(last(phone)) | {"person": INSPECTOR})
    sig = sign(phone.key_of(FOREMAN), body)
    (found,) = push(site, Signed(body=body.decode(), sig=sig))
    assert (found.result, found.reason) == ("quarantined", "unknown_key")


def test_an_entry_of_another_site_is_set_apart(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    moved = phone.sign(document(last(phone)) | {"site": "elsewhere"})
    assert push(site, moved)[0].reason == "other_site"


def test_nobody_else_signs_as_the_office(site: Stage) -> None:
    phone = site.phone()
    wiped(phone)
    claimed = document(last(phone)) | {"person": OFFICE, "device": OFFICE}
    body = canonical(claimed)
    sig = sign(phone.key_of(FOREMAN), body)
    (found,) = push(site, Signed(body=body.decode(), sig=sig))
    assert (found.result, found.reason) == ("quarantined", "unknown_key")


def test_an_enrolment_signed_on_a_phone_enrols_nobody(site: Stage) -> None:
    phone = site.phone()
    key = new_key()
    about = {
        "person": INSPECTOR, "name": "Omar Beck", "roles": ["inspector"],
        "organisation": "owner", "key": key.id, "public": key.public, "device": "own",
    }  # fmt: skip
    phone.write("enrolled", person=FOREMAN, now=NOON, about=about)
    assert push(site, last(phone))[0].result == "stored"
    assert INSPECTOR not in roster_of(site.wired.reader)


def test_a_kind_not_known_here_is_kept_and_carried(site: Stage) -> None:
    phone = site.phone()
    phone.write("hovered", person=FOREMAN, now=NOON, subject=SUBJECT)
    assert push(site, last(phone))[0].result == "stored"
    assert rows_of_subject(site.wired.door.store, SUBJECT)[0].body == last(phone).body


def test_when_the_disk_fails_nothing_is_acknowledged(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = site.phone()
    wiped(phone)
    store = site.wired.door.store
    pages = store.database.execute_sql("PRAGMA page_count").fetchone()[0]
    store.database.execute_sql(f"PRAGMA max_page_count = {pages}")
    many = [last(phone)]
    for step in range(30):
        wiped(phone, now=NOON + step, temp=100 + step)
        many.append(last(phone))
    with pytest.raises(StoreUnavailable):
        push(site, *many)
    assert count(site) == 0
    store.database.execute_sql(f"PRAGMA max_page_count = {pages + 1_000}")
    assert {each.result for each in push(site, *many)} == {"stored"}


def test_a_failed_batch_leaves_no_wrong_roster_behind(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = site.world.phone("own", now=NOON)

    def fail(*_args: object, **_kwargs: object) -> None:
        raise StoreUnavailable("disk")

    with monkeypatch.context() as patched:
        patched.setattr("fieldapp.intake.office.give_token", fail)
        with pytest.raises(StoreUnavailable):
            site.world.enrol(phone, FOREMAN, NOON)
    assert FOREMAN not in roster_of(site.wired.reader)
    site.world.enrol(phone, FOREMAN, NOON)
    assert FOREMAN in roster_of(site.wired.reader)


def test_a_revoked_device_may_still_bring_entries_which_are_set_apart(
    site: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = site.phone()
    wiped(phone)
    gone = Device(device="gang", revoked=True)
    (found,) = push(site, last(phone), pusher=gone)
    assert (found.result, found.reason) == ("quarantined", "revoked_device")
    monkeypatch.setattr(door_module, "REVOKED_QUOTA", 1)
    with pytest.raises(QuotaReached):
        push(site, last(phone), pusher=gone)


def test_entries_of_a_retired_key_stand_and_of_a_revoked_key_are_set_apart(
    site: Stage,
) -> None:
    phone = site.phone()
    key = phone.key_of(FOREMAN).id
    wiped(phone)
    end_key(
        site.wired.door, person=FOREMAN, key=key, reason="new PIN", revoked=False,
        now=NOON,
    )  # fmt: skip
    assert push(site, last(phone))[0].result == "stored"
    wiped(phone, temp=220)
    end_key(
        site.wired.door, person=FOREMAN, key=key, reason="lost", revoked=True, now=NOON
    )
    (found,) = push(site, last(phone))
    assert (found.result, found.reason) == ("quarantined", "revoked_key")


def test_the_office_signs_its_entries_in_one_chain(site: Stage) -> None:
    door = site.wired.door
    site.phone("gang", FOREMAN, INSPECTOR)
    rows = rows_after(door.store, 0, 10)
    entries = [json.loads(row.body) for row in rows]
    assert [each["kind"] for each in entries] == [
        "sheet_issued", "enrolled", "enrolled",
    ]  # fmt: skip
    assert [each["seq"] for each in entries] == [1, 2, 3]
    assert [each.get("prev") for each in entries] == [None, rows[0].id, rows[1].id]
    assert all(verify(door.office.public, r.body.encode(), r.sig) for r in rows)
    people = roster_of(site.wired.reader)
    assert people[INSPECTOR]["roles"] == ["inspector"]
    key = site.world.phones["gang"].key_of(INSPECTOR)
    found = find_key(people, INSPECTOR, key.id)
    assert found is not None
    assert found["public"] == key.public


def test_loading_the_same_files_issues_nothing_and_changed_ones_a_revision(
    site: Stage,
) -> None:
    door = site.wired.door
    before = ledger_head(door.store)
    assert put_in_force(door, sheet()) == []
    assert ledger_head(door.store) == before
    assert put_in_force(door, sheet(revision=2)) == [SUBJECT]
