"""What holds at a step, seen from a set of entries: the readings that stand.

A view is a mask over the history: everything (the present) or one entry's own past
(what its author had seen). Concurrent contradictions stay disputed until an entry
that has seen both; a batch discarded no longer counts; corrections overlay.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.attempts import Chain, attempt_chain, is_on
from fieldapp.core.clocks import Moment, moment_of
from fieldapp.core.history import History
from fieldapp.core.kinds import VERDICTS
from fieldapp.core.line import Line
from fieldapp.core.sheet import Sheet
from fieldapp.core.slips import stated_at

Source = tuple[str, str | None, int]
"""What lines are read from: a step, an attempt, the mask of entries that bear on it."""


@dataclass(slots=True, kw_only=True)
class View:
    """A set of entries of one subject, and the lines that stand in it."""

    sheet: Sheet
    history: History
    mask: int
    standing: dict[str, Any]
    known: dict[Source, dict[str, Line]] = field(default_factory=dict)
    _current: dict[str, dict[str, Line]] = field(default_factory=dict)
    _attempts: Chain = ()

    def among(self, places: list[int] | None) -> list[int]:
        """Keep the places that are in this view, in order."""
        return [place for place in places or () if self.mask >> place & 1]

    def attempts(self) -> Chain:
        """Give the attempts up to the current one, each with where it starts."""
        if not self._attempts:
            self._attempts = attempt_chain(self, _reworks(self))
        return self._attempts

    def only_attempts(self, chain: Chain) -> None:
        """Look at an earlier attempt: leave the later ones out of this view."""
        self._attempts = chain

    def attempt_of(self, name: str) -> str | None:
        """Give the attempt whose entries count for a step or point here.

        A step that takes off what was put on counts from the last attempt that began
        with something on: what is off already is not taken off again.
        """
        place = self.sheet.flow[name]
        chain = self.attempts()
        if len(chain) == 1:
            return None
        step = self.sheet.steps.get(name)
        for count in range(len(chain) - 1, 0, -1):
            attempt, start = chain[count]
            asked = place >= start and (
                step is None or not step.takes_off or is_on(self, step, chain[:count])
            )
            if asked:
                return attempt
        return None

    def lines(self, step: str) -> dict[str, Line]:
        """Give the lines of a step that have a reading, in the order of the sheet."""
        found = self._current.get(step)
        if found is None:
            found = self.lines_in(step, self.attempt_of(step))
            self._current[step] = found
        return found

    def lines_in(self, step: str, attempt: str | None) -> dict[str, Line]:
        """Give the lines of a step as read in a given attempt.

        Views that have the same of what bears on a step share its lines.
        """
        key = self._source(step, attempt)
        found = self.known.get(key)
        if found is None:
            found = self.known[key] = _read_lines(self, step, attempt)
        return found

    def has_lines(self, step: str, attempt: str | None) -> bool:
        """Say whether any line of a step was read in a given attempt."""
        entries, mask = self.history.graph.entries, self.mask
        return any(
            mask >> place & 1 and entries[place].attempt == attempt
            for place in self.history.readings.get(step, ())
        )

    def source(self, step: str) -> Source:
        """Give what the current lines of a step are read from; same, same lines."""
        return self._source(step, self.attempt_of(step))

    def _source(self, step: str, attempt: str | None) -> Source:
        return (step, attempt, self.mask & self.history.bearing.get(step, 0))

    def line_at(self, line: Line, place: int) -> Line:
        """Give a line as one of its earlier readings or corrections stated it.

        Sheets from before this was amended judged it as done when it was done last.
        """
        amended = self.sheet.amended >= 2
        root = self.root_of(line, place) if amended else line.root
        values = _values(self, place)
        return line._replace(root=root, current=place, values=values, disputed=False)

    def root_of(self, line: Line, place: int) -> int:
        """Give the reading that one of a line's readings or corrections is about."""
        roots = [p for p in line.asserted if self.history.entry(p).kind != "correction"]
        return _root(self.history, place, roots)

    def discards_of(self, step: str, root: int) -> list[int]:
        """Give the entries that discard the batch a reading began, in order."""
        history = self.history
        entry = history.entry(root)
        found = self.among(history.discards.get((step, entry.line)))
        return [d for d in found if history.entry(d).attempt == entry.attempt]

    def named(self, step: str, field: str, place: int) -> Iterator[int | str]:
        """Give what was read of a field, in any attempt and as corrected.

        Without what was discarded, or read by somebody who knew of an entry.
        """
        history = self.history
        for root in self.among(history.readings.get(step)):
            last = (root, *self.among(history.corrections.get(root)))[-1]
            value, gone = _values(self, last).get(field), self.discards_of(step, root)
            if value is None or history.saw(root, place):
                continue
            if not any(history.saw(discard, root) for discard in gone):
                yield value

    def moment(self, line: Line) -> Moment:
        """Give when a line was done; only a slip is mended to a later time."""
        history = self.history
        if line.plain or len(line.asserted) == 1:
            return history.moments[line.root]
        root, known = history.entry(line.root), history.moments[line.root]
        at = stated_at(history, line, mended=self.sheet.amended >= 2)
        if at == root.at:
            return known
        return moment_of(root, at, known.unknown)._replace(between=known.between)


def allowed(
    standing: dict[str, Any], person: str, wanted: list[dict[str, Any]]
) -> bool:
    """Say whether a person has one of the wanted roles (of a wanted organisation)."""
    known = standing.get("people", {}).get(person)
    if known is None:
        return False
    return any(
        each["role"] in known["roles"] and _is_of(known["organisation"], each)
        for each in wanted
    )


def _is_of(organisation: str, wanted: dict[str, Any]) -> bool:
    named = wanted.get("organisation", organisation)
    return organisation in named if isinstance(named, list) else organisation == named


def _read_lines(view: View, step_id: str, attempt: str | None) -> dict[str, Line]:
    history, step = view.history, view.sheet.steps[step_id]
    entries, places = history.graph.entries, view.among(history.readings.get(step_id))
    if step.series and not (step.lines or history.corrections or history.discards):
        ids = [(entries[p].id, p) for p in places if entries[p].attempt == attempt]
        return {name: _plain_line(history, name, place) for name, place in ids}
    roots: dict[str, list[int]] = {}
    for place in places:
        entry = entries[place]
        if entry.attempt == attempt:
            roots.setdefault(entry.id if step.series else entry.line, []).append(place)
    names = [n for n in step.lines if n in roots] if step.lines else list(roots)
    return {name: _read_line(view, step_id, name, roots[name]) for name in names}


def _read_line(view: View, step_id: str, name: str, roots: list[int]) -> Line:
    history = view.history
    if len(roots) == 1 and roots[0] not in history.corrections and not history.discards:
        return _plain_line(history, name, roots[0])
    discards = view.discards_of(step_id, roots[0])
    # Sheets from before this was amended left a line discarded for good.
    amended = view.sheet.amended >= 2
    anew = history.seeing(roots, discards) if amended else []
    first, roots = roots[0], anew or roots
    asserted = list(roots)
    for root in roots:
        asserted += view.among(history.corrections.get(root))
    asserted.sort()
    stating = [p for p in asserted if p not in history.added]
    standing = history.unseen([p for p in stating if not _stale(view, p, roots)])
    values = [_values(view, place) for place in standing]
    root = _root(history, standing[0], roots)
    starts = any(clock["start"] == step_id for clock in view.sheet.clocks.values())
    if amended and starts and (anew or not discards):
        root = first  # no later reading starts a clock later
    return Line(
        id=name,
        root=root,
        current=standing[0],
        values=values[0],
        disputed=any(other != values[0] for other in values[1:]),
        discarded=bool(discards) and not anew,
        asserted=tuple(asserted),
    )


def _plain_line(history: History, name: str, root: int) -> Line:
    # Neither disputed nor discarded, but plain; made bare, as there are hundreds.
    values = history.graph.entries[root].values
    return tuple.__new__(Line, (name, root, root, values, False, False, (root,), True))


def _stale(view: View, place: int, roots: list[int]) -> bool:
    """Say whether a correction names a reading already retaken when it was made."""
    history = view.history
    if history.entry(place).kind != "correction":
        return False
    root = _root(history, place, roots)
    return any(
        history.saw(place, other) and history.saw(other, root)
        for other in roots
        if other != root
    )


def _root(history: History, place: int, roots: list[int]) -> int:
    if place in roots:
        return place
    return next(root for root in roots if place in history.corrections.get(root, ()))


def _values(view: View, place: int) -> dict[str, int | str]:
    """Give the values a reading or correction asserts, earlier ones overlaid."""
    history = view.history
    entry = history.entry(place)
    if entry.kind != "correction":
        return entry.values
    root = next(r for r, found in history.corrections.items() if place in found)
    values = dict(history.entry(root).values)
    for other in history.corrections[root]:
        if other == place or history.saw(place, other):
            values.update(history.entry(other).values)
    return values


def _reworks(view: View) -> list[int]:
    """Give the dispositions that order rework and may do so."""
    given = view.among(view.history.by_kind.get("disposition"))
    return [place for place in given if redoes(view, place)]


def redoes(view: View, place: int) -> bool:
    """Say whether a disposition orders rework from a step, by right."""
    about = view.history.entry(place).about
    known = about["verdict"] == "rework" and about.get("from") in view.sheet.steps
    return known and may_dispose(view, place)


def decides(view: View, place: int) -> bool:
    """Say whether a disposition decides anything: by right, and rework from a step.

    Sheets from before this was amended took rework from nowhere as decided.
    """
    if view.sheet.amended < 2 or view.history.entry(place).about["verdict"] != "rework":
        return may_dispose(view, place)
    return redoes(view, place)


def may_dispose(view: View, place: int) -> bool:
    """Say whether a disposition is by the right role and organisation, by PIN."""
    entry = view.history.entry(place)
    wanted = view.sheet.raw.get("dispose", [])
    return entry.unlocked == "pin" and allowed(view.standing, entry.person, wanted)


def strictest(view: View, places: list[int]) -> int:
    """Of dispositions none of which saw another, give the strictest (then least id)."""
    newest = view.history.unseen(places)

    def rank(place: int) -> tuple[int, str]:
        entry = view.history.entry(place)
        return (-VERDICTS.index(entry.about["verdict"]), entry.id)

    return min(newest, key=rank)
