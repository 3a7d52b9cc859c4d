"""What became of a STOP: what was reported of it, and what was decided by right."""

from copy import deepcopy

import pytest

from fieldapp.records.incidents import incidents
from fieldapp.records.opened import open_evidence
from fieldapp.records.view import record_view
from tests.records.book import Book, told
from tests.records.joint import FROZEN


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


def test_what_the_card_of_a_stop_names_is_never_said_not_to_have_been_called_for() -> (
    None
):
    sheet = deepcopy(FROZEN["sheet"])
    (card,) = [each for each in sheet["cards"] if each["id"] == "bar"]
    card["step"] = "bar-lost"
    book = Book(sheet=sheet)
    lost = "Bar broken or slack"
    assert lost in record_view(book.evidence()).not_called_for
    book.at(7).say("stopped", by="tamsin", about={"reason": "bar"})
    assert lost not in record_view(book.evidence()).not_called_for
    assert f"nothing recorded as “{lost}”" in stopped(book)
    book.at(8).done("bar-lost", by="tamsin", line="b1", values={})
    assert "nothing recorded" not in stopped(book)


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
