"""A view at a moment: what the kernel asks of, and what the rules are judged in.

One scene is one set of entries seen at one moment: the present, or an entry's own
past at the time it was made. Answers are remembered, so each is worked out once.
"""

from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from fieldapp.core.clocks import Moment, elapsed_ms
from fieldapp.core.line import Line
from fieldapp.core.numbers import Value
from fieldapp.core.sheet import Step
from fieldapp.core.view import View


class Case(Protocol):
    """The fold at work on one subject: rules that scenes lean on."""

    births: dict[int, list[dict[str, Any]]]
    acts: dict[int, list[dict[str, Any]]]
    plain: dict[int, Any]
    quiet: int
    upsetting: dict[str, int]
    runs: dict[Any, Any]
    numbers: dict[tuple[str, str], int | None]

    def scene(self, mask: int, at: Moment) -> "Scene":
        """Give the scene of a set of entries at a moment."""

    def reached(self, scene: "Scene", what: str, name: str) -> bool:
        """Say whether a step, point or milestone is reached in a scene."""

    def milestone(self, scene: "Scene", name: str) -> int | None:
        """Give the place of the entry that reached a milestone."""

    def released_at(self, scene: "Scene", point: str) -> int | None:
        """Give the place of the release that stands for a point."""

    def life_used(self, scene: "Scene", clock: str, line: str, end: Any) -> Value:
        """Give the share of a clock's life used at a reference."""

    def earlier(self, scene: "Scene", count: int) -> "Scene":
        """Give the scene as it would be with only the first `count` attempts."""

    def under(self, place: int) -> "Case":
        """Give the fold under the sheet that an entry names, which judges it."""

    def forbidden(self, step: Step, place: int) -> list[dict[str, Any]]:
        """Give why a gate forbade the act at a place when it was made; empty: none."""


@dataclass(slots=True, kw_only=True)
class Scene:
    """A view at a moment, with its memory; see `Situation` for what it answers."""

    view: View
    at: Moment
    case: Case
    overlay: dict[str, dict[str, Line]] = field(default_factory=dict)
    pending: frozenset[str] = frozenset()
    until: int | None = None
    memo: dict[Any, Any] = field(default_factory=dict)
    read: dict[str, dict[str, Line]] = field(default_factory=dict)

    def lines(self, step: str) -> dict[str, Line]:
        """Give the lines of a step with a reading, discarded ones too."""
        found = self.read.get(step)
        if found is not None:
            return found
        found = self.overlay.get(step)
        if found is None:
            found = self.view.lines(step)
        if self.until is not None:
            until = self.until
            found = {i: n for i, n in found.items() if n.root <= until}
        self.read[step] = found
        return found

    @property
    def changed(self) -> bool:
        """Say whether the lines are others than the view's own."""
        return bool(self.overlay) or self.until is not None

    def with_lines(self, step: str, lines: dict[str, Line]) -> "Scene":
        """Give the same scene with other lines on one step."""
        overlay = {**self.overlay, step: lines}
        return replace(self, overlay=overlay, memo={}, read={})

    def up_to(self, place: int, milestone: str) -> "Scene":
        """Give the same scene with only what was first read up to a place.

        milestone: the one being worked out, which this scene takes as not reached.
        """
        return Scene(
            view=self.view,
            at=self.at,
            case=self.case,
            overlay=self.overlay,
            pending=self.pending | {milestone},
            until=place,
        )

    def reading(self, step: str, line: str, field: str) -> int | str | None:
        """Give the reading that stands; None where missing, disputed, discarded."""
        lines = self.read.get(step)
        found = (self.lines(step) if lines is None else lines).get(line)
        if found is None or found.disputed or found.discarded:
            return None
        return found.values.get(field)

    def item_number(self, item: str, name: str) -> int | None:
        """Give a number of an item's certificate: the register's, else the sheet's."""
        numbers = self.case.numbers
        if (item, name) not in numbers:
            known = self.view.standing.get("items", {}).get(item)
            if known is None:
                known = self.view.sheet.raw.get("items", {}).get(item, {})
            numbers[item, name] = known.get("numbers", {}).get(name)
        return numbers[item, name]

    def line_ids(self, step: str, among: list[str] | None = None) -> list[str]:
        """Give the lines read, in order, less discarded ones; only those among."""
        lines = self.read.get(step)
        if lines is None:
            lines = self.lines(step)
        if among is None:
            return [name for name, line in lines.items() if not line.discarded]
        return [n for n in among if n in lines and not lines[n].discarded]

    def disputed(self, step: str, line: str) -> bool:
        """Say whether a line's readings contradict each other unresolved."""
        return (self.read.get(step) or self.lines(step))[line].disputed

    def line_of(self, step: str) -> str | None:
        """Give the line that stands for a step: its only one, or the last read."""
        names = self.line_ids(step)
        return names[-1] if names else None

    def elapsed_ms(
        self, start: Any, end: Any, use_by: bool, typed_ms: int = 0
    ) -> int | None:
        """Give the time between two references, ms; None until both have happened.

        typed_ms: what is added where one of two lines has a time that was typed.
        """
        first, last = self.moment(start), self.moment(end)
        if first is None or last is None:
            return None
        typed = typed_ms and (self._typed(start) or self._typed(end))
        return elapsed_ms(first, last, use_by) + (typed_ms if typed else 0)

    def moment(self, ref: Any) -> Moment | None:
        """Give the moment a reference means: now, a step, a point, a milestone."""
        if ref == "now":
            return self.at
        if "step" in ref:
            return self._step_moment(ref)
        if "point" in ref:
            place = self.case.released_at(self, ref["point"])
        else:
            place = self.case.milestone(self, ref["milestone"])
        return None if place is None else self.view.history.moments[place]

    def life_used(self, clock: str, line: str, end: Any) -> Value:
        """Give the share of a clock's life used at a reference."""
        return self.case.life_used(self, clock, line, end)

    def reached(self, what: str, name: str, subject: str | None) -> bool:
        """Say whether something is reached here, or by another subject's standing."""
        if subject is not None:
            return name in milestones_of(self.view.standing, subject)
        return self.case.reached(self, what, name)

    def _step_moment(self, ref: dict[str, Any]) -> Moment | None:
        found = self._line_meant(ref)
        return None if found is None else self.view.moment(found)

    def _typed(self, ref: Any) -> bool:
        """Say whether a line's time was typed, first or by a correction, not taken."""
        found = self._line_meant(ref) if "step" in ref else None
        if found is None:
            return False
        history, root = self.view.history, found.root
        typed = history.entry(root).at_by == "typed"
        return typed or self.view.moment(found).at < history.moments[root].at

    def _line_meant(self, ref: dict[str, Any]) -> Line | None:
        """Give the line a reference means; what was discarded has not happened.

        Sheets from before this was amended took it as having happened all the same.
        """
        lines = self.lines(ref["step"])
        if self.view.sheet.amended >= 2:
            lines = {i: line for i, line in lines.items() if not line.discarded}
        if "line" in ref:
            return lines.get(ref["line"])
        ordered = sorted(lines.values(), key=lambda line: line.root)
        if not ordered:
            return None
        first = ref.get("pick", "last") == "first"
        return ordered[0 if first else -1]


def milestones_of(standing: dict[str, Any], subject: str) -> dict[str, str]:
    """Give what is known of another subject: milestone to entry id."""
    known = standing.get("subjects", {}).get(subject, {})
    found: dict[str, str] = known.get("milestones", {})
    return found
