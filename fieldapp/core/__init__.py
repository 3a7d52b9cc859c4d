"""The interpreter of sheets: entries in, state out, whole numbers only.

Mirrored word for word in `static/core`. Nothing here reads a clock, draws a random
number, writes a file or imports `calc`: the world comes in as arguments.
"""
