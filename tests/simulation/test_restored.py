"""An office that lost its latest pages: whoever still has them brings them again.

Each test is one way found by the machine in which an acknowledged entry was lost.
The phones are the program's own modules; the office is the real server.
"""

import json
from random import Random

import pytest

from fieldapp.cli import main
from fieldapp.clock import utc_now_ms
from tests.javascript import JavaScript
from tests.people import FOREMAN, NOON, SITE
from tests.simulation.books import Books
from tests.simulation.house import House
from tests.simulation.road import Lost, Refused, Road
from tests.simulation.shell_phone import ShellPhone
from tests.sync.stranger import Stranger, sha256

SUBJECT = "J1"


def phone_of(house: House, engine: JavaScript, name: str) -> ShellPhone:
    rng = Random(name)
    road = Road(port=house.office.port, rng=rng)
    phone = ShellPhone(
        name=name, road=road, engine=engine, address=house.office.url, rng=rng
    )
    phone.switch_on()
    phone.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    phone.sync()
    return phone


def note(phone: ShellPhone, text: str) -> str:
    return phone.record(
        "note", person=FOREMAN, now=NOON, subject=SUBJECT, about={"text": text}
    )


def put_back(house: House, *, told: bool) -> None:
    house.office.kill()
    house.bring_back(house.backups[0], told=told)
    house.office.start()


def back_up(house: House) -> None:
    house.office.kill()
    house.back_up()
    house.office.start()


def test_an_answer_not_yet_seen_in_a_pull_is_held_against_the_next(
    house: House, javascript: JavaScript
) -> None:
    """Cursor behind the backup, answer ahead of it: the chain alone looks sound."""
    mine = phone_of(house, javascript, "mine")
    others = phone_of(house, javascript, "others")
    back_up(house)
    note(others, "goes down with the old file")
    others.sync()
    told = note(mine, "acknowledged, never pulled")
    with pytest.raises(Lost):
        mine.sync_until_answered()
    assert mine.waiting() == set()
    assert told in house.books().ids
    put_back(house, told=False)
    later = phone_of(house, javascript, "later")
    for number in range(5):
        note(later, f"after the old file came back {number}")
    later.sync()
    mine.sync()
    mine.sync()
    assert told in house.books().ids


@pytest.mark.parametrize("told", [True, False], ids=["new epoch", "in silence"])
def test_what_the_office_lost_is_offered_again(
    house: House, javascript: JavaScript, *, told: bool
) -> None:
    mine = phone_of(house, javascript, "mine")
    back_up(house)
    made = {note(mine, f"{number}") for number in range(3)}
    mine.sync()
    put_back(house, told=told)
    assert made.isdisjoint(house.books().ids)
    mine.sync()
    mine.sync()
    assert made <= house.books().ids
    if not told:
        assert mine.alarms


def test_a_phone_brings_all_it_has_once_it_is_told_of_its_revocation(
    house: House, javascript: JavaScript
) -> None:
    """The file went back in silence before it was revoked: nothing else tells it."""
    lost = phone_of(house, javascript, "lost")
    back_up(house)
    made = note(lost, "acknowledged, then gone with the file")
    lost.sync()
    put_back(house, told=False)
    house.revoke(lost.device, lost.key_ids(), utc_now_ms())
    with pytest.raises(Refused):
        lost.sync()
    assert made in house.books().apart


def test_a_revoked_phone_brings_its_evidence_again_after_a_restore(
    house: House, javascript: JavaScript
) -> None:
    lost = phone_of(house, javascript, "lost")
    house.revoke(lost.device, lost.key_ids(), utc_now_ms())
    back_up(house)
    made = note(lost, "made after it was lost")
    with pytest.raises(Refused):
        lost.sync()
    assert made in house.books().apart
    put_back(house, told=True)
    assert made not in house.books().apart
    for _ in range(2):
        with pytest.raises(Refused):
            lost.sync()
    assert made in house.books().apart


def offer(phone: ShellPhone, books: Books, *ids: str) -> None:
    """Bring entries of old books to the office first of all."""
    rows = {row[1]: {"bytes": row[2], "sig": row[3]} for row in books.rows}
    phone.road.ask(
        "/api/push", {"entries": [rows[each] for each in ids]}, phone.token()
    )


@pytest.mark.parametrize("first", ["revocation", "entries"])
def test_a_lost_phone_is_judged_alike_whatever_a_restored_office_hears_first(
    house: House, javascript: JavaScript, first: str
) -> None:
    """By index the one order let late entries in, the other kept early ones out."""
    lost = phone_of(house, javascript, "lost")
    other = phone_of(house, javascript, "other")
    back_up(house)
    early = {note(lost, f"in time {number}") for number in range(2)}
    lost.sync()
    other.sync()
    house.revoke(lost.device, lost.key_ids(), utc_now_ms())
    other.sync()
    late = note(lost, "too late")
    with pytest.raises(Refused):
        lost.sync()
    before = house.books()
    assert before.apart == {late}
    # A restore by the program keeps the lost phone out; an old file knows of no loss.
    put_back(house, told=first == "revocation")
    if first == "revocation":
        offer(other, before, revocation_in(before))
    else:
        lost.sync()
        assert late in house.books().ids
    for phone in (other, other):
        phone.sync()
    with pytest.raises(Refused):
        lost.sync()
    assert early <= house.books().ids
    fresh = phone_of(house, javascript, "fresh")
    for phone in (other, fresh):
        phone.sync()
        believed = {entry.id for entry in phone.entries_of(SUBJECT)}
        assert early <= believed
        assert late not in believed
    assert house.believed(SUBJECT) == early
    assert check(house) == 0


def test_what_a_thiefs_further_key_signed_falls_with_it_on_office_and_phone(
    house: House, javascript: JavaScript
) -> None:
    """Added with the PIN while the office that went back knew of no loss."""
    lost, other, third = (
        phone_of(house, javascript, name) for name in ("lost", "other", "third")
    )
    back_up(house)
    house.revoke(lost.device, lost.key_ids(), utc_now_ms())
    other.sync()
    put_back(house, told=False)
    thief = Stranger("thief")
    about = {"key": thief.key, "public": thief.public, "device": thief.device}
    added = lost.record("key_added", person=FOREMAN, now=NOON, about=about)
    lost.sync()
    signed = thief.note(SITE, FOREMAN, SUBJECT, "not the foreman's")
    third.road.ask("/api/push", {"entries": [signed]}, third.token())
    stolen = sha256(signed["bytes"])
    third.sync()
    assert {entry.id for entry in third.entries_of(SUBJECT)} == {stolen}
    assert house.believed(SUBJECT) == {stolen}
    for phone in (other, other, third, third):
        phone.sync()
    assert third.entries_of(SUBJECT) == other.entries_of(SUBJECT) == []
    assert third.doubted() == {added: "revoked_key", stolen: "unknown_key"}
    assert house.believed(SUBJECT) == set()
    assert check(house) == 0


def test_a_phone_enrolled_since_the_backup_heals_with_a_new_code(
    house: House, javascript: JavaScript
) -> None:
    """The office knows neither phone nor key; the phone brings the enrolment back."""
    phone_of(house, javascript, "old")
    back_up(house)
    young = phone_of(house, javascript, "young")
    made = note(young, "answered by the office that was lost")
    young.sync()
    put_back(house, told=False)
    with pytest.raises(Refused):
        young.sync()
    assert made not in house.books().ids
    young.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    for _ in range(3):
        young.sync()
    assert made in house.books().ids
    assert house.believed(SUBJECT) == {made}
    assert young.waiting() == young.not_accepted() == set()
    # With a second key of theirs the person still stands there once.
    assert young.signers() == [FOREMAN]
    assert check(house) == 0


@pytest.mark.parametrize("told", [True, False], ids=["new epoch", "in silence"])
def test_a_phone_enrolled_since_the_backup_comes_back_by_itself(
    house: House, javascript: JavaScript, *, told: bool
) -> None:
    """Whoever records has their key unlocked: the phone proves that it has it."""
    old = phone_of(house, javascript, "old")
    back_up(house)
    young = phone_of(house, javascript, "young")
    young.begin_shift(FOREMAN)
    made = {note(young, f"answered by the office that was lost {n}") for n in range(3)}
    young.sync()
    put_back(house, told=told)
    assert made.isdisjoint(house.books().ids)
    late = note(young, "made while nobody knew this phone")
    for phone in (young, young, old):
        phone.sync()
    assert made | {late} == house.believed(SUBJECT)
    assert young.waiting() == young.not_accepted() == set()
    assert {entry.id for entry in old.entries_of(SUBJECT)} == made | {late}
    assert check(house) == 0


def test_a_phone_brought_back_by_a_further_key_shows_what_that_rests_on(
    house: House, javascript: JavaScript
) -> None:
    """Its enrolment was lost with the office, and so was who signed for it."""
    phone_of(house, javascript, "old")
    back_up(house)
    first = phone_of(house, javascript, "first")
    second = phone_of(house, javascript, "second")
    key = second.ask_key()
    first.record("key_added", person=FOREMAN, now=NOON, about=key)
    first.sync()
    second.sync()
    second.begin_shift(FOREMAN, key["key"])
    made = note(second, "acknowledged, then gone")
    second.sync()
    put_back(house, told=True)
    second.sync()
    second.sync()
    assert house.believed(SUBJECT) == {made}
    assert check(house) == 0


def revocation_in(books: Books) -> str:
    kinds = {row[1]: json.loads(row[2])["kind"] for row in books.rows}
    (found,) = (entry_id for entry_id, kind in kinds.items() if kind == "key_revoked")
    return found


def check(house: House) -> int:
    return main(["check", "--data", str(house.office.data)])
