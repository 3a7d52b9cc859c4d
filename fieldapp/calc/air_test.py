"""Loss of pressure in a duct's air test, corrected for temperature.

Pressures are gauge; the gas law acts on absolute pressure and never on the gauge's.
What loss is permitted is the project's limit.
"""

from fieldapp.calc.refusals import CalcRefusal

STANDARD_ATMOSPHERE_KPA = 101.325
ZERO_C_IN_K = 273.15


def corrected_end_kpa(
    *,
    end_kpa: float,
    start_temp_c: float,
    end_temp_c: float,
    atmospheric_kpa: float = STANDARD_ATMOSPHERE_KPA,
) -> float:
    """End pressure, gauge, as it would read at the start's temperature.

    Source: gas law at constant volume, p / T constant on absolute values (textbook).
    """
    for key, temp_c in (("start_temp_c", start_temp_c), ("end_temp_c", end_temp_c)):
        if temp_c <= -ZERO_C_IN_K:
            raise CalcRefusal(key, temp_c, f"above {-ZERO_C_IN_K:g}")
    warmth = (start_temp_c + ZERO_C_IN_K) / (end_temp_c + ZERO_C_IN_K)
    return (end_kpa + atmospheric_kpa) * warmth - atmospheric_kpa
