"""How a number is written on a calculation sheet: six figures, no exponents.

For reading only. Nothing is ever computed from a figure written here.
"""

import math

FIGURES = 6
MOST_DECIMALS = 12


def figure(value: float | int | bool | str | None) -> str:
    """A value as a sheet shows it; numbers with six significant figures."""
    if value is None:
        return "–"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str | int):
        return str(value).replace("-", "−") if isinstance(value, int) else value
    return _decimal(value).replace("-", "−")


def listed(values: object) -> str:
    """A list of values in one line."""
    if isinstance(values, list | tuple):
        return ", ".join(listed(value) for value in values)
    if isinstance(values, float | int | str) or values is None:
        return figure(values)
    raise TypeError(f"no figure for {type(values).__name__}")


def signed(value: float) -> str:
    """A term to add in a line of sums: + 3.5, − 2."""
    return f"{'−' if value < 0 else '+'} {figure(abs(value))}"


def _decimal(value: float) -> str:
    if not value:
        return "0"
    whole_digits = math.floor(math.log10(abs(value))) + 1
    decimals = min(max(FIGURES - whole_digits, 0), MOST_DECIMALS)
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
