"""Opening a database: pragmas read back, migrations, epochs, one flat write."""

from pathlib import Path

import pytest

from fieldapp.store import database as opened
from fieldapp.store.database import (
    Store,
    StoreFault,
    StoreUnavailable,
    begin_epoch,
    connected,
    epoch,
    open_store,
    read_meta,
    write_meta,
    writing,
)
from fieldapp.store.migrations import MIGRATIONS


def pragma(store: Store, name: str) -> object:
    return store.database.execute_sql(f"PRAGMA {name}").fetchone()[0]


def test_what_the_disk_is_asked_for_is_in_force(tmp_path: Path) -> None:
    store = open_store(tmp_path / "site.db")
    for _ in range(2):
        with connected(store):
            assert pragma(store, "journal_mode") == "truncate"
            assert pragma(store, "synchronous") == 3
            assert pragma(store, "foreign_keys") == 1


def test_a_pragma_that_does_not_take_stops_the_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(opened.PRAGMAS, "foreign_keys", 7)
    with pytest.raises(StoreFault, match="foreign_keys = "):
        open_store(tmp_path / "site.db")


def test_the_schema_version_is_the_length_of_the_list(tmp_path: Path) -> None:
    store = open_store(tmp_path / "site.db")
    with connected(store):
        assert read_meta(store, "schema") == str(len(MIGRATIONS))


def test_opening_again_changes_nothing(tmp_path: Path) -> None:
    store = open_store(tmp_path / "site.db")
    with connected(store):
        name = epoch(store)
    again = open_store(tmp_path / "site.db")
    with connected(again):
        assert epoch(again) == name


def test_a_newer_schema_is_refused(tmp_path: Path) -> None:
    store = open_store(tmp_path / "site.db")
    with writing(store):
        write_meta(store, "schema", str(len(MIGRATIONS) + 1))
    with pytest.raises(StoreFault, match="newer program"):
        open_store(tmp_path / "site.db")


def test_an_older_schema_is_brought_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_store(tmp_path / "site.db")
    more = ("CREATE TABLE weather (at BIGINT PRIMARY KEY)",)
    monkeypatch.setattr(opened, "MIGRATIONS", (*MIGRATIONS, more))
    store = open_store(tmp_path / "site.db")
    with connected(store):
        assert "weather" in store.database.get_tables()
        assert read_meta(store, "schema") == str(len(MIGRATIONS) + 1)


def test_a_migration_that_fails_leaves_the_old_schema(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_store(tmp_path / "site.db")
    more = ("CREATE TABLE weather (at BIGINT PRIMARY KEY)", "CREATE TABLE weather (x)")
    with monkeypatch.context() as patched:
        patched.setattr(opened, "MIGRATIONS", (*MIGRATIONS, more))
        with pytest.raises(StoreUnavailable):
            open_store(tmp_path / "site.db")
    store = open_store(tmp_path / "site.db")
    with connected(store):
        assert "weather" not in store.database.get_tables()


def test_a_file_that_is_no_database_is_said_to_be_none(tmp_path: Path) -> None:
    (tmp_path / "site.db").write_bytes(b"not a database at all, " * 100)
    with pytest.raises((StoreUnavailable, StoreFault)):
        open_store(tmp_path / "site.db")


def test_a_write_inside_a_write_is_our_own_mistake(store: Store) -> None:
    with writing(store), pytest.raises(AssertionError, match="one flat"):
        writing(store).__enter__()


def test_an_epoch_is_another_after_a_restore(store: Store) -> None:
    before = epoch(store)
    with writing(store):
        begin_epoch(store)
    assert epoch(store) != before
