"""What a gate forbade and happened anyway, copied from paper afterwards, on page 1."""

import pytest

from fieldapp.records import view
from fieldapp.records.notices import counts
from fieldapp.records.opened import Opened, open_evidence
from tests.records.book import Book
from tests.records.joint import FROZEN, faces

WHY = {"reason": "Not noticed in time", "writer": "N. Noll"}
PASSED = "passed without a release that counts"


@pytest.fixture
def passed() -> Opened:
    """Two kits mixed before anybody released mixing, copied an hour later."""
    book = Book(sheet={**FROZEN["sheet"], "amended": 2})
    faces(book)
    for number, minute in ((1, 68.0), (2, 73.0)):
        values = {"lot": "lot-c1", "mixed": 175}
        kit = {"line": f"kit-{number}", "values": values, "about": WHY}
        book.at(minute).say("copied", by="tamsin", step="mix-cool", ago=60, **kit)
    return open_evidence(book.evidence())


def test_an_act_copied_from_paper_that_a_gate_forbade_happened_anyway(
    passed: Opened,
) -> None:
    told = {each.label: each for each in counts(passed)}
    # The first kit passes the gate; the second is copied and no more.
    assert told["happened anyway"].number == 1
    assert "Kit 1" in told["happened anyway"].named[0]
    assert told["copied from paper"].number == 2


def test_a_gate_that_was_passed_like_that_stands_among_what_is_missing(
    passed: Opened,
) -> None:
    missing = dict(view._missing(passed))
    assert missing["Gate: mixing"][0] == f"{PASSED}."
    assert dict(view._summary(passed))["Hold points"] == (
        f"0 of 2 released, 1 {PASSED}"
    )


def test_a_gate_that_was_refused_and_passed_all_the_same_reads_no_milder() -> None:
    book = Book(sheet={**FROZEN["sheet"], "amended": 2})
    faces(book)
    about = {"reason": "Not seen at the face"}
    book.at(60).say("refusal", by="leofric", point="mixing", about=about)
    opened = open_evidence(book.evidence())
    assert dict(view._missing(opened))["Gate: mixing"][0] != f"{PASSED}."
    values = {"lot": "lot-c1", "mixed": 175}
    book.at(62).done("mix-cool", by="tamsin", line="kit-1", values=values)
    opened = open_evidence(book.evidence())
    assert dict(view._missing(opened))["Gate: mixing"][0] == f"{PASSED}."
    assert dict(view._summary(opened))["Hold points"] == f"0 of 2 released, 1 {PASSED}"
