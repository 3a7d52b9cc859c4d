"""`fieldapp calc NAME`: one JSON object in, one out, or a sheet; refusals apart."""

import io
import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fieldapp.calc import catalogue
from fieldapp.cli import main
from tests.desk import PAPER

SHIM = {"thickness_mm": 1.6, "depth_m": 2.5, "tip_distance_m": 36}


class Typed(io.TextIOWrapper):
    """Standard input that holds some bytes."""

    def __init__(self, raw: bytes) -> None:
        super().__init__(io.BytesIO(raw), encoding="utf-8")


@pytest.fixture
def calc(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Any:
    def run(*arguments: str, given: Any = "") -> tuple[int, str, str]:
        text = given if isinstance(given, str | bytes) else json.dumps(given)
        raw = text.encode("utf-8") if isinstance(text, str) else text
        monkeypatch.setattr("sys.stdin", Typed(raw))
        status = main(["calc", *arguments])
        captured = capsys.readouterr()
        return status, captured.out, captured.err

    return run


def test_one_object_in_is_one_object_out(calc: Any) -> None:
    status, out, err = calc("shim", given=SHIM)
    assert (status, err) == (0, "")
    assert json.loads(out) == catalogue.run("shim", SHIM)


def test_a_file_may_be_read_instead(calc: Any, tmp_path: Path) -> None:
    file = tmp_path / "shim.json"
    file.write_text(json.dumps(SHIM), "utf-8")
    assert calc("shim", "--file", str(file))[0] == 0
    file.write_bytes(b"\xef\xbb\xbf" + json.dumps(SHIM).encode())
    assert calc("shim", "--file", str(file))[0] == 0


def test_the_working_is_the_sheet_with_its_heading(calc: Any) -> None:
    status, out, _ = calc(
        "shim", "--working", "--job", "Bridge 7", "--subject", "J4", "--revision", "B",
        "--prepared", "M. Vey", "--checked", "O. Lind", given=SHIM,
    )  # fmt: skip
    assert status == 0
    for word in ("Bridge 7", "J4", "M. Vey", "O. Lind", "Revision B", "23.04 mm"):
        assert word in out
    assert "fieldapp 0" in out


@PAPER
def test_the_sheet_is_written_as_a_pdf_with_its_input_in_it(
    calc: Any, tmp_path: Path
) -> None:
    file = tmp_path / "shim.pdf"
    status, out, err = calc(
        "shim", "--pdf", str(file), "--job", "Gull Ford", given=SHIM
    )
    assert (status, err) == (0, "")
    assert out.startswith(f"{file}: ")
    pdf = PdfReader(file)
    assert "Gull Ford" in pdf.pages[0].extract_text()
    assert json.loads(pdf.attachments["input.json"][0]) == SHIM


def test_no_pdf_is_written_of_what_is_refused(calc: Any, tmp_path: Path) -> None:
    file = tmp_path / "shim.pdf"
    status, out, _ = calc("shim", "--pdf", str(file), given={**SHIM, "depth_m": 0})
    assert (status, out, file.exists()) == (2, "", False)


@pytest.mark.parametrize("name", catalogue.names())
def test_every_calculation_has_an_example_that_runs(calc: Any, name: str) -> None:
    status, example, _ = calc(name, "--example")
    assert status == 0
    status, out, err = calc(name, given=example)
    assert (status, err) == (0, "")
    assert isinstance(json.loads(out), dict)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (SHIM | {"depth_m": 0}, "depth_m is 0; allowed: a finite number, above 0 m"),
        (SHIM | {"colour": 1}, "colour is 1; allowed: no such key"),
        ("[1]", "input is [1]; allowed: an object of keys and values"),
        ("{", "allowed: one JSON object"),
        ("", "allowed: one JSON object"),
        ('{"depth_m": NaN}', "depth_m is NaN; allowed: a finite number"),
        ('{"depth_m": 1e999}', "depth_m is Infinity; allowed: a finite number"),
        ('{"depth_m": -Infinity}', "depth_m is -Infinity; allowed: a finite number"),
        ('{"depth_m": 1, "depth_m": 2}', "depth_m is 2; allowed: each key once"),
        ("[" * 5000, "allowed: one JSON object"),
        ('{"depth_m": ' + "9" * 5000 + "}", "allowed: one JSON object"),
    ],
)
@pytest.mark.parametrize("more", [[], ["--working"]])
def test_a_refusal_ends_with_two_and_writes_nothing_out(
    calc: Any, given: Any, words: str, more: list[str]
) -> None:
    if isinstance(given, str) and given.startswith('{"depth_m"') and "1, " not in given:
        given = given.replace("}", ', "thickness_mm": 1, "tip_distance_m": 2}')
    status, out, err = calc("shim", *more, given=given)
    assert (status, out) == (2, "")
    assert err.startswith("fieldapp: calc shim: ")
    assert words in err
    assert err.count("\n") == 1


def test_a_name_that_is_none_is_refused(calc: Any) -> None:
    status, out, err = calc("shims", given=SHIM)
    assert (status, out) == (2, "")
    assert "NAME is 'shims'; allowed: one of dew-point" in err


def test_a_file_that_is_not_there_is_refused(calc: Any, tmp_path: Path) -> None:
    status, out, err = calc("shim", "--file", str(tmp_path / "none.json"))
    assert (status, out) == (2, "")
    assert "none.json" in err


def test_bytes_that_are_no_text_are_refused(calc: Any) -> None:
    status, out, err = calc("shim", given=b"\xff\xfe{}")
    assert (status, out) == (2, "")
    wanted = (
        "standard input is no UTF-8 from byte 0 on; allowed: one JSON object in UTF-8"
    )
    assert err == f"fieldapp: {wanted}\n"


@pytest.mark.parametrize("name", ["\ud800", "a\nb", "\x1b[31m", "a\u2028b", "\x00"])
def test_a_name_that_no_line_can_hold_is_refused(calc: Any, name: str) -> None:
    state = {"name": name, "moment_x_knm": 0, "moment_y_knm": 0}
    data = {**catalogue.get("joint-stress").example, "states": [state]}
    for more in ((), ("--working",)):
        status, out, err = calc("joint-stress", *more, given=data)
        assert (status, out) == (2, "")
        assert "states[0].name is" in err
        assert "a text in one line" in err


def test_a_heading_that_no_line_can_hold_is_refused(calc: Any, tmp_path: Path) -> None:
    paper = tmp_path / "shim.pdf"
    for more in (("--working",), ("--pdf", str(paper))):
        status, out, err = calc("shim", *more, "--job", "a\udcffb", given=SHIM)
        assert (status, out) == (2, "")
        assert err.startswith(
            "fieldapp: calc shim: --job is 'a\\udcffb'; allowed: a text"
        )
    assert not paper.exists()


def test_a_terminal_without_the_signs_gets_them_escaped(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    written = io.BytesIO()
    monkeypatch.setattr("sys.stdin", Typed(json.dumps(SHIM).encode()))
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(written, encoding="ascii"))
    assert main(["calc", "shim", "--working"]) == 0
    assert b"1.6 / (1000 \\xd7 2.5)" in written.getvalue()
