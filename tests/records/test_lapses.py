"""A release that lapses when its work is done is a fact; before that it is a flag."""

from collections.abc import Callable

import pytest

from fieldapp.records.notices import counts, notices
from fieldapp.records.opened import open_evidence
from tests.records.book import Book, told

AFTER, BEFORE = "releases lapsed after use", "otherwise flagged"


def rained(until: str, minute: float) -> Book:
    """Rain, which takes back the release for mixing, once told up to a moment."""
    book = told(until)
    book.at(minute).say("stopped", by="tamsin", about={"reason": "rain"})
    return book


@pytest.mark.parametrize(
    ("story", "label", "words"),
    [
        (lambda: rained("mixing", 7), BEFORE, "by STOP: Rain."),
        (
            lambda: rained("closed", 23.5),
            AFTER,
            "by STOP: Rain. What was done through it before stands.",
        ),
    ],
)
def test_a_release_that_lapsed_is_told_by_whether_it_was_used(
    story: Callable[[], Book], label: str, words: str
) -> None:
    opened = open_evidence(story().evidence())
    found = {each.label: each.number for each in counts(opened)}
    assert {name: found[name] for name in (AFTER, BEFORE)} == {
        AFTER: 0,
        BEFORE: 0,
        label: 1,
    }
    ((said,),) = [each.words for each in notices(opened)]
    # The words name it: no second line says so again.
    assert all(each.names_it for each in notices(opened))
    assert said.startswith("Gate: mixing: the release of ")
    assert said.endswith(words)


def test_one_that_lapsed_and_was_given_again_was_not_used() -> None:
    book = rained("mixing", 7)
    book.at(7.5).say("made_safe", by="tamsin", about={"how": "Rain"})
    book.at(8).release("mixing", by="leofric")
    values = {"lot": "lot-c1", "mixed": 175}
    book.at(9).done("mix-cool", by="tamsin", line="kit-1", values=values)
    found = {each.label: each.number for each in counts(open_evidence(book.evidence()))}
    assert (found[AFTER], found[BEFORE]) == (0, 1)


def test_a_release_of_an_attempt_that_did_not_stand_was_used_too() -> None:
    book = rained("closed", 23.5)
    wet = {"text": "Wet", "step": "close"}
    fault = book.at(24).say("nonconformance", by="jorun", on="gang-2", about=wet)
    rework = {"target": fault, "verdict": "rework", "from": "faces", "reason": "Wet"}
    book.at(25).say("disposition", by="caspar", on="design", about=rework)
    found = {each.label: each.number for each in counts(open_evidence(book.evidence()))}
    assert (found[AFTER], found[BEFORE]) == (1, 0)
