"""Nonconformances are told once a reason; an added picture is no correction."""

from dataclasses import replace

from fieldapp.records.notices import Nonconformance
from fieldapp.records.opened import open_evidence
from fieldapp.records.reasons import by_reason
from fieldapp.records.view import record_view
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
        (first.place, first.reading, first.id), ("Kit 2", "b", "2")
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


def test_a_picture_added_later_is_not_counted_as_a_correction() -> None:
    book = told("mixing")
    reading = book.at(9).done("faces", by="tamsin", values=GOOD_FACES)
    book.at(10).say("correction", by="tamsin", step="faces", photos=[PHOTO],
                    about={"target": reading, "reason": "Added"})  # fmt: skip
    record = record_view(book.evidence())
    counted = {each.label: each.number for each in record.counts}
    assert counted["photographs added later"] == 1
    assert counted["corrections"] == 0
    notice = record.notices[-1]
    assert notice.words == ("A photograph was added later.",)
    assert notice.act.kind == "photograph added"


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
