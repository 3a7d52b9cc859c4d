"""What other subjects need of each subject beyond its milestones: items it used, and
the pace of its gang once nothing is left to record.

Worked out as of a subject's own last entry, never as of now, so that the same entries
give the same facts at any time. Kept by what they were worked out from.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from statistics import median_high
from typing import Any

from fieldapp.core.certificates import items_relied_on
from fieldapp.core.entries import Entry
from fieldapp.core.fold import fold
from fieldapp.core.heard import heard_of
from fieldapp.core.pace import ACTS_ENOUGH, measured
from fieldapp.core.sheet import Sheet, Step
from fieldapp.core.standing import standing_of
from fieldapp.lookups.reading import (
    Reader,
    entry_of_body,
    heard_by,
    others_of,
    sheet_of,
    subjects_issued,
)
from fieldapp.lookups.rests import Ground, Grounds, people_told
from fieldapp.store.ledger import rows_of_subject
from fieldapp.store.register import items_registered

Pace = dict[str, dict[str, int]]
Rested = tuple[str, Ground, tuple[Ground, ...]]
"""A subject, what it rests on, and what those rest on that it hears."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Of one subject: its kind, items named, ms per line by step once finished.

    `standing` is its standing as of its own last entry.
    """

    kind: str
    items: frozenset[str]
    pace: dict[str, int]
    standing: dict[str, Any]


def all_facts(reader: Reader, grounds: Grounds | None = None) -> dict[str, Facts]:
    """Give the facts of every subject that has an entry, by id.

    grounds: what states rest on, where that was looked up just now.
    """
    return _Facts(reader=reader, grounds=grounds or Grounds(reader=reader)).all()


def facts_one_by_one(reader: Reader) -> Iterator[None]:
    """Work out the facts of a subject between one step and the next; they are kept."""
    for _ in _Facts(reader=reader, grounds=Grounds(reader=reader)).each():
        yield
    all_facts(reader)


def uses_of(facts: dict[str, Facts], item: str, subject: str) -> int:
    """Give how many subjects other than this one used an item."""
    return sum(item in found.items for name, found in facts.items() if name != subject)


def pace_of(facts: dict[str, Facts]) -> Pace:
    """Give the median time of a line, ms, by kind of subject and step.

    Of two in the middle the slower: nobody is told to have more time than there was.
    """
    times: dict[str, dict[str, list[int]]] = {}
    for found in facts.values():
        for step, line_ms in found.pace.items():
            times.setdefault(found.kind, {}).setdefault(step, []).append(line_ms)
    return {
        kind: {step: median_high(each) for step, each in sorted(steps.items())}
        for kind, steps in sorted(times.items())
    }


@dataclass(slots=True, kw_only=True)
class _Facts:
    reader: Reader
    grounds: Grounds
    busy: set[str] = field(default_factory=set)
    rests: dict[str, frozenset[Rested]] = field(default_factory=dict)

    def all(self) -> dict[str, Facts]:
        cache, grounds = self.reader.store.cache, self.grounds
        subjects = subjects_issued(self.reader)
        named = (grounds.site, [(each, grounds.of(each)) for each in subjects])
        whole = cache.get("all_facts")
        if whole is None or whole[0] != named:
            whole = (named, dict(self.each()))
            cache["all_facts"] = whole
        return dict(whole[1])

    def each(self) -> Iterator[tuple[str, Facts]]:
        for subject in subjects_issued(self.reader):
            found = self._of(subject)
            if found is not None:
                yield subject, found

    def _of(self, subject: str) -> Facts | None:
        """Give a subject's facts; None before its first entry, or within a circle.

        None as well where every entry is struck.
        """
        sheet = sheet_of(self.reader, subject)
        begun = subject in self.grounds.places
        if sheet is None or not begun or subject in self.busy:
            return None
        kept = self.reader.store.cache.setdefault("facts", {})
        named = self._named(sheet)
        if subject not in kept or kept[subject][0] != named:
            self.busy.add(subject)
            kept[subject] = (named, self._work_out(sheet))
            self.busy.discard(subject)
        facts: Facts | None = kept[subject][1]
        return facts

    def _named(self, sheet: Sheet) -> tuple[Any, ...]:
        """Name what facts rest on: own entries, those of all it waits for, and those
        that any of these asks how lately they were heard.
        """
        return (self.grounds.site, self._rests_on(sheet.subject))

    def _rests_on(self, subject: str) -> frozenset[Rested]:
        if subject not in self.rests:
            # Two subjects that wait for each other see nothing of one another.
            self.rests[subject] = frozenset()
            sheet = sheet_of(self.reader, subject)
            if sheet is not None:
                heard = tuple(map(self.grounds.of, heard_by(sheet)))
                own = (subject, self.grounds.of(subject), heard)
                others = map(self._rests_on, others_of(self.reader, sheet))
                self.rests[subject] = frozenset({own}).union(*others)
        return self.rests[subject]

    def _work_out(self, sheet: Sheet) -> Facts | None:
        entries = self._entries(sheet.subject)
        if not entries:
            return None
        last = max(entry.at for entry in entries)
        state = fold(sheet, entries, self._standing(sheet, entries), {"at": last})
        standing = standing_of(state, last)
        return Facts(
            kind=sheet.raw["kind"],
            items=frozenset(standing["items"]),
            pace=_pace(sheet, state),
            standing=standing,
        )

    def _standing(self, sheet: Sheet, entries: list[Entry]) -> dict[str, Any]:
        register = items_registered(self.reader.store, self.reader.office_key)
        others = {name: self._of(name) for name in others_of(self.reader, sheet)}
        told = {n: found.standing for n, found in others.items() if found}
        for name in heard_by(sheet):
            heard = heard_of(self._entries(name), entries)
            told[name] = {**told.get(name, {"milestones": {}}), "heard": heard}
        return {
            "people": people_told(self.reader),
            "subjects": told,
            "items": items_relied_on(register, entries),
        }

    def _entries(self, subject: str) -> list[Entry]:
        rows = rows_of_subject(self.reader.store, subject)
        return [entry_of_body(row.body) for row in rows]


def _pace(sheet: Sheet, state: dict[str, Any]) -> dict[str, int]:
    """Give the time a line of each step takes, ms, if nothing is left to record.

    In a race what has one line only is timed from what was noted last before it.
    """
    steps = state["steps"]
    if any(step["status"] not in ("done", "off") for step in steps.values()):
        return {}
    found: dict[str, int] = {}
    raced: list[int] = []
    for name, step in sheet.steps.items():
        times = _times(steps[name])
        if "typical_ms" in step.raw and times:
            line_ms = _line_ms(step, times, raced)
            found |= {} if line_ms is None else {name: line_ms}
            raced += times if step.raced else []
    return found


def _line_ms(step: Step, times: list[int], raced: list[int]) -> int | None:
    typical, before = step.raw["typical_ms"], [t for t in raced if t <= times[0]]
    if len(times) == 1 and step.raced and before:
        alone = measured([max(before), *times], typical)
        return None if alone is None else alone.line_ms
    pace = measured(times, typical)
    enough = pace is not None and pace.acts >= min(ACTS_ENOUGH, len(times) - 1)
    return pace.line_ms if pace and enough else None


def _times(step: dict[str, Any]) -> list[int]:
    lines = step["lines"].values()
    return [line["at"] for line in lines if line["status"] != "discarded"]
