"""Words and figures of the calculation pages: labels from keys, numbers to read.

A figure here is for reading; the sheet has it with six places, the data unrounded.
"""

import math

MINUS = "\N{MINUS SIGN}"
SIGNIFICANT = 4
NOISE = 1e-12
"""Below it a figure is the rounding of sums; the sheet shows nought as well."""


def spoken(what: str) -> str:
    """Begin a label with a capital, unless it begins with a sign of mathematics."""
    plain = len(what) > 1 and what[:2].isalpha()
    return what[:1].upper() + what[1:] if plain else what


def read(value: float) -> str:
    """Write a number with four figures, whole numbers whole."""
    if abs(value) < NOISE:
        return "0"
    if abs(value) >= 1e9 or abs(value) < 1e-6:
        return f"{value:.3e}".replace("-", MINUS)
    digits = math.floor(math.log10(abs(value))) + 1
    text = f"{value:.{max(SIGNIFICANT - digits, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", MINUS)


def clock(hour: float) -> str:
    """Write an hour of the day as a clock shows it; another day is told."""
    minutes = round(hour * 60)
    day, within = divmod(minutes, 24 * 60)
    text = f"{within // 60:02d}:{within % 60:02d}"
    return text if day == 0 else f"{text} (day {'+' if day > 0 else MINUS}{abs(day)})"
