"""Dew point of the air and the margin of a surface above it.

A surface at or below the dew point is wet. This module gives the number; whether the
margin is enough is the project's limit, never decided here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.calc.refusals import CalcRefusal, OutOfTable

# Magnus form over water: WMO/Sonntag set, stated for -45 to +60 C.
MAGNUS_A = 17.62
MAGNUS_B_C = 243.12
AIR_LOW_C = -45.0
AIR_HIGH_C = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceMargin:
    """How far the coldest surface lies above the dew point."""

    coldest_c: float
    margin_c: float
    frost: bool


def magnus_gamma(air_temp_c: float, humidity_percent: float) -> float:
    """ln(RH/100) + a T / (b + T), the exponent of the air's vapour pressure.

    Source: Magnus form, a 17.62, b 243.12 C (Sonntag set; that the
    WMO guide on instruments gives it is from memory).
    """
    if not AIR_LOW_C <= air_temp_c <= AIR_HIGH_C:
        raise OutOfTable("air_temp_c", air_temp_c, AIR_LOW_C, AIR_HIGH_C)
    # A hundredth of the smallest numbers is none at all.
    if not 0 < humidity_percent / 100 <= 1:
        raise CalcRefusal("humidity_percent", humidity_percent, "above 0 and up to 100")
    warmth = MAGNUS_A * air_temp_c / (MAGNUS_B_C + air_temp_c)
    return math.log(humidity_percent / 100) + warmth


def dew_point_c(air_temp_c: float, humidity_percent: float) -> float:
    """Temperature at which this air begins to wet a surface.

    Saturated air returns its own temperature exactly.
    Source: Magnus form turned round, Td = b g / (a - g).
    """
    gamma = magnus_gamma(air_temp_c, humidity_percent)
    if humidity_percent == 100:
        return air_temp_c
    return MAGNUS_B_C * gamma / (MAGNUS_A - gamma)


def surface_margin(dew_c: float, surface_temps_c: Sequence[float]) -> SurfaceMargin:
    """Margin of the coldest surface; frost where it is at 0 C or below.

    Source: coatings practice after ISO 8502-4 (from memory): the coldest rules.
    """
    coldest = min(surface_temps_c)
    return SurfaceMargin(
        coldest_c=coldest, margin_c=coldest - dew_c, frost=coldest <= 0
    )
