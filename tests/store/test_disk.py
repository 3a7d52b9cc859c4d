"""A disk that is full, read-only, gone or broken: nothing kept, nobody told so."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from fieldapp.store import room
from fieldapp.store.database import (
    DISK_FAULTS,
    Store,
    StoreFault,
    StoreUnavailable,
    connected,
    open_store,
    open_to_read,
    read_meta,
    reading,
    write_meta,
    writing,
)
from fieldapp.store.guards import guards, missing_guards
from fieldapp.store.ledger import append, ledger_head, rows_after
from fieldapp.store.room import NoRoom, keep_room
from tests.store.notes import note

MANY = [note(number, text="x" * 2_000) for number in range(2, 60)]


@pytest.fixture
def begun(tmp_path: Path) -> Store:
    store = open_store(tmp_path / "site.db")
    with writing(store):
        append(store, [note(1)], now=7)
    return store


def append_many(store: Store) -> None:
    with writing(store):
        append(store, MANY, now=7)


def test_a_full_disk_keeps_nothing_and_says_so(begun: Store) -> None:
    with connected(begun):
        pages = begun.database.execute_sql("PRAGMA page_count").fetchone()[0]
        begun.database.execute_sql(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(StoreUnavailable, match="full"):
            append_many(begun)
        assert ledger_head(begun).place == 1
        begun.database.execute_sql(f"PRAGMA max_page_count = {pages + 1_000}")
        append_many(begun)
        assert ledger_head(begun).place == 59


def test_a_disk_that_became_read_only_keeps_nothing_and_says_so(begun: Store) -> None:
    with connected(begun):
        begun.database.execute_sql("PRAGMA query_only = 1")
        with pytest.raises(StoreUnavailable, match="readonly"):
            append_many(begun)
        assert ledger_head(begun).place == 1


def test_a_file_that_vanished_does_not_come_back_empty(begun: Store) -> None:
    begun.path.unlink()
    with pytest.raises(StoreUnavailable):
        append_many(begun)
    assert not begun.path.exists()


def test_a_broken_page_is_the_disks_fault_whether_read_or_written(
    begun: Store,
) -> None:
    append_many(begun)
    size = begun.path.stat().st_size
    with begun.path.open("r+b") as raw:
        raw.seek(size // 2)
        raw.write(b"\xff" * 4096 * 8)
    with pytest.raises(DISK_FAULTS), connected(begun):
        rows_after(begun, 0, 100)
    with pytest.raises(StoreUnavailable), writing(begun):
        rows_after(begun, 0, 100)


def test_another_program_that_writes_for_too_long_is_told_as_unavailable(
    begun: Store,
) -> None:
    other = sqlite3.connect(begun.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with connected(begun):
            begun.database.execute_sql("PRAGMA busy_timeout = 10")
            with pytest.raises(StoreUnavailable, match="locked"):
                append_many(begun)
    finally:
        other.close()
    append_many(begun)


def test_a_disk_nearly_full_is_told_in_words_before_it_is(
    begun: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_room(begun, coming=1)
    with pytest.raises(NoRoom, match="nearly full"):
        keep_room(begun, coming=10**18)
    monkeypatch.setattr(room, "SPARE_BYTES", 10**18)
    with pytest.raises(NoRoom, match="MB left"):
        keep_room(begun, coming=0)


def test_a_folder_that_is_gone_has_no_room(begun: Store) -> None:
    shutil.rmtree(begun.path.parent)
    with pytest.raises(StoreUnavailable):
        keep_room(begun, coming=0)


@pytest.mark.parametrize("guard", sorted(guards()))
def test_a_database_whose_guard_is_gone_is_not_opened(begun: Store, guard: str) -> None:
    with sqlite3.connect(begun.path) as hand:
        hand.execute(f"DROP TRIGGER {guard}")
    hand.close()
    with pytest.raises(StoreFault, match=guard):
        open_store(begun.path)


def test_a_guard_that_was_made_toothless_is_missed(begun: Store) -> None:
    with sqlite3.connect(begun.path) as hand:
        hand.execute("DROP TRIGGER ledger_kept")
        hand.execute(
            "CREATE TRIGGER ledger_kept BEFORE DELETE ON ledger BEGIN SELECT 1; END"
        )
    hand.close()
    with connected(begun):
        assert missing_guards(begun.database.execute_sql) == ["ledger_kept"]


def test_a_database_opened_to_be_read_takes_nothing(begun: Store) -> None:
    store = open_to_read(begun.path)
    with reading(store):
        assert read_meta(store, "epoch")
    with pytest.raises(StoreUnavailable, match="readonly"), writing(store):
        write_meta(store, "epoch", "mine")
    with pytest.raises(StoreUnavailable):
        open_to_read(begun.path.with_name("nothing.db"))
