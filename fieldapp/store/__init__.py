"""What is kept on disk, and the only home of the database library.

The ledger is only ever appended to; everything else here is either about access
(accounts, codes, devices, sessions) or can be worked out again. One database is one
site. Times are handed in, in ms UTC; nothing here reads a clock.
"""
