"""Clocks of an attempt that did not stand: ended by rework, and what outlasts it by
what took the adhesive off again.
"""

from copy import deepcopy

from fieldapp.records.view import record_view
from tests.records.book import Book, told
from tests.records.joint import CHAPTERS, FROZEN, GOOD_FACES
from tests.records.stories import bars, over_time


def stopped_in_time(*, cleaned: bool) -> tuple[tuple[str, str], ...]:
    """Give how the deadlines went of a joint ordered to be parted at 30 minutes."""
    book = told("closed")
    wet = {"text": "Rain on the face", "step": "close"}
    fault = book.at(29).say("nonconformance", by="jorun", on="gang-2", about=wet)
    rework = {"target": fault, "verdict": "rework", "from": "faces", "reason": "Wet"}
    attempt = book.at(30).say("disposition", by="caspar", on="design", about=rework)
    if cleaned:
        again = {"by": "tamsin", "attempt": attempt}
        book.at(40).done("cleaned", **again, values={"clean": 1})
        book.at(90).done("faces", **again, values=GOOD_FACES)
    (first,) = record_view(book.evidence()).attempts
    (clock,) = [each for each in first.clocks if not each.per_line]
    assert clock.ended
    assert clock.mark.word == "ended"
    assert clock.until.startswith("rework was ordered, ")
    return tuple((each.title, each.kept) for each in clock.deadlines)


def test_rework_ends_what_is_judged_and_cleaning_what_outlasts_it() -> None:
    told = dict(stopped_in_time(cleaned=True))
    parting = told.pop("Part clean by, or not at all")
    assert parting.startswith("joint parted and cleaned ")
    assert parting.endswith(" in hand")
    assert all(
        each.endswith("in hand when rework was ordered") for each in told.values()
    )


def test_what_nobody_took_off_yet_runs_on() -> None:
    told = dict(stopped_in_time(cleaned=False))
    parting = told["Part clean by, or not at all"]
    assert parting.endswith(", nothing taken off yet")


def test_part_clean_by_is_held_against_the_parting_not_against_the_pressure() -> None:
    (first,) = record_view(over_time().evidence()).attempts
    (clock,) = [each for each in first.clocks if not each.per_line]
    told = {each.id: each.kept for each in clock.deadlines}
    assert clock.until == "contact pressure on all bars"
    assert told["over"].startswith("missed by ")
    # Pressed after 98 minutes, parted after 128: by the second it is late.
    assert told["part"].startswith("joint parted and cleaned ")
    assert told["part"].endswith(" late")


def test_a_joint_pressed_past_part_clean_by_and_not_parted_missed_no_parting() -> None:
    book = told("closed")
    bars(book, 80.0)
    (clock,) = [e for e in record_view(book.evidence()).clocks if not e.per_line]
    kept = {each.id: each.kept for each in clock.deadlines}
    assert kept["over"].startswith("missed by ")
    assert kept["part"].startswith("passed ")
    assert kept["part"].endswith(" before contact pressure on all bars")


def test_an_order_of_somebody_who_may_not_order_ends_no_attempt() -> None:
    book = told("closed")
    fault = book.at(24).say("nonconformance", by="jorun", about={"text": "Wet face"})
    rework = {"target": fault, "verdict": "rework", "from": "faces", "reason": "Wet"}
    book.at(25).say("disposition", by="jorun", about=rework)
    values = {"jack": "jack-a", "pressure": 123}
    book.at(26).done("bars", by="tamsin", line="b1-r1", values=values)
    book.at(30).say("disposition", by="caspar", on="design", about=rework)
    (first,) = record_view(book.evidence()).attempts
    shown = [part.title for block in first.blocks for part in block.parts]
    assert "Bars, round by round" in shown


def closed() -> Book:
    """Tell a joint up to its closing, under a sheet that says what is taken off."""
    sheet = deepcopy(FROZEN["sheet"]) | {"amended": 2}
    puts_on = ["mix-cool", "mix-warm", "spread"]
    sheet["steps"]["cleaned"]["takes_off"] = puts_on
    book = Book(sheet=sheet)
    for name, tell in CHAPTERS.items():
        tell(book)
        if name == "closed":
            break
    return book


def test_what_is_cleaned_before_anybody_decides_ends_the_clock_and_says_so() -> None:
    book = closed()
    book.at(26).done("cleaned", by="tamsin", values={"clean": 1})
    fault = book.at(80).say("nonconformance", by="jorun", about={"text": "Rain"})
    view = record_view(book.evidence())
    (clock,) = [each for each in view.clocks if not each.per_line]
    assert (clock.ended, clock.mark.word) == (True, "ended")
    assert clock.until == "joint parted and cleaned"
    assert not any("missed" in each.kept for each in clock.deadlines)
    rework = {"target": fault, "verdict": "rework", "from": "faces", "reason": "Wet"}
    book.at(90).say("disposition", by="caspar", on="design", about=rework)
    (first,) = record_view(book.evidence()).attempts
    (clock,) = [each for each in first.clocks if not each.per_line]
    assert clock.until == "joint parted and cleaned"


def test_the_clock_of_a_kit_set_aside_says_that_it_was_discarded() -> None:
    book = told("mixing")
    values = {"lot": "lot-c1", "mixed": 175}
    book.at(8).done("mix-cool", by="tamsin", line="kit-1", values=values)
    book.at(10).say("discarded", by="tamsin", step="mix-cool", line="kit-1",
                    about={"reason": "lumps"})  # fmt: skip
    clocks = record_view(book.evidence()).clocks
    (pot,) = [each for each in clocks if each.per_line]
    assert (pot.until, pot.mark.word) == ("it was discarded", "ended")
