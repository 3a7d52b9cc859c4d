"""The only place of the package that reads a clock.

Everything else is handed the time as a number, so that a rule can be tested at
any moment and replayed years later. Times are whole milliseconds UTC; local
time exists only on screens and on paper. No rule may order facts by it.
"""

import time
from collections.abc import Callable

Clock = Callable[[], int]
"""What wiring hands on: a function that answers with milliseconds UTC."""


def utc_now_ms() -> int:
    """Answer with the machine's wall clock, in milliseconds since 1970 UTC."""
    return time.time_ns() // 1_000_000
