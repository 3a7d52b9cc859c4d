"""A lost phone as the other phones judge it: by hashes and places, not by clocks.

The phones are the program's own modules in Node; the office is the real server.
"""

from random import Random
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.store.ledger import Signed
from tests.javascript import JavaScript
from tests.people import FOREMAN, INSPECTOR, NOON
from tests.simulation.house import House
from tests.simulation.road import Road
from tests.simulation.shell_phone import HANDHELD, ShellPhone

SUBJECT = "J1"


def phone_of(
    house: House, engine: JavaScript, name: str, person: str = FOREMAN
) -> ShellPhone:
    rng = Random(name)
    road = Road(port=house.office.port, rng=rng)
    phone = ShellPhone(
        name=name, road=road, engine=engine, address=house.office.url, rng=rng
    )
    phone.switch_on()
    phone.enrol(person, house.code(person, utc_now_ms()))
    phone.sync()
    return phone


def note(phone: ShellPhone, text: str, person: str = FOREMAN) -> str:
    return phone.record(
        "note", person=person, now=NOON, subject=SUBJECT, about={"text": text}
    )


def show(phone: ShellPhone, other: ShellPhone, *ids: str) -> dict[str, Any]:
    """Bring entries of one phone to another with no network."""
    held: dict[str, Signed] = phone.holds()
    return other.bring(*(held[each] for each in ids))


def seen(phone: ShellPhone) -> set[str]:
    return {entry.id for entry in phone.entries_of(SUBJECT)}


def test_what_was_named_before_the_loss_stands_everywhere_and_the_rest_nowhere(
    house: House, javascript: JavaScript
) -> None:
    lost = phone_of(house, javascript, "lost")
    other = phone_of(house, javascript, "other", INSPECTOR)
    for phone in (lost, other):
        phone.sync()
    first, second = note(lost, "one"), note(lost, "two")
    assert show(lost, other, second)["fresh"] == 1
    answer = note(other, "seen", INSPECTOR)
    third = note(lost, "three")
    # Only the note that names the second gets through before the phone is lost.
    third_phone = phone_of(house, javascript, "third")
    show(other, third_phone, answer)
    third_phone.sync()
    house.revoke(lost.device, lost.key_ids(), NOON)

    late = show(lost, third_phone, first, second, third)
    assert (late["fresh"], late["apart"]) == (3, 0), "it has not heard of the loss"
    third_phone.sync()
    other.sync()
    third_phone.sync()
    stands = {first, second, answer}
    # The first is named by the second's `prev`, the second by the answer's `after`.
    assert seen(third_phone) == seen(other) == stands
    assert third_phone.doubted() == {third: "revoked_key"}
    books = house.books()
    assert stands <= books.ids
    assert books.apart == {third}

    fresh = phone_of(house, javascript, "fresh")
    assert seen(fresh) == stands
    assert show(lost, fresh, third)["apart"] == 1
    assert seen(fresh) == stands


def test_a_key_nobody_knows_yet_is_kept_apart_until_the_roster_comes(
    house: House, javascript: JavaScript
) -> None:
    early = phone_of(house, javascript, "early")
    late = phone_of(house, javascript, "late", INSPECTOR)
    entry = note(late, "one", INSPECTOR)
    told = show(late, early, entry)
    assert (told["fresh"], told["apart"], told["subjects"]) == (0, 1, [])
    assert seen(early) == set()
    early.sync()
    assert seen(early) == {entry}
    assert early.doubted() == {}


def test_a_forged_or_foreign_entry_is_never_kept(
    house: House, javascript: JavaScript
) -> None:
    phone = phone_of(house, javascript, "one")
    other = phone_of(house, javascript, "other", INSPECTOR)
    phone.sync()
    entry, second = note(other, "one", INSPECTOR), note(other, "two", INSPECTOR)
    held = other.holds()
    before = set(phone.holds())
    forged = [
        {"bytes": held[entry].body, "sig": held[second].sig},
        {"bytes": held[entry].body.replace('"one"', '"two"'), "sig": held[entry].sig},
        {"bytes": held[entry].body + " ", "sig": held[entry].sig},
        {"bytes": "{}", "sig": held[entry].sig},
        {"bytes": "\ud83d", "sig": held[entry].sig},
    ]
    told = javascript.call(HANDHELD, "bring", phone.inner, forged)
    assert told["refused"] == len(forged)
    assert set(phone.holds()) == before
