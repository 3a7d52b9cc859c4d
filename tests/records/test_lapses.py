"""A release that lapses when its work is done is a fact; before that it is a flag."""

from collections.abc import Callable

import pytest

from fieldapp.records.notices import counts, notices
from fieldapp.records.opened import open_evidence
from tests.records.book import Book, told

AFTER, BEFORE = "releases lapsed after use", "otherwise flagged"
SAID = "This release has lapsed."


def rained(until: str, minute: float) -> Book:
    """Rain, which takes back the release for mixing, once told up to a moment."""
    book = told(until)
    book.at(minute).say("stopped", by="tamsin", about={"reason": "rain"})
    return book


@pytest.mark.parametrize(
    ("story", "label", "words"),
    [
        (lambda: rained("mixing", 7), BEFORE, SAID),
        (
            lambda: rained("closed", 23.5),
            AFTER,
            f"{SAID} What was done through it before stands.",
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
    assert [each.words for each in notices(opened)] == [(words,)]


def test_one_that_lapsed_and_was_given_again_was_not_used() -> None:
    book = rained("mixing", 7)
    book.at(7.5).say("made_safe", by="tamsin", about={"how": "Rain"})
    book.at(8).release("mixing", by="leofric")
    values = {"lot": "lot-c1", "mixed": 175}
    book.at(9).done("mix-cool", by="tamsin", line="kit-1", values=values)
    found = {each.label: each.number for each in counts(open_evidence(book.evidence()))}
    assert (found[AFTER], found[BEFORE]) == (0, 1)
