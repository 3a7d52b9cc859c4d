"""Backups: proved before they are called one, restored under a new name."""

import json
import shutil
import sqlite3
import threading
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.config import DATABASE, SITE_KEY, hold, open_door
from fieldapp.intake.batch import accept
from fieldapp.intake.plans import issue_ordered
from fieldapp.signatures import kept_key, site_key
from fieldapp.store.database import connected, epoch
from fieldapp.store.devices import Device, find_device
from fieldapp.store.ledger import ledger_head, rows_after
from tests.people import NOON, SUBJECT, Stage, put_in_force, sheet, stage, wiped

Out = pytest.CaptureFixture[str]
GANG = Device(device="gang", revoked=False)


@pytest.fixture
def site(tmp_path: Path) -> Stage:
    """Give the small site in force with one entry in it."""
    made = stage(tmp_path / "data")
    record(made, 215)
    return made


def record(site: Stage, temp: int) -> str:
    phone = site.phone()
    with connected(site.wired.door.store):
        entry = wiped(phone, temp=temp)
        site.world.sync(phone, NOON)
    return str(entry.id)


def run(*arguments: object) -> int:
    return main([str(each) for each in arguments])


def rows_in(data: Path) -> tuple[str, list[str]]:
    door = open_door(data)
    with connected(door.store):
        return epoch(door.store), [row.body for row in rows_after(door.store, 0, 500)]


def spoil(path: Path, *statements: str) -> None:
    """Change a database as a hand at the SQL prompt would, guards and all."""
    with sqlite3.connect(path) as hand:
        asked = "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        for (guard,) in hand.execute(asked).fetchall():
            hand.execute(f"DROP TRIGGER {guard}")
        for statement in statements:
            hand.execute(statement)
    hand.close()


def test_a_backup_restored_elsewhere_is_the_same_site_under_a_new_epoch(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file, other = tmp_path / "copy.backup", tmp_path / "other"
    assert run("backup", file, "--data", site.data) == 0
    told = capsys.readouterr().out
    assert "restored and checked" in told
    assert "site's key" in told
    assert file.stat().st_mode & 0o777 == 0o600
    assert [each.name for each in tmp_path.glob(".*")] == []
    assert run("check", file, "--data", tmp_path / "nowhere") == 0
    assert run("restore", file, "--data", other) == 0
    before, rows = rows_in(site.data)
    after, brought = rows_in(other)
    assert brought == rows
    assert after != before
    assert kept_key(other / SITE_KEY).id == kept_key(site.data / SITE_KEY).id
    assert b"PRIVATE KEY" not in (other / DATABASE).read_bytes()
    assert run("check", "--data", other) == 0
    # It has the site's key: its orders are signed as before.
    door = open_door(other)
    assert put_in_force(door, sheet(revision=2)) == []
    with connected(door.store):
        assert issue_ordered(door, [SUBJECT], NOON) == [SUBJECT]


def test_a_backup_is_never_written_over_unless_told(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "copy.backup"
    file.write_text("last week's")
    assert run("backup", file, "--data", site.data) == 2
    assert "--replace" in capsys.readouterr().err
    assert file.read_text() == "last week's"
    assert run("backup", file, "--replace", "--data", site.data) == 0
    assert run("backup", tmp_path / "no" / "x", "--data", site.data) == 2
    assert run("backup", tmp_path / "new", "--data", tmp_path / "nothing") == 2
    assert not (tmp_path / "new").exists()
    assert not (tmp_path / "nothing").exists()


def test_what_does_not_hold_is_not_called_a_backup(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    spoil(site.data / DATABASE, "UPDATE ledger SET sig = 'x' WHERE place = 3")
    file = tmp_path / "copy.backup"
    assert run("backup", file, "--data", site.data) == 1
    assert "No backup was made" in capsys.readouterr().out
    assert [each.name for each in tmp_path.iterdir()] == ["data"]


def test_a_backup_taken_while_phones_push_is_one_moment_of_the_ledger(
    site: Stage, tmp_path: Path
) -> None:
    phone = site.phone()
    for each in range(40):
        wiped(phone, now=NOON + each, temp=300 + each)
    signed = list(phone.outbox)

    def push() -> None:
        for each in signed:
            accept(site.wired.door, [each], pusher=GANG, now=NOON)

    pushing = threading.Thread(target=push)
    pushing.start()
    try:
        for number in range(3):
            assert run("backup", tmp_path / f"{number}", "--data", site.data) == 0
    finally:
        pushing.join()
    everything = rows_in(site.data)[1]
    assert len(everything) == 44
    for number in range(3):
        data = tmp_path / f"back-{number}"
        assert run("restore", tmp_path / f"{number}", "--data", data) == 0
        rows = rows_in(data)[1]
        assert rows == everything[: len(rows)]


def test_a_folder_in_use_is_not_restored_into_unless_told(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "copy.backup"
    run("backup", file, "--data", site.data)
    late = record(site, 216)
    own = site.phone("own").token
    before = rows_in(site.data)
    assert own
    assert run("restore", file, "--data", site.data) == 2
    assert "--over" in capsys.readouterr().err
    assert rows_in(site.data) == before
    assert run("restore", file, "--over", "--data", site.data) == 0
    told = capsys.readouterr().out
    assert "1 phones" in told
    (aside,) = site.data.glob("before-restore-*")
    moved, _ = rows_in(site.data)
    assert moved != before[0]
    assert rows_in(aside) == before
    door = open_door(site.data)
    with connected(door.store):
        assert ledger_head(door.store).place == 3
        assert find_device(door.store, "own") == Device(device="own", revoked=False)
        offered = [
            signed
            for signed in bodies(before[1], aside)
            if json.loads(signed.body)["person"] != "office"
        ]
        accepted = accept(door, offered, pusher=GANG, now=NOON)
    assert [each.result for each in accepted.results] == ["duplicate", "stored"]
    assert accepted.results[1].id == late
    assert run("check", "--data", site.data) == 0


def bodies(_rows: list[str], data: Path) -> list:  # type: ignore[type-arg]
    door = open_door(data)
    with connected(door.store):
        return rows_after(door.store, 0, 500)


def test_a_folder_that_is_being_served_is_not_exchanged(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "copy.backup"
    run("backup", file, "--data", site.data)
    hold(site.data)
    before = (site.data / DATABASE).read_bytes()
    assert run("restore", file, "--over", "--data", site.data) == 2
    assert "stop the server" in capsys.readouterr().err
    assert (site.data / DATABASE).read_bytes() == before


def test_a_backup_that_was_changed_is_not_restored(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file, other = tmp_path / "copy.backup", tmp_path / "other"
    run("backup", file, "--data", site.data)
    spoil(file, "UPDATE ledger SET body = replace(body, '215', '216')")
    assert run("restore", file, "--data", other) == 1
    told = capsys.readouterr().out
    assert "index 3: the bytes" in told
    assert "Nothing was changed" in told
    assert not (other / DATABASE).exists()


def test_a_plain_copy_of_the_database_is_restored_with_the_key_at_hand(
    site: Stage, tmp_path: Path, capsys: Out
) -> None:
    file, other = tmp_path / "plain.db", tmp_path / "other"
    shutil.copy(site.data / DATABASE, file)
    spoil(file)
    assert run("restore", file, "--data", other) == 2
    assert "no site key" in capsys.readouterr().err
    shutil.copy(site.data / SITE_KEY, other / SITE_KEY)
    assert run("restore", file, "--over", "--data", other) == 0
    assert "ledger_kept was gone and has been put back" in capsys.readouterr().out
    assert run("check", "--data", other) == 0


@pytest.mark.parametrize("content", [b"", b"not a database, " * 300])
def test_what_is_no_backup_is_said_in_one_line(
    tmp_path: Path, content: bytes, capsys: Out
) -> None:
    file = tmp_path / "copy.backup"
    file.write_bytes(content)
    site_key(tmp_path / SITE_KEY)
    assert run("restore", file, "--data", tmp_path / "data") == 2
    assert run("restore", tmp_path / "nothing", "--data", tmp_path / "data") == 2
    assert len(capsys.readouterr().err.splitlines()) == 2
    assert not (tmp_path / "data" / DATABASE).exists()
