"""Wind at a height from the forecast at ten metres.

A factor for mean wind over open country; gusts and the machine's own limit are not
here, and the operator's stop is never overruled by a number.
"""

from fieldapp.calc.tables import StraightTable, straight_line

# CPA TIN 101 (2009), open country; 1.00 at the forecast's own height.
HEIGHT_FACTORS = StraightTable(
    quantity="height_m",
    points=(
        (10.0, 1.00),
        (20.0, 1.10),
        (30.0, 1.17),
        (40.0, 1.22),
        (50.0, 1.26),
        (60.0, 1.29),
        (70.0, 1.32),
        (80.0, 1.35),
        (90.0, 1.37),
        (100.0, 1.39),
        (150.0, 1.47),
    ),
)


def height_factor(height_m: float) -> float:
    """Factor on the speed at 10 m, straight between the tabulated heights.

    Refused below 10 and above 150 m. Source: CPA TIN 101, height multipliers.
    """
    return straight_line(HEIGHT_FACTORS, height_m)
