"""Words: figures, moments, marks."""

import pytest

from fieldapp.commands.serve import hosts
from fieldapp.web.display import (
    DAY_MS,
    figure,
    last_day,
    lasting,
    mark,
    soon,
    waiting,
    when,
)

MINUS = "\N{MINUS SIGN}"


@pytest.mark.parametrize(
    ("value", "places", "unit", "text"),
    [(215, 1, "°C", "21.5 °C"), (-5, 1, "°C", f"{MINUS}0.5 °C"), (0, 2, "", "0.00"),
     (7, 3, "mm", "0.007 mm"), (125, 0, "bar", "125 bar"), (-40, 0, "", f"{MINUS}40")],
    ids=range(6),
)  # fmt: skip
def test_a_whole_number_is_shown_with_its_places_and_unit(
    value: int, places: int, unit: str, text: str
) -> None:
    assert figure(value, places, unit) == text


@pytest.mark.parametrize(
    ("moment", "zone", "text"),
    [(0, 0, "1970-01-01 00:00 +00:00"), (0, 345, "1970-01-01 05:45 +05:45"),
     (0, -210, "1969-12-31 20:30 -03:30"), (None, 60, "not yet")],
    ids=range(4),
)  # fmt: skip
def test_a_moment_is_shown_in_local_time_with_its_offset(
    moment: int | None, zone: int, text: str
) -> None:
    assert when(moment, zone) == text


def test_what_is_good_until_midnight_is_good_on_the_day_before() -> None:
    midnight_at_plus_one = 1_830_207_600_000
    assert when(midnight_at_plus_one, 60) == "2027-12-31 00:00 +01:00"
    assert last_day(midnight_at_plus_one, 60) == "2027-12-30"
    assert last_day(midnight_at_plus_one + 1, 60) == "2027-12-31"


def test_a_state_not_known_here_is_shown_as_it_is() -> None:
    assert mark("levitating", "step") == {
        "tone": "grey", "icon": "?", "word": "levitating",
    }  # fmt: skip


def test_the_given_host_and_names_are_answered_besides_this_machine() -> None:
    assert {"localhost", "127.0.0.1", "office.example", "192.0.2.7"} <= set(
        hosts("192.0.2.7", ["office.example"])
    )
    assert "0.0.0.0" not in hosts("0.0.0.0", [])


@pytest.mark.parametrize(
    ("span_min", "text"),
    [(0, "0 min"), (59, "59 min"), (60, "1 h 00 min"), (-95, "1 h 35 min"),
     (2 * 1_440 - 1, "47 h 59 min"), (2 * 1_440, "2 days"), (3_000, "2 days 2 h")],
    ids=range(7),
)  # fmt: skip
def test_a_length_of_time_is_told_as_coarsely_as_it_is_long(
    span_min: int, text: str
) -> None:
    assert lasting(span_min * 60_000) == text


@pytest.mark.parametrize(
    ("away_ms", "text"),
    [(0, "00:30"), (-1_800_000, "00:00"), (-1_800_001, "Wed 31 Dec 23:59"),
     (DAY_MS, "Fri 2 Jan 00:30"), (8 * DAY_MS, "1970-01-09 00:30")],
    ids=range(5),
)  # fmt: skip
def test_a_near_moment_is_told_in_few_words(away_ms: int, text: str) -> None:
    # The epoch was a Thursday; thirty minutes east of it the day is half an hour old.
    assert soon(away_ms, 30, 0) == text


def test_a_wait_becomes_red_after_half_an_hour() -> None:
    assert waiting(0, 30 * 60_000)["tone"] == "blue"
    assert waiting(0, 30 * 60_000 + 1) == {
        "tone": "red", "icon": "☎", "word": "waiting 30 min",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("what", "statuses"),
    [
        ("step", "off closed open partial failed disputed done exceeded anyway"),
        ("line", "ok failed disputed anyway exceeded partial discarded"),
        ("point", "waiting ready called released refused lapsed expired waived"),
        ("point", "used unreleased"),
        ("clock", "running met over"),
        ("nonconformance", "open proposed disposed closed"),
        ("verdict", "complete incomplete concession rejected"),
        ("hold", "running over"),
        ("condition", "open closed"),
    ],
)
def test_every_status_the_fold_gives_has_a_word_and_an_icon(
    what: str, statuses: str
) -> None:
    for status in statuses.split():
        shown = mark(status, what)
        assert shown["icon"] not in ("", "?"), status
        assert shown["word"], status
