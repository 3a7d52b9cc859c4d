"""Records of other kinds of subject: what the sheet asks for is drawn, by no id.

A sheet that names no picture of its own (as a duct's or a grouting day's) gets the
course of its raced steps and its readings against their limits.
"""

import copy
from dataclasses import replace
from functools import cache
from typing import Any

from fieldapp.records.evidence import Evidence
from fieldapp.records.opened import Opened, open_evidence
from fieldapp.records.pictures import drawings
from fieldapp.records.pictures.course import course
from fieldapp.records.pictures.drawing import Drawing
from fieldapp.records.pictures.elevation import elevation
from fieldapp.records.pictures.within import PAPER, within
from fieldapp.records.view import record_view
from tests.records.book import Book
from tests.records.joint import CHAPTERS, FROZEN
from tests.records.paper import evidence, view


def plain_sheet(**changes: Any) -> dict[str, Any]:
    """The frozen sheet without pictures of its own."""
    return {**copy.deepcopy(FROZEN["sheet"]), "pictures": [], **changes}


@cache
def plain() -> Opened:
    """The good joint on a sheet that asks for no picture; one face read too cold."""
    book = Book(sheet=plain_sheet())
    for name, tell in CHAPTERS.items():
        if name == "bars":
            reading = {"film": 8}
            book.at(22).done("spots", by="tamsin", line="top", values=reading)
        tell(book)
    return open_evidence(book.evidence())


def empty(sheet: dict[str, Any]) -> Evidence:
    book = Book(sheet=sheet)
    return book.evidence()


def words(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if shape.tag == "text"]


def test_a_sheet_with_pictures_of_its_own_gets_only_those() -> None:
    opened = open_evidence(evidence("good"))
    told = [each.title for each in drawings(opened)]
    assert not any("Course of the work" in each for each in told)


def test_the_course_tells_every_raced_line_with_its_time() -> None:
    drawn = course(plain())
    assert drawn is not None
    # Kits mixed 8 and 13 minutes after 09:00, on the face six minutes later.
    assert "Kit 1 09:08, Kit 2 09:13" in drawn.title
    assert "Kit 1 09:14, Kit 2 09:19" in drawn.title
    assert "Faces and air" not in words(drawn), "gated steps are no race"


def test_times_stand_on_one_axis_in_their_order() -> None:
    drawn = course(plain())
    assert drawn is not None
    dots = [dict(s.attributes) for s in drawn.shapes if s.tag == "circle"]
    rows: dict[str, list[float]] = {}
    for dot in dots:
        rows.setdefault(dot["cy"], []).append(float(dot["cx"]))
    mixed, spread, *_rest = rows.values()
    # Five minutes apart in both rows; six minutes from one row to the other.
    step = mixed[1] - mixed[0]
    assert abs((spread[1] - spread[0]) - step) < 0.02
    assert abs((spread[0] - mixed[0]) - step * 6 / 5) < 0.02


def test_too_few_raced_steps_have_no_course() -> None:
    assert course(open_evidence(empty(plain_sheet()))) is None


def test_readings_stand_against_the_limits_of_the_sheet() -> None:
    drawn = list(within(plain()))
    assert drawn
    told = "; ".join(each.title for each in drawn)
    assert "margin above dew point" in told
    assert "(at least 3.00 °C)" in told
    # 0.8 mm of film where 1.0 to 3.0 are allowed.
    assert "Deck: film: 0.8\N{NO-BREAK SPACE}mm (1.0 to 3.0 mm), outside" in told


def test_a_figure_lies_in_its_band_as_its_value_does_in_its_limits() -> None:
    (drawn, *_) = within(plain())
    rows = [
        (dict(a.attributes), b.text)
        for a, b in zip(drawn.shapes, drawn.shapes[1:], strict=False)
        if a.tag == "circle"
    ]
    # 1.7 mm between 1.0 and 3.0: seven twentieths of the band.
    middle = PAPER.low + 7 / 20 * (PAPER.high - PAPER.low)
    films = [float(at["cx"]) for at, limit in rows if limit == "1.0 to 3.0 mm"]
    assert films
    assert all(abs(x - middle) < 0.02 for x in films)
    outside = [at for at, limit in rows if limit.endswith(" !")]
    assert len(outside) == 1
    assert float(outside[0]["cx"]) < PAPER.low


def test_a_subject_over_several_joints_is_marked_from_the_first_to_the_last() -> None:
    waits = [
        {"subject": name, "milestone": "m", "before": []} for name in ("j-w1", "j-e1")
    ]
    sheet = plain_sheet(subject="t-9", prerequisites=waits)
    found = replace(empty(plain_sheet()), sheet=sheet)
    drawn = elevation(open_evidence(found))
    assert drawn is not None
    assert "t-9" in words(drawn)
    marks = [s for s in drawn.shapes if dict(s.attributes).get("stroke-width") == "0.9"]
    assert len(marks) == 3, "two joints, and the line between them"
    level = dict(marks[2].attributes)
    xs = sorted(float(dict(mark.attributes)["x1"]) for mark in marks[:2])
    assert xs == sorted([float(level["x1"]), float(level["x2"])])


def test_a_subject_of_no_joint_marks_its_pier() -> None:
    site = copy.deepcopy(FROZEN["site"])
    pier = site["piers"][0]
    site["subjects"] = [{"id": "g-1", "title": "Group", "kind": "day",
                         "pier": pier["id"]}]  # fmt: skip
    sheet = plain_sheet(subject="g-1", prerequisites=[])
    drawn = elevation(
        open_evidence(replace(empty(plain_sheet()), sheet=sheet, site=site))
    )
    assert drawn is not None
    assert "g-1" in words(drawn)
    subject = [s for s in drawn.shapes if dict(s.attributes).get("fill") == "#1d5a94"]
    assert len(subject) == 2, "the head of the pier and its shaft"


def test_a_line_of_ids_of_subjects_is_told_by_their_titles() -> None:
    site = {**FROZEN["site"], "subjects": [
        {"id": "t-1", "title": "Tendon 1"}, {"id": "t-2", "title": "Tendon 2"},
    ]}  # fmt: skip
    facts = [
        {"label": "Ducts", "value": "t-1 t-2"},
        {"label": "Bore", "value": "t-1 x"},
    ]
    found = replace(empty(plain_sheet()), sheet=plain_sheet(facts=facts), site=site)
    told = {each["label"]: each["value"] for each in record_view(found).facts}
    assert told == {"Ducts": "Tendon 1, Tendon 2", "Bore": "t-1 x"}


def test_what_was_read_in_rounds_stands_an_item_a_row() -> None:
    bars = next(each for each in view("good").steps if each.id == "bars")
    assert bars.form == "rounds"
    assert bars.rounds is not None
    assert [each.title for each in bars.rounds.heads] == [
        "Round 1",
        "Round 2",
        "Round 3",
    ]
    assert bars.rounds.heads[2].columns == (
        "Pressure [bar]", "Extension [mm]", "Force [kN]",
    )  # fmt: skip
    first = bars.rounds.rows[0]
    assert [cell.texts[0] for cell in first.cells] == ["123", "230", "307"]
    entries = {line.entry for line in bars.lines.rows}
    printed = {cell.entry for row in bars.rounds.rows for cell in row.cells}
    assert printed == entries, "no reading is left out"


def test_in_rounds_times_are_the_sites_where_a_phone_stood_elsewhere() -> None:
    book = Book(site={**FROZEN["site"], "zone": 120})
    for tell in CHAPTERS.values():
        tell(book)
    bars = next(e for e in record_view(book.evidence()).steps if e.id == "bars")
    assert bars.rounds is not None
    # First bar: minute 24 after 08:00 UTC, two hours east of it; its phone says 09:24.
    assert bars.rounds.rows[0].cells[0].when == "10:24"
    said = "Times by the site's clock; a phone stood at UTC+01:00."
    assert bars.rounds.limits[-1] == said
    assert not any(said in each.rounds.limits for each in view("good").steps
                   if each.rounds)  # fmt: skip


def test_a_bar_outside_its_band_is_told_in_the_table_and_under_it() -> None:
    bars = next(each for each in view("use_as_is").steps if each.id == "bars")
    assert bars.rounds is not None
    row = next(each for each in bars.rounds.rows if "bar 3" in each.label)
    assert row.cells[2].texts[-1].endswith(" ✕")
    assert [r.label for r in bars.lines.rows if r.remarks] == [
        next(r.label for r in bars.lines.rows if r.label.startswith("Round 3, bar 3"))
    ]


def test_an_attempt_that_did_not_stand_tells_only_what_was_read_otherwise() -> None:
    (first,) = view("over_time").attempts
    told = [part.id for block in first.blocks for part in block.parts]
    assert "bars" in told
    assert len(told) == len(set(told))
    again = {part.id for part in view("over_time").steps}
    assert set(told) <= again | {"cleaned"}
