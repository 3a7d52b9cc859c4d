"""A day's forecast as temperatures along the minutes of one piece of work.

Straight between the forecast's hours. Before its first hour and after its last the
nearest temperature is held: whoever plans there must be told, and the caller does.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from fieldapp.calc.adhesive import Readings
from fieldapp.calc.tables import StraightTable, straight_line

Forecast = tuple[tuple[float, float], ...]

STEP_MIN = 5.0
MINUTES_PER_HOUR = 60.0


def readings_from(
    forecast: Forecast,
    start_hour: float,
    length_min: float,
    levels_c: Sequence[float] = (),
) -> Readings:
    """Temperatures (minute, temp_c) from a start: every five minutes and at each hour.

    The first is at minute 0, the last at the length asked for or just after it. Where
    a level is passed there is a reading too, so that a life is spent from the minute
    its table ends and not from the reading before.
    Source: straight line between forecast hours, common practice.
    """
    steps = {STEP_MIN * step for step in range(math.ceil(length_min / STEP_MIN) + 1)}
    nodes = {round((hour - start_hour) * MINUTES_PER_HOUR, 6) for hour, _ in forecast}
    minutes = steps | {node for node in nodes if 0 < node < length_min}
    found = tuple(
        (minute, temp_at_c(forecast, start_hour + minute / MINUTES_PER_HOUR))
        for minute in sorted(minutes)
    )
    passed = dict(_passed(found, levels_c))
    return tuple(sorted((passed | dict(found)).items()))


def _passed(
    readings: Readings, levels_c: Sequence[float]
) -> Iterator[tuple[float, float]]:
    """Minute and temperature where the line between two readings passes a level."""
    for (start, temp), (end, after) in pairwise(readings):
        for level in levels_c:
            if min(temp, after) < level < max(temp, after):
                yield start + (end - start) * (level - temp) / (after - temp), level


def temp_at_c(forecast: Forecast, hour: float) -> float:
    """Temperature at an hour, the ends held beyond the forecast.

    Source: straight line between forecast hours, common practice.
    """
    inside = min(max(hour, forecast[0][0]), forecast[-1][0])
    if len(forecast) == 1:
        return forecast[0][1]
    return straight_line(StraightTable(quantity="forecast", points=forecast), inside)


def inside_until_min(readings: Readings, low_c: float, high_c: float) -> float:
    """The minute up to which the temperature stays within two bounds, inclusive.

    Infinite where it never leaves; -infinite where it begins outside.
    Source: straight line between readings.
    """
    if not low_c <= readings[0][1] <= high_c:
        return -math.inf
    for (start, temp), (end, after) in pairwise(readings):
        if not low_c <= after <= high_c:
            bound = low_c if after < low_c else high_c
            return start + (end - start) * (bound - temp) / (after - temp)
    return math.inf
