"""Whole numbers, moments and hashes as a person reads them on paper.

Nothing is rounded here but time, which is cut to the minute or second. Local time is
made from the minutes east of UTC that an entry states; no zone is guessed.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from fieldapp.core.clocks import OVER_MS

MINUS = "\N{MINUS SIGN}"
SHORT = 10
SECOND_MS = 1_000
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August",
    "September", "October", "November", "December",
)  # fmt: skip
MINUTE_S = 60
DAYS_FROM_H = 48


def figure(value: int, places: int = 0, unit: str = "") -> str:
    """Give a whole number with its places and unit: 215, 1, °C is "21.5 °C"."""
    digits = str(abs(value)).rjust(places + 1, "0")
    text = f"{digits[:-places]}.{digits[-places:]}" if places else digits
    sign = MINUS if value < 0 else ""
    return f"{sign}{text}\N{NO-BREAK SPACE}{unit}" if unit else f"{sign}{text}"


def computed(value: int, show: Mapping[str, Any], unit: str = "") -> str:
    """Give a computed figure in the places it is read in, rounded to its safe side.

    show: as the sheet has it. "up" is for what must not be too much, "down" for what
    must not be too little, "out" (from nought) for what must not be far either way.
    """
    places, side = show["places"], show.get("round")
    shown = show.get("shown", places)
    step = 10 ** (places - shown)
    up = side == "up" or (side == "out" and value > 0)
    return figure(-(-value // step) if up else value // step, shown, unit)


def day(moment_ms: int, zone_min: int) -> str:
    """Give the local day: 2026-05-04."""
    return f"{_local(moment_ms, zone_min):%Y-%m-%d}"


def long_day(moment_ms: int, zone_min: int) -> str:
    """Give the local day in words: 4 May 2026."""
    local = _local(moment_ms, zone_min)
    return f"{local.day} {MONTHS[local.month - 1]} {local.year}"


def time_of_day(moment_ms: int, zone_min: int) -> str:
    """Give the local time to the minute: 10:16."""
    return f"{_local(moment_ms, zone_min):%H:%M}"


def moment(moment_ms: int, zone_min: int) -> str:
    """Give day and time to the minute with the zone: 2026-05-04 10:16 UTC+01:00."""
    local = f"{_local(moment_ms, zone_min):%Y-%m-%d %H:%M}"
    return f"{local} {zone(zone_min)}"


def zone(zone_min: int) -> str:
    """Give a zone's name: UTC+01:00."""
    if zone_min == 0:
        return "UTC"
    sign = "-" if zone_min < 0 else "+"
    hours, minutes = divmod(abs(zone_min), 60)
    return f"UTC{sign}{hours:02d}:{minutes:02d}"


def span(length_ms: int) -> str:
    """Give a length of time: 40 s, 24 min, 1 h 04 min, 4 d 22 h.

    One that rests on a time nobody knows is counted as over, and is no length.
    """
    if abs(length_ms) > OVER_MS // 2:
        return "not known"
    seconds = abs(length_ms) // SECOND_MS
    minutes = seconds // MINUTE_S
    if minutes >= 60:
        hours, rest = divmod(minutes, 60)
        if hours >= DAYS_FROM_H:
            return f"{hours // 24} d {hours % 24:02d} h"
        return f"{hours} h {rest:02d} min"
    return f"{minutes} min" if minutes else f"{seconds} s"


def share(ppm: int) -> str:
    """Give millionths as a percentage with one place, cut: 352367 is "35.2 %"."""
    return figure(ppm // 1_000, 1, "%")


def share_used(ppm: int) -> str:
    """Give what was used of a life, rounded up: less than was used is never told."""
    return figure(-(-ppm // 1_000), 1, "%")


def short(digest: str) -> str:
    """Give the beginning of a hash, enough to find it by."""
    return digest[:SHORT]


def grouped(digest: str, size: int = 8) -> str:
    """Give a whole hash in groups that an eye can compare."""
    return " ".join(digest[i : i + size] for i in range(0, len(digest), size))


def iso_utc(moment_ms: int) -> str:
    """Give a moment as PDF metadata want it: 2026-05-04T08:16:00Z."""
    return f"{_local(moment_ms, 0):%Y-%m-%dT%H:%M:%SZ}"


def pdf_moment(moment_ms: int) -> str:
    """Give a moment as a PDF's own parts want it: D:20260504081600Z."""
    return f"D:{_local(moment_ms, 0):%Y%m%d%H%M%S}Z"


def as_datetime(moment_ms: int) -> datetime:
    """Give a moment with its zone, UTC."""
    return _local(moment_ms, 0)


def _local(moment_ms: int, zone_min: int) -> datetime:
    start = datetime(1970, 1, 1, tzinfo=UTC)
    # The shifted moment is only ever formatted, with its zone told beside it.
    return start + timedelta(milliseconds=moment_ms, minutes=zone_min)
