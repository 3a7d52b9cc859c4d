"""What became of a STOP: what was reported of it, and what was decided by right."""

import pytest

from fieldapp.records.incidents import incidents
from fieldapp.records.opened import open_evidence
from tests.records.book import Book, told


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
