"""What a subject's state rests on besides its own entries: its sheets, the people those
entries name, the register.

Rules ask for people only by the ids that entries name (who signed, who spoke, who was
on the crew), never for all of them: somebody enrolled elsewhere, or one more phone of
somebody known, changes no state. Only named here, in few words, so that caches can be
named by it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from fieldapp.lookups.reading import Reader, entry_of_body, roster_of
from fieldapp.store.ledger import last_places, rows_of_subject
from fieldapp.store.register import items_registered
from fieldapp.store.roster import sheets_issued
from fieldapp.store.struck import struck_ids

ABOUT_PEOPLE = ("name", "roles", "organisation")
Told = tuple[tuple[str, str], ...]
"""People by id, each with all that a standing tells of them."""
Ground = tuple[tuple[str, ...], int, Told]
"""The sheets of a subject, its last place in the ledger, the people it names."""


def people_told(reader: Reader) -> dict[str, dict[str, Any]]:
    """Give people as a standing tells them: name, roles, organisation."""
    return {
        person: {name: known[name] for name in ABOUT_PEOPLE}
        for person, known in roster_of(reader).items()
    }


@dataclass(slots=True, kw_only=True)
class Grounds:
    """What states rest on as the ledger stands; looked up once for one question."""

    reader: Reader
    places: dict[str, int] = field(default_factory=dict)
    sheets: dict[str, tuple[str, ...]] = field(default_factory=dict)
    people: dict[str, str] = field(default_factory=dict)
    site: tuple[frozenset[str], int] = (frozenset(), 0)
    """What every state rests on: what is struck, and which register it is."""
    known: dict[str, Ground] = field(default_factory=dict)

    def __post_init__(self) -> None:
        reader = self.reader
        self.places = last_places(reader.store)
        self.sheets = sheets_issued(reader.store, reader.office_key)
        told = people_told(reader)
        self.people = {person: repr(known) for person, known in told.items()}
        self.site = (struck_ids(reader.store), self._register())

    def of(self, subject: str) -> Ground:
        """Name what a subject's own entries bring: sheets, how many, people."""
        if subject not in self.known:
            place = self.places.get(subject, 0)
            told = self._told(subject, place)
            self.known[subject] = (self.sheets.get(subject, ()), place, told)
        return self.known[subject]

    def _told(self, subject: str, place: int) -> Told:
        if not place:
            return ()
        kept = self.reader.store.cache.setdefault("named", {})
        named = (place, self.site[0])
        if subject not in kept or kept[subject][0] != named:
            rows = rows_of_subject(self.reader.store, subject)
            texts = _texts(entry_of_body(row.body) for row in rows)
            kept[subject] = (named, sorted(texts))
        # Whoever is enrolled later under an id that is named already counts from then.
        known = self.people
        return tuple((each, known[each]) for each in kept[subject][1] if each in known)

    def _register(self) -> int:
        """Count the registers there have been: the same number, the same register."""
        now = items_registered(self.reader.store, self.reader.office_key)
        last, number = self.reader.store.cache.get("register_number", ({}, 0))
        if last != now:
            number += 1
            self.reader.store.cache["register_number"] = (now, number)
        return int(number)


def _texts(entries: Iterable[Any]) -> set[str]:
    """Give every text of entries that could be the id of a person."""
    found = set()
    for entry in entries:
        found.add(entry.person)
        found.update(_leaves(entry.about))
    return found


def _leaves(part: object) -> Iterator[str]:
    if isinstance(part, str):
        yield part
    elif isinstance(part, dict | list | tuple):
        for inner in part.values() if isinstance(part, dict) else part:
            yield from _leaves(inner)
