"""Checks of air and adhesive against documents."""

from tests.published.check import Check

MAGNUS = "Magnus form, WMO set 17.62 and 243.12 C (arithmetic)"


def dew(air_c: float, humidity: float, printed_c: float) -> Check:
    """A row of the table worked from the Magnus form."""
    return Check(
        document=MAGNUS,
        place=f"{air_c:g} C, {humidity:g} %",
        name="dew-point",
        data={"air_temp_c": air_c, "humidity_percent": humidity},
        printed={"dew_point_c": (printed_c, 0.005)},
    )


def chart(air_f: float, humidity: float, printed_f: float) -> Check:
    """A cell of a coatings chart in whole Fahrenheit: within one degree."""
    return Check(
        document="Dew point calculation chart for coatings, in Fahrenheit",
        place=f"{air_f:g} F column, {humidity:g} % row",
        name="dew-point",
        data={"air_temp_c": (air_f - 32) / 1.8, "humidity_percent": humidity},
        printed={"dew_point_c": ((printed_f - 32) / 1.8, 1 / 1.8)},
    )


def margin(surface_c: float, printed_c: float) -> Check:
    """Air 25 C and 80 %, the least margin of the coatings rule being 3 C."""
    return Check(
        document="ISO 8502-4 practice: 3 C above the dew point",
        place=f"surface {surface_c:g} C in air of 25 C and 80 % (arithmetic)",
        name="dew-point",
        data={
            "air_temp_c": 25,
            "humidity_percent": 80,
            "surface_temps_c": [surface_c, surface_c + 2],
        },
        printed={"margin_c": (printed_c, 0.005), "frost": (False, 0)},
    )


AIR = [
    Check(
        document="Coating maker's glossary, dew point",
        place="example: 30 C and 55 % wet a surface of 20 C",
        name="dew-point",
        data={"air_temp_c": 30, "humidity_percent": 55},
        printed={"dew_point_c": (20, 0.5)},
    ),
    dew(30, 55, 19.97),
    dew(20, 50, 9.26),
    dew(25, 80, 21.31),
    dew(35, 70, 28.71),
    dew(5, 85, 2.69),
    dew(0, 100, 0.00),
    dew(-5, 80, -7.92),
    dew(30, 55.10, 20.00),
    chart(70, 65, 57),
    chart(90, 80, 83),
    chart(50, 90, 47),
    margin(22.9, 1.59),
    margin(24.4, 3.09),
]

DATA_SHEET = "Adhesive maker's data sheet, gel time over temperature"
# Formulation H: 60 min at 15.6 C, 45 at 37.8, 30 at 48.9; L: 90 at -6.7, 45 at 4.4,
# 30 at 26.7 C.
SHEET_H = [[15.6, 60], [37.8, 45], [48.9, 30]]
SHEET_L = [[-6.7, 90], [4.4, 45], [26.7, 30]]


def halved(table: list[list[float]], temp_c: float, life_min: float, how: str) -> Check:
    """A life that the printed halving interval of a stretch gives."""
    return Check(
        document=DATA_SHEET,
        place=how,
        name="adhesive-life",
        data={"life_table": table, "temp_c": temp_c},
        printed={"life_min": (life_min, 0.02)},
    )


ADHESIVE = [
    halved(SHEET_H, 15.6, 60, "formulation H at its first point"),
    halved(SHEET_H, 48.9, 30, "formulation H at its last point"),
    # Half of the interval down from a point: life over the square root of two.
    halved(SHEET_L, -6.7 + 11.1 / 2, 63.64, "formulation L halves in 11.1 C"),
    halved(SHEET_H, 37.8 + 19.0 / 4, 37.84, "formulation H halves in 19.0 C"),
    Check(
        document="VDOT IIM-S&B-91, 453-4.5.2 and 453-5.6",
        place="70 % of 60 min of a normal-set adhesive is 42 min",
        name="adhesive-life",
        data={
            "life_table": [[10, 60], [30, 60]],
            "temperatures": [[0, 20], [10, 22]],
            "ratios": [0.7, 1.0],
        },
        printed={
            "minute_at_ratio.0.1": (42, 1e-9),
            "minute_at_ratio.1.1": (60, 1e-9),
        },
    ),
    Check(
        document="VDOT IIM-S&B-91, 453-4.5.2 and 453-5.6",
        place="70 % of 6 h of a slow-set adhesive is 4.2 h",
        name="adhesive-life",
        data={
            "life_table": [[10, 360], [30, 360]],
            "temperatures": [[0, 20]],
            "ratios": [0.7],
        },
        printed={"minute_at_ratio.0.1": (252, 1e-9)},
    ),
    Check(
        document="Rule of ten degrees, published pages on two-part adhesives",
        place="60 min at 20 C is 30 min at 30 C and 42.4 at 25 C",
        name="adhesive-life",
        data={"life_table": [[20, 60], [30, 30]], "temp_c": 25},
        printed={"life_min": (42.4, 0.05)},
    ),
]


def quantity(
    faces: int, litres: float, net_kg: float, order: float, kits: int
) -> Check:
    """6.16 m2 at 1.6 mm, 1.65 kg/L, 15 % waste, kits of 5 kg."""
    return Check(
        document="VDOT/FDOT 453 one-face and FIP two-face practice",
        place=f"6.16 m2 on {faces} face(s), 1.6 mm (arithmetic)",
        name="adhesive-quantity",
        data={
            "area_m2": 6.16,
            "thickness_mm": 1.6,
            "faces": faces,
            "density_kg_per_l": 1.65,
            "waste_ratio": 0.15,
            "kit_kg": 5,
        },
        printed={
            "volume_l": (litres, 0.005),
            "mass_kg": (net_kg, 0.006),
            "order_mass_kg": (order, 0.005),
            "kits": (kits, 0),
        },
    )


QUANTITIES = [
    quantity(1, 9.856, 16.26, 18.70, 4),
    quantity(2, 19.71, 32.52, 37.40, 8),
    Check(
        document="Adhesive maker's data sheet, coverage",
        place="7.6 L cover 2.42 m2 at 3.175 mm",
        name="adhesive-quantity",
        data={
            "area_m2": 2.42,
            "thickness_mm": 3.175,
            "faces": 1,
            "density_kg_per_l": 1,
            "waste_ratio": 0,
            "kit_kg": 7.7,
        },
        printed={"volume_l": (7.6, 0.1), "kits": (1, 0)},
    ),
]
