"""Measured against calculated extension of a tendon, slack taken out.

The measured extension is the slope of the readings, so that slack at the start costs
nothing; two points alone are shown beside it. Both sides of the comparison are before
draw-in. The band is the project's.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fieldapp.calc.bands import at_most
from fieldapp.calc.jack import least_squares
from fieldapp.calc.refusals import CalcRefusal

FEWEST_READINGS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredExtension:
    """Extension at the full force by regression and by the end readings alone."""

    measured_mm: float
    two_point_mm: float
    intercept_mm: float
    residual_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtensionVerdict:
    """Difference in per cent of the calculated extension, and whether in the band."""

    difference_percent: float
    band_mm: float
    ok: bool


def measured_extension(readings: Sequence[tuple[float, float]]) -> MeasuredExtension:
    """Extension at 100 % of the force from readings (force_percent, extension_mm).

    Source: regression of four or more readings, or (d100 - d20) / 0.80; field practice
    for slack, common practice.
    """
    _check_readings(readings)
    slope, intercept = least_squares(readings)
    first, last = readings[0], readings[-1]
    return MeasuredExtension(
        measured_mm=100 * slope,
        two_point_mm=100 * (last[1] - first[1]) / (last[0] - first[0]),
        intercept_mm=intercept,
        residual_mm=max(abs(mm - slope * at - intercept) for at, mm in readings),
    )


def adjusted_extension_mm(
    *,
    calculated_mm: float,
    area_nominal_mm2: float,
    area_actual_mm2: float,
    modulus_nominal_gpa: float,
    modulus_actual_gpa: float,
) -> float:
    """Calculated extension with the reel's own area and modulus.

    Source: calculated times (A E nominal) / (A E actual), elastic strand (textbook).
    """
    nominal = area_nominal_mm2 * modulus_nominal_gpa
    return calculated_mm * nominal / (area_actual_mm2 * modulus_actual_gpa)


def extension_verdict(
    *,
    measured_mm: float,
    calculated_mm: float,
    band_percent: float,
    band_floor_mm: float = 0.0,
) -> ExtensionVerdict:
    """Whether the difference lies in the larger of per cent and floor, inclusive.

    Source: the band is the project's, floor or per cent, common practice.
    """
    difference_mm = measured_mm - calculated_mm
    band_mm = max(band_percent / 100 * calculated_mm, band_floor_mm)
    return ExtensionVerdict(
        difference_percent=100 * difference_mm / calculated_mm,
        band_mm=band_mm,
        ok=at_most(abs(difference_mm), band_mm),
    )


def _check_readings(readings: Sequence[tuple[float, float]]) -> None:
    if len(readings) < FEWEST_READINGS:
        listed = [list(reading) for reading in readings]
        raise CalcRefusal("readings", listed, "four readings or more")
    for index, (before, after) in enumerate(pairwise(readings), start=1):
        if after[0] <= before[0] or after[1] < before[1]:
            allowed = f"force above {before[0]:g} and extension not below {before[1]:g}"
            raise CalcRefusal(f"readings[{index}]", list(after), allowed)
