"""The fold at work on one subject: scenes by set of entries, and what is reached."""

from dataclasses import dataclass, field
from typing import Any

from fieldapp.core import gates, lives
from fieldapp.core.clocks import Moment
from fieldapp.core.history import History, read_history
from fieldapp.core.line import Line
from fieldapp.core.numbers import Value
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Milestone, Sheet, Step
from fieldapp.core.steps import step_state
from fieldapp.core.view import Source, View


@dataclass(slots=True, kw_only=True)
class Folding:
    """One subject's entries under one sheet, with the answers found so far."""

    sheet: Sheet
    history: History
    standing: dict[str, Any]
    lines: dict[Source, dict[str, Line]] = field(default_factory=dict)
    births: dict[int, list[dict[str, Any]]] = field(default_factory=dict)
    acts: dict[int, list[dict[str, Any]]] = field(default_factory=dict)
    plain: dict[int, Any] = field(default_factory=dict)
    quiet: int = 0
    upsetting: dict[str, int] = field(default_factory=dict)
    runs: dict[Any, Any] = field(default_factory=dict)
    numbers: dict[tuple[str, str], int | None] = field(default_factory=dict)
    firsts: dict[Any, int | None] = field(default_factory=dict)
    scenes: dict[tuple[int, Moment], Scene] = field(default_factory=dict)
    revisions: dict[str, "Folding"] = field(default_factory=dict)

    def scene(self, mask: int, at: Moment) -> Scene:
        """Give the scene of a set of entries at a moment, made once."""
        key = (mask, at)
        if key not in self.scenes:
            self.scenes[key] = Scene(view=self.view(mask), at=at, case=self)
        return self.scenes[key]

    def view(self, mask: int) -> View:
        """Give a view of a set of entries."""
        return View(
            sheet=self.sheet,
            history=self.history,
            mask=mask,
            standing=self.standing,
            known=self.lines,
        )

    def earlier(self, scene: Scene, count: int) -> Scene:
        """Give the scene as it would be with only the first `count` attempts.

        Its time ended with the disposition that opened the next: no clock of an
        attempt that is over runs on. Sheets from before this was amended see it now.
        """
        chain, history = scene.view.attempts(), self.history
        view = self.view(scene.view.mask)
        view.only_attempts(chain[:count])
        at = scene.at
        if self.sheet.amended and count < len(chain):
            at = history.moments[history.graph.index[chain[count][0] or ""]]
        return Scene(view=view, at=at, case=self)

    def under(self, place: int) -> "Folding":
        """Give the fold under the sheet that an entry names, which judges it.

        Work done through a gate stays done, though a later revision reopens what the
        gate rested on. Sheets from before this was amended judge every act themselves.
        """
        key = self.history.entry(place).sheet or ""
        if key == self.sheet.hash or not self.sheet.amended:
            return self
        sheet = self.sheet.before(key)
        if sheet is None:
            return self
        if key not in self.revisions:
            self.revisions[key] = Folding(
                sheet=sheet,
                history=read_history(sheet, self.history.graph.entries),
                standing=self.standing,
                revisions=self.revisions,
            )
        return self.revisions[key]

    def reached(self, scene: Scene, what: str, name: str) -> bool:
        """Say whether a step is done (or off), a point passed, a milestone met."""
        if what == "step":
            step = self.sheet.steps.get(name)
            return step is not None and step_state(scene, step).status in _BEHIND
        if what == "point":
            point = self.sheet.points.get(name)
            return point is not None and gates.passed(scene, point)
        return self.milestone(scene, name) is not None

    def milestone(self, scene: Scene, name: str) -> int | None:
        """Give the first reading, in order, after which a milestone's test held.

        What came later, a bar that broke say, does not undo it; a correction does.
        """
        key = ("milestone", name)
        if name in scene.pending:
            return None
        if key not in scene.memo:
            scene.memo[key] = None
            scene.memo[key] = self._first_of(scene, name)
        found: int | None = scene.memo[key]
        return found

    def _first_of(self, scene: Scene, name: str) -> int | None:
        """Find a milestone's first reading once for all scenes with the same lines."""
        if name not in self.sheet.milestones:
            return None
        milestone = self.sheet.milestones[name]
        if milestone.reads is None or scene.changed:
            return _first_reading(scene, name, milestone)
        key = (name, *map(scene.view.source, milestone.reads))
        if key not in self.firsts:
            self.firsts[key] = _first_reading(scene, name, milestone)
        return self.firsts[key]

    def released_at(self, scene: Scene, point: str) -> int | None:
        """Give the newest release that stands for a point."""
        standing = gates.standing_releases(scene, self.sheet.points[point])
        return max((place for place in standing if place is not None), default=None)

    def life_used(self, scene: Scene, clock: str, line: str, end: Any) -> Value:
        """Give the share of a clock's life used at a reference."""
        return lives.life_used(scene, self.sheet.clocks[clock], line, end)

    def forbidden(self, step: Step, place: int) -> list[dict[str, Any]]:
        """Give why a gate forbade the act at a place when it was made."""
        judged = step.judged or step.id in self.history.conditioned
        if not judged and self.history.entry(place).kind != "anyway":
            return []
        if place not in self.acts:
            past = self.history.graph.past[place]
            scene = self.scene(past, self.history.moments[place])
            return gates.forbidden(scene, step, place)
        return self.acts[place]


def _first_reading(scene: Scene, name: str, milestone: Milestone) -> int | None:
    soonest = _soonest(scene, milestone)
    if soonest is None:
        return None
    for root in sorted(line.root for line in scene.lines(milestone.step).values()):
        if root >= soonest and milestone.when(scene.up_to(root, name), "") is True:
            return root
    return None


def _soonest(scene: Scene, milestone: Milestone) -> int | None:
    """Give the place before which a milestone's test cannot hold; None: nowhere yet."""
    soonest = 0
    for step, chosen in milestone.needed:
        lines = scene.lines(step)
        roots = [lines[name].root for name in scene.line_ids(step, chosen)]
        if not roots:
            return None
        soonest = max(soonest, min(roots))
    return soonest


_BEHIND = ("done", "off")
