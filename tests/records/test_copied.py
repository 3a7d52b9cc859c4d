"""A sheet of paper copied in one go is told once, with every entry of it."""

from fieldapp.records.view import record_view
from tests.records.book import Book, told
from tests.records.paper import PAPER

pytestmark = PAPER
LINES = ("deck", "left", "right", "soffit")


def copied(book: Book, line: str, writer: str) -> str:
    return book.say("copied", by="tamsin", step="bead", line=line, values={"bead": 1},
                    about={"writer": writer})  # fmt: skip


def test_what_was_copied_from_one_sheet_is_told_together() -> None:
    book = told("bars").at(60)
    entries = [copied(book, line, "O. Penn") for line in LINES]
    (notice,) = record_view(book.evidence()).notices
    assert notice.words == ("Copied from paper.",)
    assert notice.act.text == "written by O. Penn"
    assert [each.entry for each in notice.alike] == [each[:10] for each in entries]
    # What each says is not lost: its readings stand among the steps, and here.
    assert all("Unbroken" in each.text for each in notice.alike)


def test_another_writer_or_a_few_entries_are_told_one_by_one() -> None:
    book = told("bars").at(60)
    for line, writer in zip(LINES, ("O. Penn", "O. Penn", "N. Noll", "O. Penn"),
                            strict=True):  # fmt: skip
        copied(book, line, writer)
    notices = record_view(book.evidence()).notices
    assert [bool(each.alike) for each in notices] == [False] * 4
    assert all("Bead Unbroken" in each.act.text for each in notices)
