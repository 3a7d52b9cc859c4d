"""Subjects folded and kept from page to page, for questions over the whole site.

A kept state is named by all it rests on: the subject's sheets and own entries, the
people these name, the register, how often its items were used, and the standings of
the subjects it waits for; and it is good only until the moment at which it changes by
itself.
What moves by itself all the time (a running clock) is kept for the rest of its minute:
pages say the minute they are of. Dropping what is kept changes nothing else but the
time an answer takes. Nothing here reads a clock.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.core.standing import standing_of
from fieldapp.lookups.facts import all_facts
from fieldapp.lookups.folding import (
    Asking,
    Folded,
    ahead_of,
    in_site_order,
)
from fieldapp.lookups.reading import (
    Reader,
    heard_by,
    others_of,
    sheet_of,
    subjects_issued,
)
from fieldapp.lookups.rests import Grounds

FOR_EVER = 2**62
MINUTE_MS = 60_000
FINISHED = ("complete", "concession", "rejected")
Standings = dict[str, dict[str, Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A folded subject with what it rests on; good from `made` until before `until`."""

    rests_on: tuple[Any, ...]
    uses: Mapping[str, int]
    others: Standings
    made: int
    until: int
    found: Folded


def overview(reader: Reader, now: int) -> list[Folded]:
    """Fold every subject that has a sheet, in the order of the site's picture."""
    keeping = _keeping(reader, now)
    found = [keeping.folded(subject) for subject in subjects_issued(reader)]
    return in_site_order(reader.store, [each for each in found if each])


def states_one_by_one(reader: Reader, now: int) -> Iterator[None]:
    """Fold a subject between one step and the next, for `overview` to find it kept."""
    keeping = _keeping(reader, now)
    for subject in subjects_issued(reader):
        keeping.folded(subject)
        yield


def _keeping(reader: Reader, now: int) -> "_Keeping":
    asking, grounds = Asking(reader=reader, now=now), Grounds(reader=reader)
    return _Keeping(reader=reader, now=now, asking=asking, grounds=grounds)


@dataclass(slots=True, kw_only=True)
class _Keeping:
    reader: Reader
    now: int
    asking: Asking
    grounds: Grounds
    users: dict[str, set[str]] = field(default_factory=dict)
    standings: Standings = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.asking.facts = all_facts(self.reader, self.grounds)
        for subject, facts in self.asking.facts.items():
            for item in facts.items:
                self.users.setdefault(item, set()).add(subject)

    def folded(self, subject: str) -> Folded | None:
        sheet = sheet_of(self.reader, subject)
        if sheet is None or subject in self.asking.memo:
            return self.asking.folded(subject)
        others = self._others(sheet)
        told = (subject, *ahead_of(sheet), *heard_by(sheet))
        rests_on = (self.grounds.site, *map(self.grounds.of, told))
        kept: dict[str, Kept] = self.reader.store.cache.setdefault("kept", {})
        known = kept.get(subject)
        if known and self._good(known, rests_on, others):
            self.asking.memo[subject] = known.found
            return known.found
        found = self.asking.folded(subject)
        assert found is not None, "a subject with a sheet can be folded"
        kept[subject] = Kept(
            rests_on=rests_on,
            uses=self._uses(found),
            others=others,
            made=self.now,
            until=changes_at(found, self.now),
            found=found,
        )
        return found

    def _others(self, sheet: Sheet) -> Standings:
        """Give the standings of those it waits for, folding them first."""
        return {
            name: self._standing(name)
            for name in others_of(self.reader, sheet)
            if name != sheet.subject
        }

    def _standing(self, subject: str) -> dict[str, Any]:
        if subject not in self.standings:
            # Of two that wait for each other neither sees the other.
            self.standings[subject] = {}
            found = self.folded(subject)
            told = standing_of(found.state, 0) if found else {}
            self.standings[subject] = told
        return self.standings[subject]

    def _good(self, known: Kept, rests_on: tuple[Any, ...], others: Standings) -> bool:
        return (
            known.made <= self.now < known.until
            and known.rests_on == rests_on
            and known.others == others
            and known.uses == self._uses(known.found)
        )

    def _uses(self, found: Folded) -> dict[str, int]:
        subject = found.sheet.subject
        return {
            item: len(self.users.get(item, set()) - {subject})
            for item in found.standing["items"]
        }


def changes_at(found: Folded, now: int) -> int:
    """Give the moment, ms UTC, until which a state stands unless an entry comes."""
    ends = (*_moments(found.state), *_last_days(found))
    moments = [at for at in ends if at > now]
    if _moves(found):
        moments.append(now - now % MINUTE_MS + MINUTE_MS)
    return min(moments, default=FOR_EVER)


def _moves(found: Folded) -> bool:
    """Say whether a state changes with every moment that passes."""
    if any(not clock["ended"] for clock in found.state["clocks"].values()):
        return True
    if found.state.get("outlasting"):
        return True
    if any(entry.kind == "spoken" for entry in found.entries):
        return True
    begun = bool(found.entries) and found.state["verdict"] not in FINISHED
    return begun and counts_from_now(found.sheet.raw)


def counts_from_now(part: object) -> bool:
    """Say whether a sheet measures a time up to the present moment."""
    if isinstance(part, dict):
        now = "heard" in part or "now" in (part.get("from"), part.get("to"))
        return now or any(counts_from_now(inner) for inner in part.values())
    return isinstance(part, list) and any(counts_from_now(inner) for inner in part)


def _moments(state: Mapping[str, Any]) -> Iterator[int]:
    for hold in state["holds"].values():
        yield hold.get("until", 0)
    for point in state["points"].values():
        yield from (point[end] for end in ("until", "notice_until") if end in point)


def _last_days(found: Folded) -> Iterator[int]:
    if not found.sheet.amended:
        return
    for items in (found.sheet.raw.get("items", {}), found.standing["items"]):
        yield from (each["expires"] + 1 for each in items.values() if "expires" in each)
