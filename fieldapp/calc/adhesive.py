"""Life of a mixed adhesive as a clock that temperature drives, and how much of it.

The clock adds minutes times rate (1/life). It never answers "refused" while it runs:
colder than the table it counts the coldest certified life, hotter it is spent, and
both raise an alarm. It never lengthens a life because of cold.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fieldapp.calc.bands import whole_number_up
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.tables import LifeTable, life_min

Readings = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A time from one reading to the next in which one rate counts."""

    start_min: float
    used_ratio: float
    rate_per_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeClock:
    """A clock that has been read: its stretches, the last one without an end."""

    stretches: tuple[Stretch, ...]
    alarm: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AdhesiveQuantity:
    """Net volume and mass on the faces, mass to order, whole kits."""

    volume_l: float
    mass_kg: float
    order_mass_kg: float
    kits: int


def life_clock(table: LifeTable, readings: Readings) -> LifeClock:
    """The clock after readings (minute, temp_c), minutes strictly rising from 0.

    Between two readings the mean of their rates counts, or the hotter rate where a
    certified temperature inside the table lies strictly between them; after the last
    reading its own rate. A reading above the table spends the life from the reading
    before it. Source: common practice for cumulative pot life (no source), on the
    safe side of the certified table.
    """
    _check_readings(readings)
    stretches: list[Stretch] = []
    used = 0.0
    for index, (start, temp) in enumerate(readings):
        after = readings[index + 1] if index + 1 < len(readings) else None
        next_temp = after[1] if after else temp
        if max(temp, next_temp) > table.high_c:
            used = max(used, 1.0)
        rate = _rate_between(table, temp, next_temp)
        stretches.append(Stretch(start_min=start, used_ratio=used, rate_per_min=rate))
        used += rate * (after[0] - start) if after else 0.0
    return LifeClock(stretches=tuple(stretches), alarm=_alarm(table, readings))


def used_ratio(clock: LifeClock, at_min: float) -> float:
    """Part of the life used at a minute, carried on at the last rate.

    Source: sum of minutes times rate, as in life_clock.
    """
    index = bisect_right(clock.stretches, at_min, key=lambda s: s.start_min) - 1
    if index < 0:
        raise CalcRefusal("at_minute", at_min, "0 or above")
    stretch = clock.stretches[index]
    return stretch.used_ratio + stretch.rate_per_min * (at_min - stretch.start_min)


def minute_at_ratio(clock: LifeClock, ratio: float) -> float:
    """First minute at which this part of the life is used.

    Source: the same sum turned round, as in life_clock.
    """
    for stretch, after in pairwise(clock.stretches):
        minute = _minute_within(stretch, ratio)
        if minute < after.start_min:
            return minute
    return _minute_within(clock.stretches[-1], ratio)


def adhesive_quantity(
    *,
    area_m2: float,
    thickness_mm: float,
    faces: int,
    density_kg_per_l: float,
    waste_ratio: float,
    kit_kg: float,
) -> AdhesiveQuantity:
    """Adhesive for a joint; the thickness is the one applied on each coated face.

    A square metre one millimetre thick is one litre. Source: arithmetic.
    """
    volume = area_m2 * thickness_mm * faces
    mass = volume * density_kg_per_l
    order = mass * (1 + waste_ratio)
    return AdhesiveQuantity(
        volume_l=volume,
        mass_kg=mass,
        order_mass_kg=order,
        kits=max(1, whole_number_up(order / kit_kg)),
    )


def rate_per_min(table: LifeTable, temp_c: float) -> float:
    """1/life of a running clock: the table's end values count beyond its ends.

    Source: certified table; common practice beyond its ends.
    """
    return 1 / life_min(table, min(max(temp_c, table.low_c), table.high_c))


def _rate_between(table: LifeTable, one_c: float, other_c: float) -> float:
    """Mean of two rates; the hotter one where an inner certified point lies between.

    Within one stretch of the table the rate curves upwards, so the mean is safe; at
    an inner point it may bend down, and only the hotter rate is sure.
    """
    low, high = sorted((one_c, other_c))
    rates = rate_per_min(table, low), rate_per_min(table, high)
    if any(low < certified < high for certified, _ in table.points[1:-1]):
        return max(rates)
    return (rates[0] + rates[1]) / 2


def _minute_within(stretch: Stretch, ratio: float) -> float:
    if ratio <= stretch.used_ratio:
        return stretch.start_min
    return stretch.start_min + (ratio - stretch.used_ratio) / stretch.rate_per_min


def _alarm(table: LifeTable, readings: Readings) -> str | None:
    """The graver alarm wins: life spent by heat before life held by cold."""
    temps = [temp for _, temp in readings]
    if max(temps) > table.high_c:
        return "above"
    return "below" if min(temps) < table.low_c else None


def _check_readings(readings: Sequence[tuple[float, float]]) -> None:
    if not readings:
        raise CalcRefusal("temperatures", [], "one reading or more, the first at 0")
    if readings[0][0] != 0:
        raise CalcRefusal("temperatures[0]", list(readings[0]), "minute 0 first")
    for index, (left, right) in enumerate(pairwise(readings), start=1):
        if right[0] <= left[0]:
            raise CalcRefusal(
                f"temperatures[{index}]", list(right), f"a minute above {left[0]:g}"
            )
