"""The order in which people expect marks: 3E2 before 3E10."""

import re

_DIGITS = re.compile(r"([0-9]+)")


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Give what to sort a mark or title by: its numbers count as numbers."""
    return tuple(
        (0, int(part), part) if part.isdecimal() else (1, 0, part.casefold())
        for part in _DIGITS.split(text)
        if part
    )
