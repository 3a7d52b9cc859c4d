"""In whose place a deputy released: the call still in force, and how long it waited."""

from copy import deepcopy

from fieldapp.records.view import record_view
from tests.records.book import Book
from tests.records.joint import FROZEN, GOOD_FACES

WAIT_MIN = 20


def ready() -> Book:
    """Tell a joint whose mixing gate has a deputy: the engineer, 20 minutes on."""
    sheet = deepcopy(FROZEN["sheet"]) | {"amended": 2}
    (wanted,) = sheet["points"]["mixing"]["releases"]
    wanted["deputies"] = [{"role": "erection-engineer", "after_ms": WAIT_MIN * 60_000}]
    book = Book(sheet=sheet)
    book.at(1).done("faces", by="tamsin", values=GOOD_FACES)
    book.at(2).done("ready", by="tamsin", values={"gap": 1, "kit": 1})
    return book


def meanings(book: Book) -> list[tuple[str, str]]:
    (point,) = [p for p in record_view(book.evidence()).points if p.id == "mixing"]
    return [(each.meaning, each.stands) for each in point.acts]


def test_a_deputy_is_told_with_the_call_that_waited() -> None:
    book = ready()
    book.at(3).say("called", by="tamsin", point="mixing")
    book.at(25).release("mixing", by="edric")
    (_, (told, stands)) = meanings(book)
    assert told.startswith("released as deputy: Inspector, called ")
    assert told.endswith(":03, had not come after 22 min")
    assert stands == "stands"


def test_called_twice_is_told_with_the_call_that_waited_longer() -> None:
    book = ready()
    book.at(3).say("called", by="tamsin", point="mixing")
    book.at(20).say("called", by="tamsin", point="mixing")
    book.at(25).release("mixing", by="edric")
    told, stands = meanings(book)[-1]
    assert told.endswith(":03, had not come after 22 min")
    assert stands == "stands"


def test_a_call_withdrawn_since_is_nobodys_wait() -> None:
    book = ready()
    book.at(3).say("called", by="tamsin", point="mixing")
    book.at(5).say("called", by="tamsin", point="mixing")
    book.at(8).say("call_withdrawn", by="tamsin", point="mixing",
                   about={"reason": "rain"})  # fmt: skip
    book.at(9).say("called", by="tamsin", point="mixing")
    book.at(30).release("mixing", by="edric")
    told, stands = meanings(book)[-1]
    assert told.endswith(":09, had not come after 21 min")
    assert stands == "stands"


def test_with_the_only_call_withdrawn_nobody_is_said_not_to_have_come() -> None:
    book = ready()
    book.at(3).say("called", by="tamsin", point="mixing")
    book.at(8).say("call_withdrawn", by="tamsin", point="mixing",
                   about={"reason": "rain"})  # fmt: skip
    book.at(30).release("mixing", by="edric")
    assert meanings(book)[-1] == ("released", "did not count")
