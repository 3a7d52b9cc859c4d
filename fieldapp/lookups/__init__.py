"""The one door out: what pages, phones' answers and records are fed from.

Everything here is worked out from the ledger and the sheets when asked. What is kept
in the store's cache is named by what it was worked out from, so that dropping it
changes nothing but the time. Nothing here writes or reads a clock.
"""

from fieldapp.lookups.folding import (
    EntriesOf,
    Folded,
    folded,
    folded_from,
    standing_for,
)
from fieldapp.lookups.kept import overview
from fieldapp.lookups.reading import (
    Reader,
    people_of_plan,
    person_of_plan,
    roster_of,
    sheet_of,
    site_picture,
    subjects_issued,
)

__all__ = [
    "EntriesOf",
    "Folded",
    "Reader",
    "folded",
    "folded_from",
    "overview",
    "people_of_plan",
    "person_of_plan",
    "roster_of",
    "sheet_of",
    "site_picture",
    "standing_for",
    "subjects_issued",
]
