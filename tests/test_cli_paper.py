"""The commands that print: what they write, and what they refuse."""

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands import run
from tests.desk import PAPER
from tests.people import SUBJECT, stage

pytestmark = PAPER
Out = pytest.CaptureFixture[str]


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """Give a data folder with the small site in force."""
    return stage(tmp_path / "data").data


def words(file: Path) -> str:
    pages = PdfReader(BytesIO(file.read_bytes())).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_record_sheet_plan_and_labels_are_written(data: Path, tmp_path: Path) -> None:
    file = tmp_path / "out.pdf"
    rest = ("--pdf", file, "--data", data)
    assert run("record", SUBJECT, "--paper", "letter", *rest) == 0
    assert "Joint 1" in words(file)
    assert run("sheet", SUBJECT, "--blank", *rest) == 0
    assert "A release on paper is not a release" in words(file)
    # The folder may be named before the command too; behind it, it counts.
    assert run("--data", data, "plan", "tie", "--pdf", file) == 0
    other = f"--data={tmp_path / 'none'}"
    assert run(other, "plan", "tie", *rest) == 0
    assert "Inspection and test plan" in words(file)
    assert run("labels", *rest) == 0
    assert "Labels of the register, Tarn crossing" in words(file)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("record", "j9"), f"allowed: {SUBJECT}"),
        (("sheet", "j9", "--blank"), f"allowed: {SUBJECT}"),
        (("plan", "other"), "kind other: allowed: tie"),
        (("plan", "tie", "--subject", "j9"), f"--subject j9: allowed: {SUBJECT}"),
        (("labels", "g9"), "not in the register: g9"),
    ],
)
def test_what_is_not_there_is_refused_with_what_is(
    data: Path, tmp_path: Path, capsys: Out, arguments: tuple[str, ...], said: str
) -> None:
    file = tmp_path / "out.pdf"
    assert run(*arguments, "--pdf", file, "--data", data) == 2
    assert said in capsys.readouterr().err
    assert not file.exists()


def test_a_size_of_paper_that_is_not_known_is_refused(
    data: Path, tmp_path: Path, capsys: Out
) -> None:
    with pytest.raises(SystemExit):
        run("record", SUBJECT, "--paper", "a3", "--pdf", tmp_path / "o", "--data", data)
    assert "letter" in capsys.readouterr().err
