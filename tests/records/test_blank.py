"""The blank sheet on paper: it asks for everything the sheet asks, in room to write."""

from functools import cache

import pytest

from fieldapp.core.sheet import prepare
from fieldapp.records.blank import blank_pdf, blank_view
from fieldapp.records.files import SHEET
from fieldapp.records.names import Names
from fieldapp.records.verify import unpack
from tests.records.joint import FROZEN
from tests.records.paper import PAPER, opened, pages, structure

pytestmark = PAPER
NOW = 1_800_000_000_000
RAW = FROZEN["sheet"]
NAMES = Names(site=FROZEN["site"])


@cache
def printed(paper: str = "A4") -> bytes:
    return blank_pdf(prepare(RAW, FROZEN["tables"]), NAMES, NOW, paper)


def squeezed(text: str) -> str:
    return "".join(text.split())


@cache
def said() -> str:
    return squeezed(" ".join(pages(printed())))


def test_every_step_field_unit_line_and_choice_is_there() -> None:
    for step in RAW["steps"].values():
        assert squeezed(step["title"]) in said()
        for field in step.get("fields", ()):
            unit = f", {field['unit']}" if field.get("unit") else ""
            assert squeezed(field["label"] + unit) in said(), field
            for option in field.get("options", ()):
                assert squeezed("☐" + option["label"]) in said(), option
        for line in step.get("lines", ()):
            assert squeezed(line["label"]) in said(), line


def test_cautions_and_what_is_held_against_a_reading_are_there() -> None:
    for step in RAW["steps"].values():
        assert squeezed(step.get("caution", "")) in said()
        for check in step.get("checks", ()):
            assert squeezed(check["text"]) in said()
    # The band of each bar and round, as the plan's own lines state it.
    assert squeezed("Force, kN: 427.5 to 472.5") in said()


def test_a_gate_has_a_signature_line_for_each_who_must_sign() -> None:
    wanted = sum(len(point["releases"]) for point in RAW["points"].values())
    assert said().count("Signature") == wanted
    assert squeezed("A release on paper is not a release") in said()


def test_clocks_to_note_stand_with_the_minutes_of_the_certified_table() -> None:
    # joint.json, open-cool: at 5.0 °C the certified rate is 111 111 112e-15 of the life
    # a ms: 150 min. Seven tenths of it are 105 min, 23/20 are 172.5 min, cut to 172.
    view = blank_view(prepare(RAW, FROZEN["tables"]), NAMES, NOW)
    steps = [part for sort, part in view.parts if sort == "step"]
    clock = next(c for s in steps for c in s.clocks if c.title.startswith("Open time"))
    assert clock.temperatures[0] == "5.0\N{NO-BREAK SPACE}°C"
    assert [row[0] for row in clock.minutes] == [
        "1 h 45 min", "2 h 30 min", "2 h 52 min",
    ]  # fmt: skip
    for title in clock.deadlines:
        assert squeezed(title) in said()
    assert "Beganat:" in said()


def test_the_sheet_is_named_by_hash_and_attached() -> None:
    whole = prepare(RAW, FROZEN["tables"])
    assert whole.hash in said()
    files = unpack(printed())
    assert list(files) == [SHEET]


@pytest.mark.parametrize(
    ("paper", "sides"), [("A4", [595, 841]), ("Letter", [612, 792])]
)
def test_it_is_set_on_the_paper_asked_for(paper: str, sides: list[int]) -> None:
    pdf = opened(printed(paper))
    assert [int(float(side)) for side in pdf.pages[0].MediaBox][2:] == sides


def test_it_is_tagged_and_its_code_is_told_in_words() -> None:
    pdf = opened(printed())
    figures = [str(e.Alt) for e in structure(pdf) if e.S == "/Figure"]
    assert len(figures) == 1
    assert f"FR1:SUBJECT:{RAW['site']}:{RAW['subject']}:" in figures[0]
    assert {"/H1", "/H2", "/Table"} <= {str(e.S) for e in structure(pdf)}
