"""When a joint may be started today, with which formulation, and will it be made.

A simulation over the crew's own durations and the day's temperatures. It plans; it
never grants leave to mix. The same seed gives the same answer.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise

from fieldapp.calc.adhesive import LifeClock, life_clock, used_ratio
from fieldapp.calc.bands import at_most
from fieldapp.calc.chance import triangular, unit_numbers
from fieldapp.calc.day import Forecast, inside_until_min, readings_from
from fieldapp.calc.tables import LifeTable

MINUTES_PER_HOUR = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Formulation:
    """A product's formulation: its window and its two certified tables."""

    name: str
    temp_min_c: float
    temp_max_c: float
    pot_life: LifeTable
    open_time: LifeTable


@dataclass(frozen=True, slots=True, kw_only=True)
class Duration:
    """A triangular duration; equal values mean a fixed one."""

    least_min: float
    likely_min: float
    most_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """How long the crew takes, and how much of spreading runs during mixing."""

    mix: Duration
    spread: Duration
    close: Duration
    stress: Duration
    overlap_ratio: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One simulated joint: minutes from the first kit."""

    spread_end_min: float
    stressed_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StartHour:
    """What the runs say of one start with one formulation."""

    start_hour: float
    formulation: str
    used_ratio_p50: float
    used_ratio_p90: float
    success_ratio: float
    past_forecast: bool


def simulate_runs(crew: Crew, runs: int, seed: int) -> tuple[Run, ...]:
    """The crew's durations, drawn once and used for every start alike.

    Source: triangular durations from the crew's own joints.
    """
    units = unit_numbers(seed)
    return tuple(_run(crew, islice(units, 4)) for _ in range(runs))


def joint_window(
    forecast: Forecast,
    formulations: Sequence[Formulation],
    runs: Sequence[Run],
    *,
    allowed_ratio: float,
    lag_h: float = 0.0,
) -> tuple[StartHour, ...]:
    """Each start hour with each formulation, in order of the day.

    A run succeeds where its open time used is within the allowed ratio, mixing and
    spreading end within the pot life, and the face stays in the formulation's window
    and no hotter than its tables. Beyond the forecast its last temperature is held,
    and the row says so. Source: simulation, common practice.
    """
    return tuple(
        _start_hour(
            forecast,
            start,
            formulation,
            runs,
            allowed_ratio=allowed_ratio,
            lag_h=lag_h,
        )
        for start in start_hours(forecast)
        for formulation in formulations
    )


def start_hours(forecast: Forecast) -> tuple[float, ...]:
    """The forecast's own hours, and whole hours where it leaves more than one out.

    Source: the forecast.
    """
    own = [hour for hour, _ in forecast]
    between = [
        float(hour)
        for left, right in pairwise(own)
        if right - left > 1
        for hour in range(math.floor(left) + 1, math.ceil(right))
    ]
    return tuple(sorted(own + between))


def best_start(rows: Sequence[StartHour]) -> StartHour | None:
    """Most successes, then least life used at nine in ten, then the earliest.

    A start whose work runs past the forecast is never the best; None if none succeeds.
    Source: common practice, no source.
    """
    sure = [row for row in rows if row.success_ratio > 0 and not row.past_forecast]
    if not sure:
        return None
    return min(
        sure,
        key=lambda row: (
            -row.success_ratio,
            round(row.used_ratio_p90, 9),
            row.start_hour,
        ),
    )


def percentile(values: Sequence[float], ratio: float) -> float:
    """Straight line between the two ranked values around a ratio of the way up.

    Source: linear interpolation of order statistics (textbook).
    """
    ranked = sorted(values)
    place = ratio * (len(ranked) - 1)
    low = math.floor(place)
    high = min(low + 1, len(ranked) - 1)
    return ranked[low] + (place - low) * (ranked[high] - ranked[low])


def _run(crew: Crew, units: Iterator[float]) -> Run:
    mix, spread, close, stress = (
        triangular(unit, d.least_min, d.likely_min, d.most_min)
        for unit, d in zip(
            units, (crew.mix, crew.spread, crew.close, crew.stress), strict=True
        )
    )
    spread_end = mix + spread - min(crew.overlap_ratio * spread, mix)
    return Run(spread_end_min=spread_end, stressed_min=spread_end + close + stress)


def _start_hour(
    forecast: Forecast,
    start: float,
    formulation: Formulation,
    runs: Sequence[Run],
    *,
    allowed_ratio: float,
    lag_h: float,
) -> StartHour:
    longest = max(run.stressed_min for run in runs)
    pot_c, open_c = formulation.pot_life.high_c, formulation.open_time.high_c
    face = readings_from(forecast, start - lag_h, longest, (open_c,))
    air = readings_from(forecast, start, longest, (pot_c,))
    hottest = min(formulation.temp_max_c, open_c)
    face_until = inside_until_min(face, formulation.temp_min_c, hottest)
    pot_until = inside_until_min(air, -math.inf, pot_c)
    open_clock = life_clock(formulation.open_time, face)
    pot_clock = life_clock(formulation.pot_life, air)
    used = [used_ratio(open_clock, run.stressed_min) for run in runs]
    made = [
        at_most(part, allowed_ratio)
        and at_most(run.stressed_min, face_until)
        and _in_pot_life(pot_clock, run, pot_until)
        for part, run in zip(used, runs, strict=True)
    ]
    return StartHour(
        start_hour=start,
        formulation=formulation.name,
        used_ratio_p50=percentile(used, 0.5),
        used_ratio_p90=percentile(used, 0.9),
        success_ratio=sum(made) / len(runs),
        past_forecast=start + longest / MINUTES_PER_HOUR > forecast[-1][0],
    )


def _in_pot_life(clock: LifeClock, run: Run, until_min: float) -> bool:
    within = at_most(used_ratio(clock, run.spread_end_min), 1.0)
    return within and at_most(run.spread_end_min, until_min)
