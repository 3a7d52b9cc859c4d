"""One module per named calculation: its keys, its solution, its sheet.

A spec binds plain formulas to names that others script against. It holds no formula
of its own that a formula module could hold.
"""
