"""The contract of the ledger: gapless, chained, append-only, whole batches.

Whatever database keeps the ledger must do all of this: see `MAKERS` in conftest.
"""

import hashlib
from concurrent.futures import ThreadPoolExecutor

import peewee
import pytest

from fieldapp.core.entries import Entry
from fieldapp.store.database import Store, writing
from fieldapp.store.ledger import (
    START_HEAD,
    SetApart,
    Signed,
    all_apart,
    apart_count,
    append,
    last_of_device,
    ledger_head,
    numbers_taken,
    places_of,
    rows_after,
    rows_of_site,
    rows_of_subject,
    set_apart,
    take_back,
)
from tests.store.notes import note


def append_all(store: Store, *notes: tuple[Entry, Signed]) -> None:
    with writing(store):
        append(store, notes, now=7)


def test_an_empty_ledger_starts_at_no_place(store: Store) -> None:
    assert ledger_head(store).place == 0
    assert ledger_head(store).head == START_HEAD


def test_places_count_from_one_without_a_gap(store: Store) -> None:
    append_all(store, note(1), note(2))
    append_all(store, note(3))
    assert [row.place for row in rows_after(store, 0, 10)] == [1, 2, 3]


def test_each_head_is_the_hash_of_the_one_before_and_the_id(store: Store) -> None:
    (first, one), (second, two) = note(1), note(2)
    append_all(store, (first, one), (second, two))
    head = hashlib.sha256((START_HEAD + first.id).encode()).hexdigest()
    assert rows_after(store, 0, 1)[0].head == head
    head = hashlib.sha256((head + second.id).encode()).hexdigest()
    assert ledger_head(store).head == head


def test_the_bytes_come_back_as_they_were_signed(store: Store) -> None:
    entry, signed = note(1, text="naïve \N{SNOWMAN} \\u0000 \x7f")
    append_all(store, (entry, signed))
    row = rows_after(store, 0, 1)[0]
    assert row.body == signed.body
    assert hashlib.sha256(row.body.encode()).hexdigest() == entry.id


def test_a_batch_is_kept_whole_or_not_at_all(store: Store) -> None:
    append_all(store, note(1))
    twice = note(2)
    with pytest.raises(peewee.IntegrityError):
        append_all(store, note(3), twice, twice)
    assert ledger_head(store).place == 1
    append_all(store, twice)
    assert [row.place for row in rows_after(store, 0, 10)] == [1, 2]


def test_rows_are_given_after_a_place_and_no_more_than_asked(store: Store) -> None:
    append_all(store, *(note(number) for number in range(1, 8)))
    assert [row.place for row in rows_after(store, 2, 3)] == [3, 4, 5]
    assert rows_after(store, 7, 3) == []


def test_a_subject_has_only_its_own_rows(store: Store) -> None:
    append_all(store, note(1), note(2, subject="J2"), note(3))
    assert [row.place for row in rows_of_subject(store, "J1")] == [1, 3]


def test_the_last_number_of_a_device_is_known(store: Store) -> None:
    assert last_of_device(store, "gang") is None
    entry, signed = note(4)
    append_all(store, note(3), (entry, signed), note(9, device="other"))
    assert last_of_device(store, "gang") == (4, entry.id)
    asked = [note(number)[0] for number in (4, 9)]
    assert numbers_taken(store, asked) == {("gang", 4)}


def test_places_are_given_of_those_entries_the_ledger_has(store: Store) -> None:
    entry, signed = note(1)
    append_all(store, (entry, signed))
    assert places_of(store, [entry.id, "ab" * 32]) == {entry.id: 1}
    assert places_of(store, []) == {}


COPY = ", body, 'x', head, received, kind, subject, person, device, seq FROM ledger"


def test_a_write_that_fails_half_way_leaves_nothing_and_the_next_one_is_whole(
    store: Store,
) -> None:
    append_all(store, note(1))

    def write_and_fail() -> None:
        with writing(store):
            append(store, [note(2)], now=7)
            append(store, [note(3)], now=7)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_and_fail()
    assert ledger_head(store).place == 1
    append_all(store, note(3))
    assert [row.place for row in rows_after(store, 0, 10)] == [1, 2]


def test_writers_at_the_same_time_queue_up_and_leave_no_gap(store: Store) -> None:
    def write(device: int) -> None:
        for number in range(1, 6):
            append_all(store, note(number, device=f"phone-{device}"))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(write, range(8)))
    rows = rows_after(store, 0, 100)
    assert [row.place for row in rows] == list(range(1, 41))
    head = START_HEAD
    for row in rows:
        head = hashlib.sha256((head + row.id).encode()).hexdigest()
        assert row.head == head


def test_the_sites_own_rows_are_found_by_kind_in_order(store: Store) -> None:
    own = {"subject": None, "kind": "weather"}
    append_all(store, note(1), note(2, **own), note(3, **own), note(4))
    assert [row.place for row in rows_of_site(store, ["weather"])] == [2, 3]
    assert rows_of_site(store, ["enrolled"]) == []


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM ledger",
        "UPDATE ledger SET sig = 'x'",
        "UPDATE ledger SET place = place + 1",
        f"INSERT OR REPLACE INTO ledger SELECT place, id {COPY}",
        f"INSERT OR REPLACE INTO ledger SELECT 2, id {COPY}",
        f"INSERT INTO ledger SELECT 3, 'cd' {COPY}",
    ],
)
def test_no_statement_changes_the_ledger(store: Store, statement: str) -> None:
    append_all(store, note(1))
    before = rows_after(store, 0, 10)
    with pytest.raises(peewee.DatabaseError):
        store.database.execute_sql(statement)
    assert rows_after(store, 0, 10) == before


def test_quarantine_keeps_an_entry_once_and_gives_it_back(store: Store) -> None:
    apart = SetApart(
        id="ab" * 32,
        body="{}",
        sig="s",
        reason="unknown_key",
        received=1,
        pusher="gang",
    )
    with writing(store):
        set_apart(store, [apart])
        set_apart(store, [apart])
    assert all_apart(store) == [apart]
    assert apart_count(store, "gang") == 1
    with writing(store):
        take_back(store, apart)
    assert all_apart(store) == []
