"""A subject's entries, ordered and sorted by what they are about, once per fold.

Only looks things up; every rule about what counts is made elsewhere, on top of this.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from fieldapp.core.bounds import between
from fieldapp.core.clocks import Moment, moment_of
from fieldapp.core.entries import Entry, adds_photo
from fieldapp.core.graph import Graph, order
from fieldapp.core.kinds import KINDS, READINGS
from fieldapp.core.sheet import Sheet

LOCKING = frozenset({"called", "release", "refusal"})
"""Kinds after which a reading in their past may no longer be retaken."""


@dataclass(slots=True, kw_only=True)
class History:
    """Entries by place (index in order) and what they speak of.

    `bearing`: for each step the mask of what its lines are read from: its readings,
    their corrections, discards. `added`: corrections that only bring pictures.
    """

    graph: Graph
    moments: tuple[Moment, ...]
    readings: dict[str, list[int]] = field(default_factory=dict)
    corrections: dict[int, list[int]] = field(default_factory=dict)
    added: set[int] = field(default_factory=set)
    discards: dict[tuple[str, str], list[int]] = field(default_factory=dict)
    bearing: dict[str, int] = field(default_factory=dict)
    by_point: dict[tuple[str, str], list[int]] = field(default_factory=dict)
    by_kind: dict[str, list[int]] = field(default_factory=dict)
    by_target: dict[str, list[int]] = field(default_factory=dict)
    uncounted: list[tuple[str, int]] = field(default_factory=list)
    conditioned: set[str] = field(default_factory=set)

    def entry(self, place: int) -> Entry:
        """Give the entry at a place."""
        return self.graph.entries[place]

    def saw(self, place: int, other: int) -> bool:
        """Say whether the entry at `place` has `other` in its own past."""
        return bool(self.graph.past[place] >> other & 1)

    def seeing(self, places: list[int], others: list[int]) -> list[int]:
        """Keep the places whose authors had seen all of some others; of none, none."""
        if not others:
            return []
        return [p for p in places if all(self.saw(p, other) for other in others)]

    def unseen(self, places: list[int]) -> list[int]:
        """Keep what no other of these has in its past."""
        seen = 0
        for place in places:
            seen |= self.graph.past[place]
        return [place for place in places if not seen >> place & 1]

    def watches(self, step: str) -> bool:
        """Say whether, beyond its gates, an act on a step may have been forbidden."""
        return step in self.conditioned or "anyway" in self.by_kind

    def bears(self, step: str, place: int) -> None:
        """Note that the lines of a step may be read from an entry."""
        self.bearing[step] = self.bearing.get(step, 0) | 1 << place

    def locked(self, place: int, mask: int) -> bool:
        """Say whether an entry within mask has made a reading past retaking.

        That is a call, a release, a refusal or any entry by another person that has
        the reading in its past.
        """
        author = self.entry(place).person
        later = mask >> (place + 1)
        other = place + 1
        while later:
            if later & 1 and self.saw(other, place):
                entry = self.entry(other)
                if entry.kind in LOCKING or entry.person != author:
                    return True
            later >>= 1
            other += 1
        return False

    def retaken_in_time(self, place: int, later: int) -> bool:
        """Say whether an entry takes one back that nobody had relied on yet.

        That is the author's own, on the same device, before the earlier was locked.
        """
        old, new = self.entry(place), self.entry(later)
        mask = self.graph.past[later] | 1 << later
        same = old.person == new.person and old.device == new.device
        return same and self.saw(later, place) and not self.locked(place, mask)


def read_history(sheet: Sheet, entries: Iterable[Entry]) -> History:
    """Order the entries of the sheet's subject and sort them by what they are about."""
    mine = [entry for entry in entries if entry.subject == sheet.subject]
    graph = order(mine)
    history = History(graph=graph, moments=_moments(sheet, graph))
    for place, entry in enumerate(graph.entries):
        kind = entry.kind
        history.by_kind.setdefault(kind, []).append(place)
        if kind in READINGS:
            _file_reading(sheet, history, place, entry)
        elif kind not in KINDS:
            history.uncounted.append(("unknown_kind", place))
        elif kind == "correction":
            _file_correction(sheet, history, place, entry)
        elif kind == "discarded":
            key = (entry.step or "", entry.line)
            history.discards.setdefault(key, []).append(place)
            history.bears(key[0], place)
        elif entry.point is not None:
            _file_point(sheet, history, place, entry)
            asked = entry.about.get("conditions", ())
            history.conditioned.update(each["before"] for each in asked)
        target = entry.about.get("target") if entry.about else None
        if isinstance(target, str):
            history.by_target.setdefault(target, []).append(place)
    return history


def _file_reading(sheet: Sheet, history: History, place: int, entry: Entry) -> None:
    step = sheet.steps.get(entry.step or "")
    if step is None or entry.line not in step.known_lines:
        history.uncounted.append(("unknown_step", place))
    elif entry.sheet != sheet.hash and not sheet.counts(entry.sheet, step.id):
        history.uncounted.append(("other_sheet", place))
    else:
        history.readings.setdefault(step.id, []).append(place)
        bearing = history.bearing
        bearing[step.id] = bearing.get(step.id, 0) | 1 << place


def _file_correction(sheet: Sheet, history: History, place: int, entry: Entry) -> None:
    # For sheets from before this was amended a picture added is a correction.
    if sheet.amended >= 2 and adds_photo(entry):
        history.added.add(place)
    root = history.graph.index.get(entry.about["target"])
    while root is not None and history.entry(root).kind == "correction":
        if root >= place:
            root = None
            break
        root = history.graph.index.get(history.entry(root).about["target"])
    if root is None or history.entry(root).kind not in READINGS:
        history.uncounted.append(("target_missing", place))
    elif not history.saw(place, root):
        history.uncounted.append(("target_unseen", place))
    else:
        history.corrections.setdefault(root, []).append(place)
        history.bears(history.entry(root).step or "", place)


def _file_point(sheet: Sheet, history: History, place: int, entry: Entry) -> None:
    if entry.point not in sheet.points:
        history.uncounted.append(("unknown_step", place))
    elif not sheet.counts(entry.sheet, entry.point):
        history.uncounted.append(("other_sheet", place))
    else:
        key = (entry.point, entry.kind)
        history.by_point.setdefault(key, []).append(place)


def _moments(sheet: Sheet, graph: Graph) -> tuple[Moment, ...]:
    amended = sheet.amended >= 2
    unknown = _unknown_times(graph, believed=not amended)
    moments = [moment_of(entry) for entry in graph.entries]
    for place in unknown:
        moments[place] = moments[place]._replace(unknown=True)
    for place in unknown if amended else ():
        moments[place] = moments[place]._replace(between=between(graph, moments, place))
    return tuple(moments)


def _unknown_times(graph: Graph, *, believed: bool) -> set[int]:
    """Find entries whose wall clock lies behind their device's previous session.

    believed: for sheets from before this was amended such a time is known as soon as
    it is typed by a named person or an entry of another device has it in its past.
    """
    sessions = {(entry.device, entry.session) for entry in graph.entries}
    devices = {device for device, _ in sessions}
    if len(sessions) == len(devices):
        return set()
    by_device: dict[str, list[tuple[int, int]]] = {}
    for place, entry in enumerate(graph.entries):
        by_device.setdefault(entry.device, []).append((entry.seq, place))
    unknown: set[int] = set()
    for numbers in by_device.values():
        latest, session = 0, ""
        for _, place in sorted(numbers):
            entry = graph.entries[place]
            behind = entry.session != session and entry.made < latest
            if behind and not (believed and _confirmed(graph, place)):
                unknown.add(place)
            if not behind:
                latest, session = max(latest, entry.made), entry.session
    return unknown


def _confirmed(graph: Graph, place: int) -> bool:
    entry = graph.entries[place]
    if entry.at_by == "typed":
        return True
    return any(
        graph.past[other] >> place & 1 and graph.entries[other].device != entry.device
        for other in range(place + 1, len(graph.entries))
    )
