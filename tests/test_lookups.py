"""The door out: the same answer from the same entries, cached or not."""

import random
import threading
from pathlib import Path
from typing import Any

from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.intake.batch import accept
from fieldapp.lookups import (
    folded,
    folded_from,
    overview,
    people_of_plan,
    person_of_plan,
    sheet_of,
    standing_for,
    subjects_issued,
)
from fieldapp.lookups.reading import others_of
from fieldapp.play.phone import Phone
from fieldapp.store.database import connected, writing
from fieldapp.store.devices import Device
from fieldapp.store.ledger import START_HEAD, next_head, rows_after
from fieldapp.store.struck import strike
from tests.people import (
    FOREMAN,
    INSPECTOR,
    NOON,
    SUBJECT,
    Stage,
    put_in_force,
    sheet,
    stage,
    wiped,
)

WIPED = {"id": "wiped", "title": "Wiped", "step": "wipe",
         "when": {"word": "reached", "step": "wipe"}}  # fmt: skip


def chained(site: Stage) -> tuple[dict[str, Any], dict[str, Any]]:
    """Issue two joints of which the second waits for the first."""
    first = sheet(milestones=[WIPED])
    wait = [{"subject": SUBJECT, "milestone": "wiped", "before": ["go"]}]
    second = sheet(subject="J2", title="Joint 2", prerequisites=wait)
    put_in_force(site.wired.door, first, second)
    return first, second


def test_a_sheet_waits_for_those_its_prerequisites_and_conditions_name(
    site: Stage,
) -> None:
    elsewhere = {"word": "reached", "step": "wipe", "subject": "J2"}
    named = {"word": "any", "of": [{"word": "all", "of": [elsewhere]}]}
    _, second = chained(site)
    third = second | {
        "subject": "J3",
        "title": 'says "subject":"J9","word":"reached"',
        "conditions": {"other": named},
    }
    put_in_force(site.wired.door, third)
    found = {each: sheet_of(site.wired.reader, each) for each in (SUBJECT, "J2", "J3")}
    told = {name: others_of(site.wired.reader, s) for name, s in found.items() if s}
    assert told == {SUBJECT: (), "J2": (SUBJECT,), "J3": (SUBJECT, "J2")}


def record(site: Stage, phone: Phone, whole: dict[str, Any], **fields: Any) -> str:
    entry = phone.write(
        "done", person=FOREMAN, now=NOON, subject=whole["subject"],
        sheet=fingerprint(whole), step="wipe", values={"temp": 215}, **fields,
    )  # fmt: skip
    site.world.sync(phone, NOON)
    return entry.id


def test_a_joint_knows_the_milestones_of_the_one_it_waits_for(site: Stage) -> None:
    first, second = chained(site)
    phone = site.phone("gang", FOREMAN, INSPECTOR)
    record(site, phone, second)
    reader = site.wired.reader
    before = folded(reader, "J2", NOON)
    assert before is not None
    assert before.state["points"]["go"]["status"] == "waiting"
    entry = record(site, phone, first)
    standing = standing_for(reader, "J2", NOON)
    assert standing["subjects"][SUBJECT]["milestones"]["wiped"] == entry
    after = folded(reader, "J2", NOON)
    assert after is not None
    assert after.state["points"]["go"]["status"] == "ready"


def test_two_joints_that_wait_for_each_other_can_still_be_asked(site: Stage) -> None:
    sheets = [
        sheet(subject=one, milestones=[WIPED], prerequisites=[
            {"subject": other, "milestone": "wiped", "before": ["go"]}])
        for one, other in (("J1", "J2"), ("J2", "J1"))
    ]  # fmt: skip
    put_in_force(site.wired.door, *sheets)
    assert len(overview(site.wired.reader, NOON)) == 2


def test_dropping_everything_cached_changes_no_answer(site: Stage) -> None:
    first, second = chained(site)
    phone = site.phone("gang", FOREMAN, INSPECTOR)
    record(site, phone, first)
    record(site, phone, second)
    reader = site.wired.reader
    before = [each.state for each in overview(reader, NOON)]
    reader.store.cache.clear()
    after = [each.state for each in overview(reader, NOON)]
    assert [canonical(each) for each in after] == [canonical(each) for each in before]


def test_the_order_of_arrival_changes_nothing(tmp_path: Path) -> None:
    site = stage(tmp_path / "one")
    with connected(site.wired.door.store):
        phone = site.phone("gang", FOREMAN, INSPECTOR)
        for each in range(12):
            wiped(phone, now=NOON + each, temp=100 + each)
        batch = list(phone.outbox)
        random.Random(7).shuffle(batch)
        gang = Device(device="gang", revoked=False)
        for signed in batch:
            accept(site.wired.door, [signed], pusher=gang, now=NOON)
        found = folded(site.wired.reader, SUBJECT, NOON + 99)
        straight = folded_from(site.wired.reader, SUBJECT, NOON + 99, phone.of_subject)
    assert found is not None
    assert straight is not None
    assert canonical(found.state) == canonical(straight.state)


def test_an_unknown_subject_has_no_sheet_and_no_state(site: Stage) -> None:
    assert subjects_issued(site.wired.reader) == [SUBJECT]
    assert sheet_of(site.wired.reader, "J9") is None
    assert folded(site.wired.reader, "J9", NOON) is None


def test_people_of_the_plan_are_known_before_anybody_is_enrolled(site: Stage) -> None:
    store = site.wired.door.store
    assert [each["id"] for each in people_of_plan(store)] == [FOREMAN, INSPECTOR]
    assert person_of_plan(store, "nobody") is None


def test_a_sheet_signed_by_somebody_else_is_not_in_force(site: Stage) -> None:
    phone = site.phone()
    about = {"subject": SUBJECT, "sheet": "ab" * 32}
    phone.write("sheet_issued", person=FOREMAN, now=NOON, about=about)
    site.world.sync(phone, NOON)
    found = sheet_of(site.wired.reader, SUBJECT)
    assert found is not None
    assert found.hash == fingerprint(sheet())


def test_many_phones_at_once_leave_no_gap_and_lose_nothing(tmp_path: Path) -> None:
    site = stage(tmp_path)
    store = site.wired.door.store
    phones = [site.phone(f"phone-{number}") for number in range(6)]
    for phone in phones:
        for each in range(20):
            wiped(phone, now=NOON + each, temp=100 + each)

    def push(phone: Phone) -> None:
        device = Device(device=phone.device, revoked=False)
        for signed in phone.outbox:
            accept(site.wired.door, [signed], pusher=device, now=NOON)

    threads = [threading.Thread(target=push, args=(phone,)) for phone in phones]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with connected(store):
        rows = rows_after(store, 0, 1_000)
    assert [row.place for row in rows] == list(range(1, 1 + 1 + 6 + 120))
    head = START_HEAD
    for row in rows:
        head = next_head(head, row.id)
        assert row.head == head


def test_a_subject_of_which_all_is_struck_reads_as_one_not_begun(site: Stage) -> None:
    chained(site)
    phone = site.phone("gang")
    wiped(phone)
    door, reader = site.wired.door, site.wired.reader
    with connected(door.store):
        accept(door, phone.outbox, pusher=Device(device="gang", revoked=False), now=9)
        whole = overview(reader, NOON)
        with writing(door.store):
            strike(door.store, frozenset(e.id for e in whole[0].entries))
        first, second = overview(reader, NOON)
        assert (first.entries, first.state["steps"]["wipe"]["status"]) == ((), "open")
        assert not second.standing["subjects"][SUBJECT]["milestones"]
        with writing(door.store):
            strike(door.store, frozenset())
        assert overview(reader, NOON)[0].entries == whole[0].entries != ()
