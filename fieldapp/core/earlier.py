"""What a line said before it was read again, corrected or discarded: still judged.

Its author may take it back on the same phone while nobody had relied on it. After that
a correction launders no failure and neither does a discard: what was read stays told,
and only a disposition clears it.
"""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from fieldapp.core.history import History
from fieldapp.core.items import item_failures
from fieldapp.core.lasting import said_to_stay, taken_back
from fieldapp.core.line import Line
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step
from fieldapp.core.steps import fails, line_raises

Failure = tuple[str, int]
"""A check that failed, and the place of the reading or correction that failed it."""


class Gone(NamedTuple):
    """A line as it stood before it was discarded, and what of that stays told."""

    line: Line
    places: tuple[int, ...]


def superseded(scene: Scene, step: Step, line: Line) -> Iterator[Failure]:
    """Give the failures of what a line said before it was read again or corrected.

    Of readings side by side none stands: each is judged, in whatever order they came.
    Sheets from before this was amended judged all but one of them, and told again what
    its author had taken back as soon as anybody read the line once more.
    """
    history, amended = scene.view.history, scene.view.sheet.amended >= 2
    lasting = [place for _, place in taken_back(scene, step, line)]
    stands: int | None = line.current
    if line.disputed and amended:
        stands, lasting = None, [p for _, p, _ in said_to_stay(scene, step, line)]
    said = [place for place in line.asserted if place not in history.added]
    later = said if amended else [line.current]
    for place in said:
        if place == stands:
            continue
        if place in lasting or not _retaken(history, place, later):
            yield from _failures(scene, step, line, place)


def _retaken(history: History, place: int, later: Iterable[int]) -> bool:
    return any(history.retaken_in_time(place, other) for other in later)


def gone(scene: Scene, step: Step, line: Line) -> Gone | None:
    """Give what a discard took away that its author could not take back any more.

    Sheets from before this was amended forgot what a line discarded had raised.
    """
    view, history = scene.view, scene.view.history
    if not history.discards or view.sheet.amended < 2:
        return None
    discards = view.discards_of(step.id, line.root)
    if not discards:
        return None
    mine = history.entry(line.root)
    roots = [
        place
        for place in view.among(history.readings.get(step.id))
        if history.entry(place).line == mine.line
        and history.entry(place).attempt == mine.attempt
        and (place == line.root if step.series else not _anew(line, place))
    ]
    said = [p for root in roots for p in (root, *history.corrections.get(root, ()))]
    said = sorted(p for p in view.among(said) if p not in history.added)
    taking = (*said, *discards)
    left = [place for place in said if not _retaken(history, place, taking)]
    before = line._replace(discarded=False, disputed=False, asserted=tuple(said))
    return Gone(before, tuple(left))


def failures_gone(scene: Scene, step: Step, found: Gone) -> Iterator[Failure]:
    """Give the failures of what a line said before it was discarded."""
    for place in found.places:
        yield from _failures(scene, step, found.line, place)


def _anew(line: Line, place: int) -> bool:
    """Say whether a line was read there by somebody who had seen it discarded."""
    return not line.discarded and place in line.asserted


def _failures(scene: Scene, step: Step, line: Line, place: int) -> Iterator[Failure]:
    """Judge a line as an earlier reading or correction stated it."""
    older = scene.view.line_at(line, place)
    judged = scene.with_lines(step.id, {**scene.lines(step.id), line.id: older})
    where = f"{step.id}/{line.id}"
    for check in step.checks:
        if check.raises == "caution":
            continue
        if not fails(judged, check, where if check.scope == "line" else ""):
            continue
        if not check.begins or line_raises(scene, step, older, check.id) != "block":
            yield check.id, place
    # Sheets from before this was amended asked only of the item that stands.
    if scene.view.sheet.amended >= 2:
        for failed in item_failures(judged, step, older):
            yield failed, place
