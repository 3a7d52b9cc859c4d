"""Nonconformances are told once a reason; an added picture is no correction."""

from dataclasses import replace

from fieldapp.records.nonconformances import Nonconformance
from fieldapp.records.opened import open_evidence
from fieldapp.records.reasons import by_reason
from fieldapp.records.view import RecordView, record_view
from tests.records.book import Book, told
from tests.records.joint import FROZEN, GOOD_FACES
from tests.records.paper import view

PHOTO = "7c" * 32


def kit_past_a_gate() -> Nonconformance:
    """A kit mixed though nobody released it."""
    book = Book()
    book.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    kit = {"line": "kit-1", "by": "tamsin"}
    book.at(12).done("mix-cool", **kit, values={"lot": "lot-c1", "mixed": 175})
    found = record_view(book.evidence()).nonconformances
    return next(each for each in found if each.step.startswith("Kits"))


def test_what_is_alike_at_several_lines_is_one_reason_that_names_them_all() -> None:
    first = kit_past_a_gate()
    place = first.place.replace("Kit 1", "Kit 2")
    second = replace(first, id="2", line="Kit 2", place=place, reading="b", acts=())
    (reason,) = by_reason((first, second))
    assert reason.places == (
        (first.place, first.reading, first.id, first.found),
        ("Kit 2", "b", "2", second.found),
    )  # fmt: skip
    assert first.acts[0].entry == first.reading
    assert reason.acts == (), "a reading stands among the steps, not here"
    other = replace(second, words="Something else")
    assert len(by_reason((first, other))) == 2


def test_different_reasons_are_not_thrown_together() -> None:
    record = view("troubled")
    told = [each.words for each in record.reasons]
    assert len(told) == len(set(told)) == 3
    assert sum(len(each.places) for each in record.reasons) == 3


def _with_a_picture_added(*, at: int) -> tuple[RecordView, dict[str, int]]:
    """Give the record of faces read at 9 and a picture added then, and its counts."""
    book = told("mixing")
    reading = book.at(9).done("faces", by="tamsin", values=GOOD_FACES)
    book.at(at).say("correction", by="tamsin", step="faces", photos=[PHOTO],
                    about={"target": reading, "reason": "Added"})  # fmt: skip
    record = record_view(book.evidence())
    return record, {each.label: each.number for each in record.counts}


def test_a_picture_added_later_is_not_counted_as_a_correction() -> None:
    record, counted = _with_a_picture_added(at=40)
    assert counted["photographs added later"] == 1
    assert counted["corrections"] == 0
    notice = record.notices[-1]
    assert notice.words == ("A photograph was added later.",)
    assert notice.act.kind == "photograph added"


def test_a_picture_added_at_once_by_who_took_the_reading_is_no_flag() -> None:
    record, counted = _with_a_picture_added(at=10)
    assert counted["photographs added later"] == 0
    assert counted["corrections"] == 0
    assert not any(each.act.kind == "photograph added" for each in record.notices)
    faces = next(each for each in record.steps if each.id == "faces")
    assert faces.lines.rows[0].earlier[-1].startswith("photograph added ")


def test_a_rules_nonconformance_says_figure_limit_hour_and_name() -> None:
    book = told("mixing")
    hot = {"line": "kit-1", "by": "tamsin"}
    book.at(9).done("mix-cool", **hot, values={"lot": "lot-c1", "mixed": 175})
    book.at(10).done("face-temp", by="tamsin", values={"hottest": 211})
    (found,) = [each for each in record_view(book.evidence()).nonconformances
                if each.step.startswith("Hottest")]  # fmt: skip
    figure, limit, when, who = found.found.split(", ")
    assert (figure, limit) == ("21.1\u00a0°C", "at most 20.0\u00a0°C")
    assert when.startswith("20")
    assert who == "Tamsin Orbell"


def test_a_failed_reading_read_again_says_what_it_failed() -> None:
    book = told("mixing")
    book.at(9).done("mix-cool", by="tamsin", line="kit-1",
                    values={"lot": "lot-c1", "mixed": 175})  # fmt: skip
    read = book.at(10).done("face-temp", by="tamsin", values={"hottest": 211})
    book.at(11).say("correction", by="tamsin", step="face-temp",
                    values={"hottest": 181},
                    about={"target": read, "reason": "Misread"})  # fmt: skip
    record = record_view(book.evidence())
    temp = next(each for each in record.steps if each.id == "face-temp")
    assert "failed: The face is hotter than" in temp.lines.rows[0].earlier[0]


def test_a_time_over_names_its_deadline_and_by_how_much() -> None:
    found = [each.found for each in view("over_time").nonconformances]
    assert any(
        each.startswith("Pressure by ") and ": missed by " in each for each in found
    ), found


def test_a_stop_says_what_became_of_it() -> None:
    (stop,) = [each for each in view("troubled").incidents if each.kind == "STOP"]
    assert "; made safe " in stop.text
    assert " by Jorun Faleck (" in stop.text


def test_an_old_sheets_jack_is_out_of_calibration_and_a_lot_expires() -> None:
    # Frozen before fields said that what they name is calibrated.
    assert not any(
        field.get("calibrated")
        for step in FROZEN["sheet"]["steps"].values()
        for field in step.get("fields", ())
    )
    words = open_evidence(told("bars").evidence()).words
    said = words.failure("bars", "b1-r1", "item_expired:jack")
    assert said.startswith("Out of calibration: Jack A")
    said = words.failure("mix-cool", "kit-1", "item_expired:lot")
    assert said.startswith("Expired: ")
