"""A phone whose clock is wrong: page 1 says which entries and by how much."""

from fieldapp.records.hours import off_told, office_ms, phones_off
from fieldapp.records.view import RecordView, record_view
from tests.core.story import MINUTE_MS
from tests.records.book import Book
from tests.records.joint import GOOD_FACES
from tests.records.paper import PAPER, pages, printed, view

pytestmark = PAPER
AHEAD_MS = 23 * 60 * MINUTE_MS
LABEL = "signed by a wrong clock"


def test_hours_that_lie_in_the_future_are_told_on_page_one() -> None:
    told = signed_by(ahead_h=23, heard=False)
    (count,) = [each for each in told.counts if each.label == LABEL]
    assert count.number == 2
    (named,) = count.named
    # Received a second after it was signed, so a second less than 23 h is sure.
    assert "phone gang-1, clock at least 22 h 59 min ahead of the office's" in named
    assert "2 entries" in named


def test_a_clock_that_heard_the_office_is_told_by_what_it_heard() -> None:
    (count,) = [e for e in signed_by(-2, heard=True).counts if e.label == LABEL]
    assert "clock 2 h 00 min behind the office's" in count.named[0]


def test_of_clocks_that_were_right_nothing_is_said() -> None:
    assert LABEL not in {each.label for each in view("good").counts}
    assert LABEL not in " ".join(pages(printed("good")))


def test_an_hour_that_was_typed_is_not_called_wrong() -> None:
    (count,) = [e for e in signed_by(23, heard=True, typed=True).counts
                if e.label == LABEL]  # fmt: skip
    assert "were typed, perhaps off a right clock" in count.named[0]
    assert "wrong by as much" not in count.named[0]
    book = Book()
    book.at(0).say("note", by="tamsin", about={"text": "begun"})
    phone = book.phones["gang-1"]
    phone.skew_ms, phone.offset_ms = AHEAD_MS, -AHEAD_MS
    book.at(9).say("note", by="tamsin", ago=6, about={"text": "by the watch"})
    book.at(9).say("note", by="tamsin", about={"text": "by the phone"})
    _, typed, tapped = (entry for entry, _ in book.rows if entry.kind == "note")
    assert office_ms(typed, {}) == typed.at
    assert office_ms(tapped, {}) == tapped.at - AHEAD_MS
    assert "hour typed" in off_told(typed, {})
    (phone_off,) = phones_off([typed, tapped], {})
    assert "but for 1 typed" in phone_off.hours


def signed_by(ahead_h: int, *, heard: bool, typed: bool = False) -> RecordView:
    book = Book()
    book.at(0).say("note", by="tamsin", about={"text": "begun"}, on="gang-2")
    book.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    phone = book.phones["gang-1"]
    phone.skew_ms = ahead_h * 60 * MINUTE_MS
    phone.offset_ms = -phone.skew_ms if heard else None
    ago = 1 if typed else 0
    book.at(3).done("ready", by="tamsin", ago=ago, values={"gap": 1, "kit": 1})
    book.at(4).say("called", by="tamsin", ago=ago, point="mixing")
    return record_view(book.evidence())
