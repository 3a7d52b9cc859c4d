"""Kinds of input that several calculations share, with the sign each may have."""

from fieldapp.calc.inputs import ANY_SIGN, ZERO_OR_ABOVE, ListOf, Number, Row
from fieldapp.calc.refusals import CalcRefusal

ZERO_K_C = -273.15

TEMP_C = Number(unit="°C", sign=ANY_SIGN, low=ZERO_K_C, high=1000.0)
COORDINATE_M = Number(unit="m", sign=ANY_SIGN)
MOMENT_KNM = Number(unit="kNm", sign=ANY_SIGN)
LENGTH_M = Number(unit="m")
LEVER_M = Number(unit="m", sign=ZERO_OR_ABOVE)
FORCE_KN = Number(unit="kN")
LOAD_KN = Number(unit="kN", sign=ZERO_OR_ABOVE)
STRESS_MPA = Number(unit="MPa")
AREA_MM2 = Number(unit="mm²")
MODULUS_GPA = Number(unit="GPa")
MINUTES = Number(unit="min")
MINUTES_OR_0 = Number(unit="min", sign=ZERO_OR_ABOVE)
WASTE_RATIO = Number(unit="ratio", sign=ZERO_OR_ABOVE, high=1.0)

POINT = Row(names=("x_m", "y_m"), numbers=(COORDINATE_M, COORDINATE_M))
POLYGON = ListOf(item=POINT, fewest=3, most=500)
VOIDS = ListOf(item=POLYGON, fewest=0, most=50)
LIFE_ROW = Row(names=("temp_c", "life_min"), numbers=(TEMP_C, MINUTES))
LIFE_ROWS = ListOf(item=LIFE_ROW, fewest=2, most=200)


def within_key(refusal: CalcRefusal, place: str) -> CalcRefusal:
    """The same refusal, its key found below a place of the input."""
    return CalcRefusal(f"{place}.{refusal.key}", refusal.value, refusal.allowed)
