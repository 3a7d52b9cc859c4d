"""What became of a STOP: what was reported of it, and what was decided by right."""

from copy import deepcopy
from typing import Any

import pytest

from fieldapp.records.incidents import incidents
from fieldapp.records.opened import open_evidence
from fieldapp.records.record import record_html
from fieldapp.records.view import record_view
from tests.records.book import Book, told
from tests.records.joint import CHAPTERS, FROZEN


def stopped(book: Book) -> str:
    """Give what is told of the one STOP of a book."""
    opened = open_evidence(book.evidence())
    (stop,) = [each.text for each in incidents(opened) if each.kind.startswith("STOP")]
    return str(stop)


def rained() -> Book:
    book = told("mixing")
    book.at(7).say("stopped", by="tamsin", about={"reason": "rain"})
    book.at(8).say("made_safe", by="tamsin", about={"how": "Rain"})
    return book


LOST = "Bar broken or slack"
UNTOLD = f"nothing recorded as “{LOST}”"


def carded() -> Book:
    """Give a book whose card "bar" names the step of a lost bar."""
    sheet = deepcopy(FROZEN["sheet"])
    (card,) = [each for each in sheet["cards"] if each["id"] == "bar"]
    card["step"] = "bar-lost"
    return Book(sheet=sheet)


def pull(book: Book, minute: float, **parts: Any) -> str:
    about = {"reason": "bar"}
    return book.at(minute).say("stopped", by="tamsin", about=about, **parts)


def lose(book: Book, minute: float, line: str, **parts: Any) -> str:
    book.at(minute)
    return book.done("bar-lost", by="tamsin", line=line, values={}, **parts)


def untold(book: Book) -> list[bool]:
    """Say of each STOP, in order, whether paper tells that nobody recorded its bar."""
    told = [e.text for e in incidents(open_evidence(book.evidence()))
            if e.kind.startswith("STOP")]  # fmt: skip
    return [UNTOLD in each for each in told]


def test_what_the_card_of_a_stop_names_is_never_said_not_to_have_been_called_for() -> (
    None
):
    book = carded()
    assert LOST in record_view(book.evidence()).not_called_for
    pull(book, 7)
    assert LOST not in record_view(book.evidence()).not_called_for
    assert untold(book) == [True]
    lose(book, 8, "b1")
    assert untold(book) == [False]
    # A bar that was replaced has its loss discarded: that was recorded once.
    book.at(9).say("discarded", by="tamsin", step="bar-lost", line="b1",
                   about={"reason": "another bar"})  # fmt: skip
    assert f"recorded as “{LOST}”, discarded since" in stopped(book)
    assert untold(book) == [False]
    view = record_view(book.evidence())
    assert [e.mark.word for e in view.steps] == ["recorded, discarded since"]
    # A bar is no batch; what is missing does not read as if it were there.
    assert "batch" not in record_html(view)
    missing = [text for _, texts in view.missing for text in texts]
    assert "Wanted: Faces and air read within the last 60 minutes." in missing


def test_a_rework_leaves_recorded_what_was_recorded_of_a_stop() -> None:
    book = carded()
    for chapter in ("faces", "mixing", "kits", "closed"):
        CHAPTERS[chapter](book)
    pull(book, 24)
    lose(book, 25, "b1")
    fault = book.at(26).say("nonconformance", by="tamsin", about={"text": "Slack"})
    about = {"target": fault, "verdict": "rework", "from": "faces", "reason": "again"}
    attempt = book.at(30).say("disposition", by="caspar", on="design", about=about)
    assert record_view(book.evidence()).attempts
    assert untold(book) == [False]
    # What is lost in the next attempt says nothing of a STOP of the first.
    pull(book, 40, attempt=attempt)
    assert untold(book) == [False, True]
    lose(book, 41, "b1", attempt=attempt)
    assert untold(book) == [False, False]


def test_a_bar_lost_in_a_later_attempt_is_not_of_a_stop_before() -> None:
    book = carded()
    pull(book, 7)
    fault = book.at(8).say("nonconformance", by="tamsin", about={"text": "Slack"})
    about = {"target": fault, "verdict": "rework", "from": "faces", "reason": "again"}
    attempt = book.at(9).say("disposition", by="caspar", on="design", about=about)
    lose(book, 41, "b1", attempt=attempt)
    assert untold(book) == [True]


def test_a_bar_recorded_of_one_stop_says_nothing_of_the_next() -> None:
    book = carded()
    pull(book, 7)
    lose(book, 8, "b1")
    pull(book, 9)
    assert untold(book) == [False, True]
    lose(book, 10, "b2")
    assert untold(book) == [False, False]


def test_a_bar_recorded_just_before_its_stop_is_of_it() -> None:
    book = carded()
    lose(book, 6, "b1")
    pull(book, 7)
    assert untold(book) == [False]
    lose(book, 8, "b2")
    pull(book, 9)
    assert untold(book) == [False, False]


def test_two_stops_pulled_side_by_side_are_told_of_by_one_bar() -> None:
    book = carded()
    book.at(6).say("note", by="jorun", on="gang-2", about={"text": "Fog"})
    first = pull(book, 7)
    theirs = book.phones["gang-2"].entries
    unheard = theirs.pop(first)
    pull(book, 7.1, on="gang-2")
    theirs[first] = unheard
    assert untold(book) == [True, True]
    lose(book, 8, "b1")
    assert untold(book) == [False, False]


@pytest.mark.parametrize("minute", [7.5, 9, 300])
def test_what_is_reported_once_a_stop_is_known_is_of_that_stop(minute: float) -> None:
    book = rained()
    book.at(minute).say("nonconformance", by="tamsin", about={"text": "Wet face"})
    assert "reported: not decided" in stopped(book)


def test_what_was_reported_before_a_stop_is_not_of_it() -> None:
    book = told("mixing")
    book.at(6).say("nonconformance", by="tamsin", about={"text": "A hose leaks"})
    book.at(7).say("stopped", by="tamsin", about={"reason": "rain"})
    assert "reported" not in stopped(book)


def test_only_who_may_decide_decided_what_became_of_a_stop() -> None:
    book = rained()
    fault = book.at(9).say("nonconformance", by="tamsin", about={"text": "Wet face"})
    about = {"target": fault, "verdict": "use_as_is", "reason": "dry again"}
    book.at(10).say("disposition", by="tamsin", about=about)
    assert "reported: not decided" in stopped(book)
    book.at(11).say("disposition", by="caspar", on="design", about=about)
    assert "reported: use as is" in stopped(book)
