"""What a check warns of, and refuses nothing for, is counted on page 1 by its step."""

from fieldapp.records.notices import Count, counts
from fieldapp.records.opened import open_evidence
from tests.records.book import Book, told
from tests.records.joint import GOOD_FACES

LABEL = "cautions"


def cautions(book: Book) -> Count:
    """Give the count of cautions on page 1."""
    told_of = counts(open_evidence(book.evidence()))
    return next(each for each in told_of if each.label == LABEL)


def test_a_caution_that_stands_is_named_by_its_step() -> None:
    book = told("mixing")
    assert cautions(book).number == 0
    # Humid air: the faces are less than 3 degrees above its dew point.
    book.at(8).done("faces", by="tamsin", values={**GOOD_FACES, "humidity": 95})
    found = cautions(book)
    title = book.sheet["steps"]["faces"]["title"]
    assert (found.number, found.named) == (1, (title,))
