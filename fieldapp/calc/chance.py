"""Numbers that look random and are not: a pure function of a seed.

The same seed gives the same run on any machine and in any version of Python, so that
a simulation can be repeated by whoever checks it. Nothing here is fit for secrets.
"""

import math
from collections.abc import Iterator

MASK = (1 << 64) - 1
TWO_TO_MINUS_53 = 2.0**-53


def unit_numbers(seed: int) -> Iterator[float]:
    """Numbers from 0 up to and without 1, evenly spread, without end.

    Source: SplitMix64; Steele, Lea and Flood, Fast splittable pseudorandom number
    generators (2014), figure 16.
    """
    for mixed in mixed_words(seed):
        yield (mixed >> 11) * TWO_TO_MINUS_53


def mixed_words(seed: int) -> Iterator[int]:
    """The generator's 64-bit words."""
    state = seed & MASK
    while True:
        state = (state + 0x9E3779B97F4A7C15) & MASK
        word = ((state ^ (state >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        word = ((word ^ (word >> 27)) * 0x94D049BB133111EB) & MASK
        yield word ^ (word >> 31)


def triangular(unit: float, least: float, likely: float, most: float) -> float:
    """Value of a triangular spread at a number from 0 to 1; equal values are fixed.

    Source: inverse of the triangular distribution function (textbook).
    """
    width = most - least
    if not width:
        return least
    if unit * width < likely - least:
        return least + math.sqrt(unit * width * (likely - least))
    return most - math.sqrt((1 - unit) * width * (most - likely))
