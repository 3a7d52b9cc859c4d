"""Exact rationals as pairs of whole numbers: (numerator, denominator > 0).

The kernel compares and adds these; rounding is for display only and lives here once,
half away from zero, so that both languages round alike.
"""

from math import gcd

Ratio = tuple[int, int]
Value = Ratio | None
OUT: Ratio = (0, 0)
"""What a table answers beyond its ends; never a number, so its denominator is 0."""

SHOWN_LIMIT = 2**53 - 1


def ratio(numerator: int, denominator: int) -> Ratio:
    """Give the pair in lowest terms; the denominator must be above zero."""
    if denominator == 1:
        return (numerator, 1)
    divisor = gcd(numerator, denominator)
    return (numerator // divisor, denominator // divisor)


def compare(left: Ratio, right: Ratio) -> int:
    """Give -1, 0 or 1 as left is below, equal to or above right."""
    difference = left[0] * right[1] - right[0] * left[1]
    return (difference > 0) - (difference < 0)


def rounded(value: Ratio) -> int | None:
    """Round half away from zero; None when too large to be shown exactly."""
    top, bottom = value
    whole = (2 * abs(top) + bottom) // (2 * bottom)
    if whole > SHOWN_LIMIT:
        return None
    return whole if top >= 0 else -whole


def ceiling(value: Ratio) -> int:
    """Give the smallest whole number not below the value."""
    return -(-value[0] // value[1])
