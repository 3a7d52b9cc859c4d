"""Lines that two phones read without knowing of each other, told on page 1."""

from fieldapp.records.notices import counts
from fieldapp.records.opened import open_evidence
from tests.records.book import Book, told
from tests.records.joint import GOOD_FACES

LABEL = "contradicted lines"


def counted(book: Book) -> tuple[int, tuple[str, ...]]:
    (found,) = [each for each in counts(open_evidence(book.evidence()))
                if each.label == LABEL]  # fmt: skip
    return found.number, found.named


def test_a_line_read_on_one_phone_alone_is_not_contradicted() -> None:
    book = told("mixing")
    book.at(9).done("faces", by="tamsin", values={**GOOD_FACES, "air": 170})
    assert counted(book) == (0, ())


def test_two_phones_that_read_otherwise_are_told_until_settled_and_after() -> None:
    book = told("mixing")
    book.at(8).say("note", by="jorun", on="gang-2", about={"text": "On"})
    one = book.at(9).done("faces", by="tamsin", values={**GOOD_FACES, "air": 170})
    # The other phone was out of reach: it never had the first reading.
    del book.phones["gang-2"].entries[one]
    book.at(10).done("faces", by="jorun", on="gang-2", values=GOOD_FACES)
    number, named = counted(book)
    assert number == 1
    assert named[0].endswith(" (not settled)")
    book.phones["gang-2"].entries[one] = book.phones["gang-1"].entries[one]
    book.at(12).done("faces", by="tamsin", values=GOOD_FACES)
    number, named = counted(book)
    assert number == 1
    assert not named[0].endswith(" (not settled)")
