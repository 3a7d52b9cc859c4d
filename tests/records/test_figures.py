"""Whole numbers, times and hashes as they are printed."""

from datetime import UTC, datetime
from types import SimpleNamespace
from typing import cast

import pytest

from fieldapp.core.clocks import OVER_MS
from fieldapp.records.acts import local
from fieldapp.records.figures import (
    day,
    figure,
    grouped,
    iso_utc,
    moment,
    share,
    share_used,
    span,
    time_of_day,
    zone,
)
from fieldapp.records.opened import Opened
from fieldapp.records.wording import named

# 2026-05-04 08:16:40 UTC: 20,577 days of 86,400 s after 1970, and 29,800 s.
MOMENT_MS = (20_577 * 86_400 + 29_800) * 1_000


@pytest.mark.parametrize(
    ("value", "places", "unit", "printed"),
    [
        (215, 1, "°C", "21.5\N{NO-BREAK SPACE}°C"),
        (5, 2, "mm", "0.05\N{NO-BREAK SPACE}mm"),
        (-5, 1, "", "\N{MINUS SIGN}0.5"),
        (0, 0, "bar", "0\N{NO-BREAK SPACE}bar"),
        (10**12, 3, "", "1000000000.000"),
    ],
)
def test_a_figure_is_never_rounded(
    value: int, places: int, unit: str, printed: str
) -> None:
    assert figure(value, places, unit) == printed


def test_a_moment_is_told_in_the_zone_that_is_stated() -> None:
    assert moment(MOMENT_MS, 120) == "2026-05-04 10:16 UTC+02:00"
    assert moment(MOMENT_MS, -570) == "2026-05-03 22:46 UTC-09:30"
    assert day(MOMENT_MS, -570) == "2026-05-03"
    assert time_of_day(MOMENT_MS, 0) == "08:16"
    assert iso_utc(MOMENT_MS) == "2026-05-04T08:16:40Z"


def test_a_zone_of_no_minutes_is_utc() -> None:
    assert zone(0) == "UTC"


@pytest.mark.parametrize(
    ("length_ms", "printed"),
    [(0, "0 s"), (59_999, "59 s"), (60_000, "1 min"), (3_599_999, "59 min"),
     (3_840_000, "1 h 04 min"), (-120_000, "2 min")],
)  # fmt: skip
def test_a_length_of_time_is_cut_to_what_has_passed(
    length_ms: int, printed: str
) -> None:
    assert span(length_ms) == printed


def test_a_share_is_cut_and_never_shown_as_whole_too_early() -> None:
    assert share(999_999) == "99.9\N{NO-BREAK SPACE}%"
    assert share(1_000_000) == "100.0\N{NO-BREAK SPACE}%"


def test_what_was_used_is_never_told_as_less() -> None:
    # By hand: 118 h 04 min of 360 h is 32.796 %.
    assert share_used(327_963) == "32.8\N{NO-BREAK SPACE}%"
    assert share_used(328_000) == "32.8\N{NO-BREAK SPACE}%"
    assert share_used(0) == "0.0\N{NO-BREAK SPACE}%"


def test_a_fingerprint_is_grouped_so_that_an_eye_can_compare() -> None:
    assert grouped("0123456789abcdef") == "01234567 89abcdef"


def test_a_length_that_rests_on_a_time_nobody_knows_is_no_length() -> None:
    # An unknown time counts as over for good: 10^13 ms, which is no day of anybody's.
    assert span(OVER_MS) == span(27 * 60_000 - OVER_MS) == "not known"
    assert span(400 * 86_400_000) == "400 d 00 h"


@pytest.mark.parametrize(
    ("label", "text", "said"),
    [
        ("Bar", "Bar 04, 32 mm", ""),
        ("Level", "level 1", ""),
        ("Jack and gauge", "Jack A with gauge A1", "Jack and gauge"),
        ("Bar", "Barrow 1", "Bar"),
        ("Gap", "Gap", "Gap"),
    ],
)
def test_a_value_that_begins_with_its_label_is_not_named_twice(
    label: str, text: str, said: str
) -> None:
    assert named(label, text) == said


def test_times_of_a_phone_in_another_zone_follow_on_the_site_s_clock() -> None:
    opened = cast(Opened, SimpleNamespace(zone=60))
    at = int(datetime(2026, 12, 1, 23, 43, tzinfo=UTC).timestamp() * 1_000)
    assert local(opened, at, 60) == "2026-12-02 00:43"
    assert local(opened, at, 0) == "2026-12-02 00:43 (23:43 UTC)"
