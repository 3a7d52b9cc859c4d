"""Lost phones and further keys: judged by what the ledger held, never by a clock."""

from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.intake.batch import Result, accept
from fieldapp.intake.office import end_key
from fieldapp.lookups import roster_of
from fieldapp.lookups.audit import audit
from fieldapp.lookups.audit.report import grave
from fieldapp.play.phone import Phone
from fieldapp.records.gather import print_record
from fieldapp.records.verify import verify_record
from fieldapp.signatures import SigningKey, new_key
from fieldapp.store.devices import Device
from fieldapp.store.ledger import Signed, all_apart
from tests.desk import PAPER
from tests.people import FOREMAN, INSPECTOR, NOON, SUBJECT, Stage, wiped

OTHER = Device(device="other", revoked=False)
LATER = NOON + 3_600_000


def push(site: Stage, *signed: Signed, pusher: Device = OTHER) -> list[Result]:
    return list(accept(site.wired.door, signed, pusher=pusher, now=LATER).results)


def reasons(results: list[Result]) -> list[str | None]:
    return [each.reason or each.result for each in results]


def lose(site: Stage, phone: Phone, person: str = FOREMAN) -> None:
    end_key(
        site.wired.door, person=person, key=phone.key_of(person).id,
        reason="lost", revoked=True, now=LATER,
    )  # fmt: skip


def noted(phone: Phone, person: str, *seen: Entry) -> Entry:
    """Have somebody write a note on a phone that has seen these entries."""
    for entry in seen:
        phone.entries[entry.id] = entry
    return phone.write(
        "note", person=person, now=NOON, subject=SUBJECT, about={"text": "seen"}
    )


def added(phone: Phone, key: SigningKey, device: str, **changes: Any) -> Signed:
    """Have the foreman add a further key with this phone's."""
    about = {"key": key.id, "public": key.public, "device": device}
    phone.write("key_added", person=FOREMAN, now=NOON, about=about, **changes)
    return phone.outbox[-1]


def test_what_another_phone_named_before_the_loss_stands_and_later_signatures_do_not(
    site: Stage,
) -> None:
    lost, other = site.phone("gang"), site.phone("other", INSPECTOR)
    first = wiped(lost)
    second = wiped(lost, temp=220)
    third = wiped(lost, temp=225)
    noted(other, INSPECTOR, first, second)
    # The other phone's note reaches the office first; what it names comes by hand.
    assert reasons(push(site, other.outbox[-1])) == ["stored"]
    lose(site, lost)
    found = push(site, *lost.outbox)
    # The second is named, the first stands behind it, the third nobody saw in time.
    assert reasons(found) == ["stored", "stored", "revoked_key"]
    assert [each.id for each in all_apart(site.wired.door.store)] == [third.id]


def test_a_name_that_came_after_the_loss_proves_nothing(site: Stage) -> None:
    lost, other = site.phone("gang"), site.phone("other", INSPECTOR)
    lose(site, lost)
    # The phone that saw it did not know of the loss, and claims an early time.
    noted(other, INSPECTOR, wiped(lost))
    found = push(site, other.outbox[-1], lost.outbox[-1])
    assert reasons(found) == ["stored", "revoked_key"]


def test_a_lost_phone_that_comes_back_brings_what_was_seen_before_the_loss(
    site: Stage,
) -> None:
    lost, other = site.phone("gang"), site.phone("other", INSPECTOR)
    first = wiped(lost)
    wiped(lost, temp=220)
    noted(other, INSPECTOR, first)
    push(site, other.outbox[-1])
    lose(site, lost)
    gone = Device(device="gang", revoked=True)
    found = push(site, *lost.outbox, pusher=gone)
    assert reasons(found) == ["stored", "revoked_device"]


def test_what_waits_apart_is_let_in_when_its_witness_comes(site: Stage) -> None:
    lost, other = site.phone("gang"), site.phone("other", INSPECTOR)
    first, second = wiped(lost), wiped(lost, temp=220)
    noted(other, INSPECTOR, first, second)
    push(site, other.outbox[-1])
    lose(site, lost)
    # The first comes alone: nothing the office has leads to it yet.
    assert reasons(push(site, lost.outbox[0])) == ["revoked_key"]
    assert reasons(push(site, lost.outbox[1])) == ["stored"]
    site.phone("third", INSPECTOR)
    assert all_apart(site.wired.door.store) == []
    door = site.wired.door
    report = audit(
        door.store, office_key=door.office.id, office_public=door.office.public
    )
    assert not grave(report.findings)


def test_a_person_adds_a_key_which_signs_from_then_on(site: Stage) -> None:
    own, gang = site.phone("own"), site.phone("gang", INSPECTOR)
    key = gang.keys[FOREMAN] = new_key()
    entry = wiped(gang)
    assert reasons(push(site, gang.outbox[-1])) == ["unknown_key"]
    assert reasons(push(site, added(own, key, "gang"))) == ["stored"]
    # What waited for the key has been judged again.
    assert reasons(push(site, gang.outbox[-1])) == ["duplicate"]
    keys = roster_of(site.wired.reader)[FOREMAN]["keys"]
    assert keys[key.id]["by"] == own.key_of(FOREMAN).id
    assert keys[key.id]["device"] == "gang" == entry.device


@PAPER
def test_a_record_proves_what_was_signed_with_an_added_key(site: Stage) -> None:
    own, gang = site.phone("own"), site.phone("gang", INSPECTOR)
    gang.keys[FOREMAN] = new_key()
    wiped(gang)
    push(site, added(own, gang.keys[FOREMAN], "gang"), gang.outbox[-1])
    pdf = print_record(site.wired.reader, SUBJECT, LATER)
    assert pdf is not None
    found = verify_record(pdf, site.wired.door.office.id)
    assert (found.result, found.entries) == ("authentic", 1), found.text


def test_a_key_is_added_by_pin_and_by_its_person_alone(site: Stage) -> None:
    own, gang = site.phone("own"), site.phone("gang", INSPECTOR)
    key = new_key()
    push(site, added(own, key, "gang", unlocked="shift"))
    assert key.id not in roster_of(site.wired.reader)[FOREMAN]["keys"]
    theirs = gang.key_of(INSPECTOR)
    push(site, added(own, theirs, "gang"))
    assert theirs.id not in roster_of(site.wired.reader)[FOREMAN]["keys"]


def test_a_key_added_with_a_lost_phone_after_the_loss_does_not_count(
    site: Stage,
) -> None:
    own = site.phone("own")
    lose(site, own)
    key = new_key()
    assert reasons(push(site, added(own, key, "thief"))) == ["revoked_key"]
    assert key.id not in roster_of(site.wired.reader)[FOREMAN]["keys"]
