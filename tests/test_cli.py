"""The commands as a person uses them: what they print, and what they refuse."""

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fieldapp.commands import demo
from fieldapp.config import DATABASE, SITE_KEY, open_door
from fieldapp.store.accounts import check_password
from fieldapp.store.database import connected
from fieldapp.store.devices import find_code
from fieldapp.store.ledger import ledger_head
from tests.commands import at_hand, begun, run
from tests.desk import PAPER
from tests.people import FOREMAN, SUBJECT, put_in_force, sheet
from tests.plan.sample import copied

Out = pytest.CaptureFixture[str]


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Give a copy of the sample site's folder with few subjects, to be spoiled."""
    return copied(tmp_path / "site")


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """Give a data folder with the small site in force and one entry in it."""
    return begun(tmp_path / "data")


def place(data: Path) -> int:
    door = open_door(data)
    with connected(door.store):
        return ledger_head(door.store).place


def test_loading_a_site_issues_its_sheets_and_again_issues_nothing(
    site: Path, tmp_path: Path, capsys: Out
) -> None:
    data, told = tmp_path / "data", (site / "site.toml").read_text("utf-8")
    unsigned = told[: told.index("[plan_signers]")] + told[told.index("[roles]") :]
    (site / "site.toml").write_text(unsigned, "utf-8")
    assert run("load", site, "--data", data) == 0
    assert re.search(r" ([1-9]\d*) sheets, \1 new", capsys.readouterr().out)
    before = place(data)
    assert run("load", site, "--data", data) == 0
    assert re.search(r" [1-9]\d* sheets, 0 new", capsys.readouterr().out)
    assert place(data) == before


def test_every_fault_is_told_at_once_and_nothing_is_changed(
    site: Path, tmp_path: Path, capsys: Out
) -> None:
    data = tmp_path / "data"
    run("load", site, "--data", data)
    before = (data / DATABASE).read_bytes()
    capsys.readouterr()
    people = (site / "people.csv").read_text().splitlines()
    people[1] = "jorun,Jorun,nobody,foreman"
    people[3] = "edric,Edric,corvane,wizard"
    (site / "people.csv").write_text("\n".join(people) + "\n")
    assert run("load", site, "--data", data) == 2
    told = capsys.readouterr()
    assert told.out == ""
    for words in ("people.csv:2", "nobody", "people.csv:4", "wizard", "allowed"):
        assert words in told.err
    assert (data / DATABASE).read_bytes() == before


@pytest.mark.parametrize("name", ["nowhere", "file"])
def test_loading_what_is_no_site_says_so(
    tmp_path: Path, name: str, capsys: Out
) -> None:
    (tmp_path / "file").write_text("")
    assert run("load", tmp_path / name, "--data", tmp_path / "data") == 2
    assert "not a folder" in capsys.readouterr().err
    assert not (tmp_path / "data").exists()


def test_an_empty_folder_is_told_what_is_missing(tmp_path: Path, capsys: Out) -> None:
    (tmp_path / "site").mkdir()
    assert run("load", tmp_path / "site", "--data", tmp_path / "data") == 2
    assert "site.toml" in capsys.readouterr().err


def test_a_database_belongs_to_one_site(site: Path, data: Path, capsys: Out) -> None:
    before = place(data)
    assert run("load", site, "--data", data) == 2
    assert "one database is one site" in capsys.readouterr().err
    assert place(data) == before


def test_an_account_is_made_with_a_password_that_works(data: Path, capsys: Out) -> None:
    assert run("person", "add-account", FOREMAN, "--office", "--data", data) == 0
    password = capsys.readouterr().out.split()[-1]
    door = open_door(data)
    with connected(door.store):
        account = check_password(door.store, FOREMAN, password)
    assert account is not None
    assert account.office


def test_a_password_can_be_given_on_a_line_but_not_a_short_one(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: Out
) -> None:
    command = ("person", "add-account", FOREMAN, "--password", "stdin", "--data", data)
    monkeypatch.setattr("sys.stdin", io.StringIO("too short\n"))
    assert run(*command) == 2
    assert "at least 10" in capsys.readouterr().err
    monkeypatch.setattr("sys.stdin", io.StringIO("granite and lime\n"))
    assert run(*command) == 0
    assert "granite" not in capsys.readouterr().out
    door = open_door(data)
    with connected(door.store):
        assert check_password(door.store, FOREMAN, "granite and lime")


def test_a_code_is_made_for_a_person_of_the_plan(data: Path, capsys: Out) -> None:
    assert run("person", "code", FOREMAN, "--data", data) == 0
    code = capsys.readouterr().out.split()[0]
    door = open_door(data)
    with connected(door.store):
        found = find_code(door.store, code)
    assert found is not None
    assert found.person == FOREMAN


@pytest.mark.parametrize(
    "arguments",
    [("code", "nobody"), ("add-account", "nobody"), ("end-sessions", "nobody"),
     ("add-account", FOREMAN, "--name", "../x")],
)  # fmt: skip
def test_somebody_unknown_is_told_who_is_known(
    data: Path, arguments: tuple[str, ...], capsys: Out
) -> None:
    assert run("person", *arguments, "--data", data) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert arguments[-1] in told.err


def test_people_are_listed_with_accounts_and_keys(data: Path, capsys: Out) -> None:
    run("person", "add-account", FOREMAN, "--data", data)
    capsys.readouterr()
    assert run("person", "list", "--data", data) == 0
    told = capsys.readouterr().out
    assert "Ida Fell" in told
    assert "gang (active, last heard 20" in told
    assert "keys: -" in told


def test_a_record_of_an_unknown_subject_is_told_which_are_known(
    data: Path, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "record.pdf"
    assert run("record", "J9", "--pdf", file, "--data", data) == 2
    assert "allowed: J1" in capsys.readouterr().err
    assert not file.exists()


@PAPER
def test_a_record_is_written_where_it_is_wanted(
    data: Path, tmp_path: Path, capsys: Out
) -> None:
    file = tmp_path / "record.pdf"
    assert run("record", SUBJECT, "--pdf", file, "--data", data) == 0
    assert file.read_bytes().startswith(b"%PDF-")
    assert run("record", SUBJECT, "--pdf", tmp_path / "no" / "x", "--data", data) == 2
    assert "--pdf" in capsys.readouterr().err


def test_a_site_key_others_can_read_stops_every_command(
    data: Path, capsys: Out
) -> None:
    (data / SITE_KEY).chmod(0o644)
    assert run("person", "list", "--data", data) == 2
    assert "set mode 600" in capsys.readouterr().err


def test_the_demonstration_goes_on_where_it_was_left(
    tmp_path: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = tmp_path / "demo"
    assert run("demo", "--only-load", "--data", data) == 0
    first = capsys.readouterr().out
    assert re.search(r"the plan is signed: [1-9]\d* sheets in force", first)
    assert "/phone/" in first
    kept = json.loads((data / "demo.json").read_text())
    assert kept
    assert (data / "demo.json").stat().st_mode & 0o777 == 0o600
    for name, password in kept.items():
        assert f"sign in as {name} with {password}" in first
    monkeypatch.setattr(demo, "compiled_site", at_hand)
    assert run("demo", "--only-load", "--data", data) == 0
    again = capsys.readouterr().out
    assert re.search(r" [1-9]\d* sheets, 0 new", again)
    assert all(password in again for password in kept.values())


def test_only_a_folder_made_by_the_demonstration_is_cleared(
    data: Path, tmp_path: Path, capsys: Out, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demo, "compiled_site", at_hand)
    assert run("demo", "--only-load", "--fresh", "--data", data) == 2
    assert "not cleared" in capsys.readouterr().err
    assert place(data) == 3
    made = tmp_path / "demo"
    run("demo", "--only-load", "--no-history", "--data", made)
    before = (made / SITE_KEY).read_bytes()
    again = ("--only-load", "--no-history", "--fresh", "--data", made)
    assert run("demo", *again) == 0
    assert (made / SITE_KEY).read_bytes() != before


def test_a_revision_goes_to_subjects_whose_sheet_changed(
    data: Path, capsys: Out
) -> None:
    door = open_door(data)
    other = sheet(subject="J2", title="Joint 2")
    with connected(door.store):
        assert put_in_force(door, sheet(), other) == ["J2"]
        revised = (sheet(title="Joint one"), sheet(subject="J2", title="Joint two"))
        # The first is begun: it keeps its sheet until it is named.
        assert put_in_force(door, *revised) == ["J2"]
    assert run("issue", SUBJECT, "--data", data) == 0
    assert "J1: issued revision 1" in capsys.readouterr().out
    assert run("issue", "J9", "--data", data) == 2
    assert "J9: no such subject" in capsys.readouterr().err


def test_a_command_not_known_is_refused(capsys: Out) -> None:
    with pytest.raises(SystemExit) as left:
        run("dance")
    assert left.value.code == 2
    assert "serve" in capsys.readouterr().err


def test_a_reader_that_leaves_changes_no_exit_status(tmp_path: Path) -> None:
    (tmp_path / "no.pdf").write_bytes(b"%PDF-1.4 no record")
    ours, theirs = os.pipe()
    os.close(ours)
    found = subprocess.run(
        [sys.executable, "-m", "fieldapp", "verify", tmp_path / "no.pdf"],
        stdout=theirs, stderr=subprocess.PIPE, check=False,
    )  # fmt: skip
    os.close(theirs)
    assert (found.returncode, found.stderr) == (1, b"")
