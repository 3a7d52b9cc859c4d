"""What ends a release that counted: news that its signer had not seen.

A release lapses when a value in its past is corrected, when a line it had not seen
turns up on a step it covers, when a card of the plan says so, or under a refusal it
had not seen. Lapsing reopens only what comes after.
"""

from collections.abc import Iterator
from functools import reduce
from operator import or_

from fieldapp.core.entries import Entry
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point
from fieldapp.core.signers import refuses, releaser
from fieldapp.core.steps import is_off, line_state


def lapse(scene: Scene, point: Point, place: int) -> str | None:
    """Give the id of the entry that made a release lapse in a scene, or None."""
    other = next(lapsing(scene, point, place), None)
    return None if other is None else scene.view.history.entry(other).id


def lapsing(scene: Scene, point: Point, place: int) -> Iterator[int]:
    """Give every entry by which a release of a point lapses in a scene, in order."""
    history = scene.view.history
    unseen = scene.view.mask & ~history.graph.past[place] & ~(1 << place)
    # A reading of a series in which nothing fails upsets no release.
    upsetting = unseen & _upsetting(scene, point) & ~scene.case.quiet
    judged = _attempts_judged(scene, point, history.entry(place)) if upsetting else {}
    for other in _places(upsetting):
        if _lapses(scene, point, place, other, judged):
            yield other


def _upsetting(scene: Scene, point: Point) -> int:
    """Give the mask of the entries that may make a release of a point lapse."""
    memo, history = scene.case.upsetting, scene.view.history
    if point.id not in memo:
        places = [p for kind in _UPSETTING for p in history.by_kind.get(kind, ())]
        masks = [1 << place for place in places]
        masks += [history.bearing.get(step, 0) for step in point.covers]
        masks += [history.bearing.get(step, 0) for step in _taking_off(scene, point)]
        memo[point.id] = reduce(or_, masks, 0)
    return memo[point.id]


_UPSETTING = ("refusal", "stopped", "correction", "crew")


def _places(mask: int) -> Iterator[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _lapses(
    scene: Scene, point: Point, place: int, other: int, judged: dict[str, str | None]
) -> bool:
    history = scene.view.history
    entry, release = history.entry(other), history.entry(place)
    if entry.kind == "refusal":
        mine = entry.point == point.id and entry.attempt == release.attempt
        return mine and refuses(scene, point, other)
    if entry.kind == "stopped":
        return entry.about["reason"] in point.lapses
    if entry.kind == "correction":
        root = history.graph.index.get(entry.about["target"])
        seen = root is not None and history.saw(place, root)
        return seen and other not in history.added
    if entry.kind == "crew":
        return point.independent and releaser(release) in entry.about["people"]
    step = scene.view.sheet.steps[entry.step or ""]
    if _takes_off(scene, point, place, other):
        return True
    if step.id not in judged:
        return False
    if entry.attempt != judged[step.id] or _spent(scene, point, place, other):
        return False
    if not step.series or entry.kind == "discarded":
        return True
    line = scene.lines(step.id).get(entry.id)
    return line is not None and bool(line_state(scene, step, line).failed)


def _taking_off(scene: Scene, point: Point) -> list[str]:
    """Give the steps that take off again what is put on behind a point."""
    sheet = scene.view.sheet
    steps = sheet.steps.values() if sheet.amended >= 2 else ()
    return [each.id for each in steps if set(each.takes_off) & set(point.shuts)]


def _takes_off(scene: Scene, point: Point, place: int, other: int) -> bool:
    """Say whether what was put on by a release was taken off: more wants a new one.

    Of what was not taken off well (not clean, or half read) something is on still.
    """
    view, history = scene.view, scene.view.history
    entry, release = history.entry(other), history.entry(place)
    if entry.step not in _taking_off(scene, point) or entry.kind == "discarded":
        return False
    step = view.sheet.steps[entry.step]
    read = view.lines_in(step.id, entry.attempt).values()
    line = next((each for each in read if each.root == other), None)
    if line is None or line_state(scene, step, line).status != "ok":
        return False
    return entry.attempt == release.attempt and any(
        history.saw(other, line.root) and history.saw(line.root, place)
        for name in point.shuts
        for line in view.lines_in(name, release.attempt).values()
    )


def _spent(scene: Scene, point: Point, place: int, other: int) -> bool:
    """Say whether a reading came after the one act that a release had to let through.

    A gate that only the first kit passes is behind once that is mixed: what is read in
    the race is told of the race. It is not while another first act is called for, as of
    another adhesive chosen since. Sheets from before this was amended let it lapse.
    """
    view, history = scene.view, scene.view.history
    if view.sheet.amended < 2 or history.entry(other).kind == "discarded":
        return False
    if not all(view.sheet.steps[name].first for name in point.shuts):
        return False
    attempt = history.entry(place).attempt
    begun = {
        name
        for name in point.shuts
        for line in view.lines_in(name, attempt).values()
        if history.saw(other, line.root) and history.saw(line.root, place)
    }
    return bool(begun) and all(
        name in begun or is_off(scene, view.sheet.steps[name]) for name in point.shuts
    )


def _attempts_judged(
    scene: Scene, point: Point, release: Entry
) -> dict[str, str | None]:
    """Give by covered step the attempt whose readings can upset a release."""
    view = scene.view
    current = release.attempt == view.attempt_of(point.id)
    return {
        name: view.attempt_of(name) if current else release.attempt
        for name in point.covers
    }
