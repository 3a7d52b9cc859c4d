"""Subjects folded: what each adds up to at a moment, and what folding is told.

Prerequisites are folded for the same moment. Items and pace come from the register
and from the facts of other subjects. Nothing here reads a clock.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.ahead import moments_of
from fieldapp.core.certificates import certified, items_relied_on
from fieldapp.core.entries import Entry
from fieldapp.core.fold import fold, present
from fieldapp.core.heard import heard_of
from fieldapp.core.sheet import Sheet
from fieldapp.core.standing import standing_of
from fieldapp.lookups.facts import Facts, all_facts, pace_of, uses_of
from fieldapp.lookups.reading import (
    Reader,
    entry_of_body,
    heard_by,
    others_of,
    sheet_of,
    site_picture,
)
from fieldapp.lookups.rests import people_told
from fieldapp.store.database import Store
from fieldapp.store.ledger import Row, rows_of_subject
from fieldapp.store.register import (
    counted,
    items_registered,
    roles_that_register,
)
from fieldapp.store.roster import people_of

EntriesOf = Callable[[str | None], Iterable[Entry]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """A subject with all it adds up to: its sheet, its rows as stored, its state.

    `standing` is what the fold was told of people and other subjects; `register` all
    items known there, those the subject has not used too.
    """

    sheet: Sheet
    rows: tuple[Row, ...]
    entries: tuple[Entry, ...]
    standing: dict[str, Any]
    register: dict[str, Any]
    state: dict[str, Any]


def folded(reader: Reader, subject: str, now: int) -> Folded | None:
    """Fold one subject at a moment (ms UTC); None if it has no sheet."""
    return Asking(reader=reader, now=now).folded(subject)


def folded_from(
    reader: Reader,
    subject: str,
    now: int,
    entries_of: EntriesOf,
    *,
    alone: bool = False,
) -> Folded | None:
    """Fold one subject from entries that are not (only) the ledger's.

    `entries_of` gives the entries of any subject (None: the site's own), so that a
    phone's view can be worked out here; `rows` is then empty. `alone` leaves out what
    other subjects used and how fast they were, which is quicker.
    """
    facts: dict[str, Facts] | None = {} if alone else None
    asking = Asking(reader=reader, now=now, entries_of=entries_of, facts=facts)
    return asking.folded(subject)


def register_from(reader: Reader, entries: Iterable[Entry]) -> dict[str, Any]:
    """Fold the register from site-level entries that are not (only) the ledger's."""
    store, office = reader.store, reader.office_key
    people, roles = people_of(store, office), roles_that_register(store)
    return certified(counted(entries, people, roles, office))


def in_site_order(store: Store, found: Iterable[Folded]) -> list[Folded]:
    """Set folded subjects in the order of the site's picture."""
    order = _order_of(store)
    return sorted(found, key=lambda each: order.get(each.sheet.subject, len(order)))


def standing_for(reader: Reader, subject: str, now: int) -> dict[str, Any]:
    """Give what folding a subject needs to know of people and other subjects."""
    found = folded(reader, subject, now)
    assert found is not None, f"{subject} has no sheet"
    return found.standing


@dataclass(slots=True, kw_only=True)
class Asking:
    """One question at one moment: each subject is folded once for it.

    What `memo` holds already is taken as folded for that moment.
    """

    reader: Reader
    now: int
    entries_of: EntriesOf | None = None
    memo: dict[str, Folded | None] = field(default_factory=dict)
    facts: dict[str, Facts] | None = None
    register: dict[str, Any] | None = None
    read: dict[str, tuple[tuple[Row, ...], tuple[Entry, ...]]] = field(
        default_factory=dict
    )

    def folded(self, subject: str) -> Folded | None:
        """Fold a subject, once; None if it has no sheet."""
        if subject not in self.memo:
            # Two subjects that wait for each other see nothing of one another.
            self.memo[subject] = None
            self.memo[subject] = self._fold(subject)
        return self.memo[subject]

    def _fold(self, subject: str) -> Folded | None:
        sheet = sheet_of(self.reader, subject)
        if sheet is None:
            return None
        rows, entries = self._known(subject)
        standing = self._standing(sheet, entries)
        state = fold(sheet, entries, standing, {"at": self.now})
        return Folded(
            sheet=sheet,
            rows=rows,
            entries=entries,
            standing=standing,
            register=self.register or {},
            state=state,
        )

    def _standing(self, sheet: Sheet, entries: Iterable[Entry]) -> dict[str, Any]:
        found = {name: self.folded(name) for name in others_of(self.reader, sheet)}
        if self.facts is None:
            self.facts = all_facts(self.reader)
        subjects = {
            name: standing_of(each.state, self.now)
            for name, each in found.items()
            if each
        }
        for name, steps in ahead_of(sheet).items():
            other = subjects.setdefault(name, {"milestones": {}})
            other["moments"] = self._moments(name, steps)
        for name in heard_by(sheet):
            other = subjects.setdefault(name, {"milestones": {}})
            other["heard"] = heard_of(self._known(name)[1], entries)
        return {
            "people": people_told(self.reader),
            "subjects": subjects,
            "items": self._items(sheet.subject, entries, self.facts),
            "pace": pace_of(
                {name: f for name, f in self.facts.items() if name != sheet.subject}
            ),
        }

    def _moments(self, subject: str, steps: Iterable[str]) -> dict[str, int]:
        """Give when a subject did some steps: by its own entries, nobody else's."""
        sheet = sheet_of(self.reader, subject)
        if sheet is None:
            return {}
        alone = {"people": people_told(self.reader), "subjects": {}}
        scene = present(sheet, self._known(subject)[1], alone, {"at": self.now})
        return moments_of(scene, steps)

    def _items(
        self, subject: str, entries: Iterable[Entry], facts: dict[str, Facts]
    ) -> dict[str, Any]:
        """Give the items that readings name: others say nothing about this subject."""
        if self.register is None:
            self.register = self._register()
        return {
            name: {**item, "uses": uses_of(facts, name, subject)}
            for name, item in items_relied_on(self.register, entries).items()
        }

    def _register(self) -> dict[str, Any]:
        if self.entries_of is None:
            return items_registered(self.reader.store, self.reader.office_key)
        return register_from(self.reader, self.entries_of(None))

    def _known(self, subject: str) -> tuple[tuple[Row, ...], tuple[Entry, ...]]:
        if subject not in self.read:
            if self.entries_of is not None:
                self.read[subject] = ((), tuple(self.entries_of(subject)))
            else:
                rows = tuple(rows_of_subject(self.reader.store, subject))
                entries = tuple(entry_of_body(row.body) for row in rows)
                self.read[subject] = (rows, entries)
        return self.read[subject]


def ahead_of(sheet: Sheet) -> dict[str, list[str]]:
    """Give the subjects whose moments a sheet's clocks ask for, with their steps."""
    found: dict[str, list[str]] = {}
    for clock in sheet.clocks.values():
        if "other" in clock:
            steps = found.setdefault(clock["other"]["subject"], [])
            steps += [clock["until"], clock["other"].get("undone", clock["until"])]
    return found


def _order_of(store: Store) -> dict[str, int]:
    picture = site_picture(store) or {"piers": []}
    if "subjects" in picture:
        return {each["id"]: n for n, each in enumerate(picture["subjects"])}
    joints = [
        segment["joint"]
        for pier in picture["piers"]
        for arm in pier["arms"]
        for segment in arm["segments"]
        if "joint" in segment
    ]
    return {joint: place for place, joint in enumerate(joints)}
