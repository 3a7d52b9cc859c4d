"""Engineering formulas of the erection, pure and each with its source.

Floats live here and nowhere else. Nothing here reads a clock, a file or a setting,
and nothing outside a table or a range is ever guessed: it is refused.
"""

METHOD_VERSION = "2"
"""Raised when an answer changes. 2: in a window a life is spent from the minute its
table is passed, no longer from the reading before."""
