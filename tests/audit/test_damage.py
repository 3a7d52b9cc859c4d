"""Files that a disk or a killed program spoiled: told of, never the check's end."""

import shutil
import sqlite3
from pathlib import Path

from fieldapp.cli import main
from fieldapp.config import DATABASE
from tests.audit.tampering import Out, by_hand, check
from tests.people import Stage


def test_a_damaged_file_is_told_of_and_never_ends_the_check(
    site: Stage, capsys: Out
) -> None:
    path = site.data / DATABASE
    whole = path.read_bytes()
    for place in range(0, len(whole), 4096 * 3):
        broken = whole[:place] + b"\xa5" * 4096 + whole[place + 4096 :]
        path.write_bytes(broken)
        status, _ = check(site, capsys)
        assert status in (1, 2)
        assert path.read_bytes() == broken
    for size in (0, 100, 4096, len(whole) // 2):
        path.write_bytes(whole[:size])
        assert check(site, capsys)[0] in (1, 2)
    path.write_bytes(whole)
    assert check(site, capsys)[0] == 0


def test_one_damaged_page_leaves_the_rest_of_the_ledger_readable(
    site: Stage, capsys: Out
) -> None:
    path = site.data / DATABASE
    with by_hand(path) as hand:
        hand.execute("UPDATE ledger SET body = CAST(x'ff' AS TEXT) WHERE place = 4")
        hand.execute("UPDATE ledger SET sig = 'x' WHERE place = 6")
    _, told = check(site, capsys)
    assert "index 4: cannot be read" in told
    assert "index 6: done by ida on gang: the signature does not hold" in told
    assert "index 5" not in told


def test_what_a_killed_server_left_is_checked_and_left_as_it_is(
    site: Stage, capsys: Out
) -> None:
    path = site.data / DATABASE
    hand = sqlite3.connect(path, isolation_level=None)
    hand.execute("PRAGMA journal_mode = TRUNCATE")
    hand.execute("PRAGMA cache_size = 1")
    hand.execute("BEGIN IMMEDIATE")
    hand.execute("DELETE FROM failures")
    for number in range(400):
        hand.execute(
            "INSERT INTO codes VALUES (?, 'ida', 'o', 1, 2, NULL, NULL, NULL)",
            (f"{number}" * 40,),
        )
    other = site.data.with_name("killed")
    shutil.copytree(site.data, other)
    hand.execute("ROLLBACK")
    hand.close()
    journal = other / f"{DATABASE}-journal"
    assert journal.stat().st_size > 0
    before = (other / DATABASE).read_bytes(), journal.read_bytes()
    assert main(["check", "--data", str(other)]) == 0
    assert ((other / DATABASE).read_bytes(), journal.read_bytes()) == before
    capsys.readouterr()


def test_nothing_is_made_where_there_is_nothing_to_check(
    tmp_path: Path, capsys: Out
) -> None:
    assert main(["check", "--data", str(tmp_path / "none")]) == 2
    assert "none" in capsys.readouterr().err
    assert not (tmp_path / "none").exists()
