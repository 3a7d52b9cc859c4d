"""How much grout a duct takes, how long it takes to fill, and what a mix weighs.

Volumes are net of the steel. Waste is ordered, never pumped into a comparison.
"""

import math

from fieldapp.calc.refusals import CalcRefusal


def net_l_per_m(duct_bore_mm: float, steel_area_mm2: float) -> float:
    """Litres in a metre of duct beside the steel.

    A square millimetre a metre long is a thousandth of a litre. Source: geometry.
    """
    bore_mm2 = math.pi * duct_bore_mm**2 / 4
    if steel_area_mm2 >= bore_mm2:
        allowed = f"above 0 and below the duct's {bore_mm2:.6g}"
        raise CalcRefusal("steel_area_mm2", steel_area_mm2, allowed)
    return (bore_mm2 - steel_area_mm2) / 1000


def order_l(net_l: float, caps_l: float, waste_ratio: float) -> float:
    """Litres to order: duct and caps with waste. Source: arithmetic."""
    return (net_l + caps_l) * (1 + waste_ratio)


def mix_density_kg_per_l(water_cement: float, cement_sg: float) -> float:
    """Density of neat grout without air; water 1 kg/L.

    Source: absolute volumes, (1 + w) / (1/SG + w) (textbook).
    """
    return (1 + water_cement) / (1 / cement_sg + water_cement)


def mix_yield_l(water_cement: float, cement_sg: float, bag_kg: float) -> float:
    """Litres of neat grout from one bag. Source: absolute volumes (textbook)."""
    return bag_kg * (1 / cement_sg + water_cement)
