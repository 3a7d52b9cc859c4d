"""Comparing a computed number with a limit, inclusive and blind to rounding.

A limit met exactly is met, also when binary fractions miss it in the last digits.
The tolerance is far below any figure of the trade and never widens a band visibly.
"""

import math

ROUNDING_RATIO = 1e-9


def at_least(value: float, limit: float) -> bool:
    """Whether the value reaches the limit; the limit itself passes."""
    return value >= limit or math.isclose(value, limit, rel_tol=ROUNDING_RATIO)


def at_most(value: float, limit: float) -> bool:
    """Whether the value stays within the limit; the limit itself passes."""
    return value <= limit or math.isclose(value, limit, rel_tol=ROUNDING_RATIO)


def whole_number_up(value: float) -> int:
    """The next whole number up; 6.000000000000001 is 6, and 6.01 is 7."""
    nearest = round(value)
    if math.isclose(value, nearest, rel_tol=ROUNDING_RATIO):
        return nearest
    return math.ceil(value)
