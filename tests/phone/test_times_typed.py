"""Which day a time of day is of, typed while a sheet of paper is copied."""

from datetime import UTC, datetime

import pytest

from tests.javascript import JavaScript

CLOCK = "static/device/clock.js"
NOW = datetime(2036, 5, 14, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    ("before", "typed", "day"),
    [
        ((7, 30), (20, 15), 10),
        ((17, 0), (7, 0), 10),
        ((12, 5), (12, 5), 10),
        ((23, 50), (0, 10), 11),
        ((22, 0), (5, 0), 11),
        ((20, 0), (7, 0), 11),
        ((0, 30), (23, 0), 9),
    ],
)
def test_a_time_is_of_the_day_of_the_sheet_or_across_a_near_midnight(
    javascript: JavaScript, before: tuple[int, int], typed: tuple[int, int], day: int
) -> None:
    # Hours of the day are the phone's own, whatever zone these tests run in.
    last = _ms(datetime(2036, 5, 10, *before).astimezone())
    wanted = _ms(datetime(2036, 5, day, *typed).astimezone())
    time = {"hours": typed[0], "minutes": typed[1]}
    assert javascript.call(CLOCK, "nearestTo", last, time, _ms(NOW)) == wanted


def test_no_time_is_after_now(javascript: JavaScript) -> None:
    last = datetime(2036, 5, 14, 8).astimezone()
    now = datetime(2036, 5, 14, 9).astimezone()
    found = javascript.call(
        CLOCK, "nearestTo", _ms(last), {"hours": 10, "minutes": 0}, _ms(now)
    )
    assert found == _ms(datetime(2036, 5, 13, 10).astimezone())


def _ms(moment: datetime) -> int:
    return round(moment.timestamp() * 1_000)
