"""`fieldapp verify FILE`: what it says and the status it ends with."""

from pathlib import Path

import pytest

from fieldapp.cli import main
from tests.records.paper import PAPER, book, printed

pytestmark = PAPER
Out = pytest.CaptureFixture[str]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "record.pdf"
    made.write_bytes(printed("begun"))
    return made


def test_without_a_key_from_elsewhere_a_record_is_only_consistent(
    file: Path, capsys: Out
) -> None:
    assert main(["verify", str(file)]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0].startswith("consistent, with the site key that the file states")
    assert said[0].endswith(book("begun").office.id)
    assert "checked: the pages, set again from the evidence" in "\n".join(said)
    assert any(line.startswith("taken as stated: ") for line in said)


def test_against_the_key_held_it_is_authentic_blanks_and_capitals_aside(
    file: Path, capsys: Out
) -> None:
    key = book("begun").office.id.upper()
    spaced = " ".join(key[i : i + 8] for i in range(0, len(key), 8))
    assert main(["verify", str(file), "--site-key", spaced]) == 0
    assert capsys.readouterr().out.startswith("authentic against site key ")


def test_another_key_or_a_changed_file_is_a_no_with_the_reason(
    file: Path, capsys: Out
) -> None:
    assert main(["verify", str(file), "--site-key", "ab" * 32]) == 1
    assert "because: its site key is" in capsys.readouterr().out
    file.write_bytes(b"no PDF at all")
    assert main(["verify", str(file)]) == 1
    assert capsys.readouterr().out.startswith("no\nbecause: not a readable PDF")


def test_a_file_that_is_not_there_is_bad_input(tmp_path: Path, capsys: Out) -> None:
    assert main(["verify", str(tmp_path / "none.pdf")]) == 2
    assert "none.pdf" in capsys.readouterr().err
