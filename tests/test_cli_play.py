"""`fieldapp play` as a person uses it: in a database of its own, always."""

import json
from pathlib import Path

import pytest

from fieldapp.cli import main
from fieldapp.config import DATABASE, open_door
from fieldapp.store.database import connected
from fieldapp.store.ledger import rows_after
from tests.commands import begun, run

Out = pytest.CaptureFixture[str]


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """Give a data folder with the small site in force and one entry in it."""
    return begun(tmp_path / "data")


STORY = """
subject = "J1"
start = 2026-05-28T20:26:40Z
[people]
omar = { person = "omar", phone = "own" }
[story]
lines = [
  { who = "omar", do = "release", point = "go" },
  { expect = { verdict = "complete" } },
]
"""


def test_a_play_leaves_the_database_it_was_played_from_as_it_was(
    data: Path, tmp_path: Path, capsys: Out
) -> None:
    (tmp_path / "story.toml").write_text(STORY)
    before = (data / DATABASE).read_bytes()
    assert run("play", tmp_path / "story.toml", "--data", data) == 1
    told = capsys.readouterr().out
    assert "go: ready -> released" in told
    assert "NOT AS EXPECTED: line 2: verdict: found 'incomplete'" in told
    assert (data / DATABASE).read_bytes() == before


def test_a_play_can_be_kept_in_a_folder_that_is_new(
    data: Path, tmp_path: Path, capsys: Out
) -> None:
    (tmp_path / "story.toml").write_text(STORY)
    command = ("play", tmp_path / "story.toml", "--data", data, "--keep")
    assert run(*command, data) == 2
    assert "not there yet" in capsys.readouterr().err
    assert run(*command, tmp_path / "kept") == 1
    door = open_door(tmp_path / "kept")
    with connected(door.store):
        kinds = [json.loads(row.body)["kind"] for row in rows_after(door.store, 3, 9)]
    assert kinds == ["enrolled", "release"]


@pytest.mark.parametrize("text", ["", "x = ", STORY.replace("omar =", "omar2 =")])
def test_a_story_that_cannot_be_played_is_refused(
    data: Path, tmp_path: Path, text: str, capsys: Out
) -> None:
    (tmp_path / "story.toml").write_text(text)
    assert run("play", tmp_path / "story.toml", "--data", data) == 2
    assert "story.toml" in capsys.readouterr().err


def test_a_play_needs_a_site(tmp_path: Path, capsys: Out) -> None:
    (tmp_path / "story.toml").write_text(STORY)
    assert run("play", tmp_path / "story.toml") == 2
    assert "--site" in capsys.readouterr().err


def test_a_file_that_is_not_there_is_named_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = tmp_path / "none.toml"
    assert main(["play", str(missing)]) != 0
    said = capsys.readouterr().err
    assert said.count(str(missing)) == 1
    assert "No such file" in said
