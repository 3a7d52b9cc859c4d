"""Conditions of a release: open items, each to be closed before a step it names."""

from dataclasses import dataclass

from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point
from fieldapp.core.signers import on_point


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One open item of a release: its text, the step it must be closed before."""

    release: int
    number: int
    text: str
    before: str
    closed_by: int | None


def conditions(scene: Scene, point: Point) -> list[Condition]:
    """Give the conditions of a point's releases, in order, open or closed."""
    history = scene.view.history
    closings = scene.view.among(history.by_kind.get("condition_closed"))
    found = []
    for place in on_point(scene, point, "release"):
        release = history.entry(place)
        for number, each in enumerate(release.about.get("conditions", ())):
            closed = [
                c
                for c in closings
                if history.entry(c).about["target"] == release.id
                and history.entry(c).about["condition"] == number
            ]
            found.append(
                Condition(
                    release=place,
                    number=number,
                    text=each["text"],
                    before=each["before"],
                    closed_by=closed[0] if closed else None,
                )
            )
    return found


def open_conditions(scene: Scene, name: str) -> list[Refusal]:
    """Give the conditions of releases that must be closed before a step or point."""
    if name not in scene.view.history.conditioned:
        return []
    return [
        refusal("condition_open", point=point.id, condition=each.text)
        for point in scene.view.sheet.points.values()
        for each in conditions(scene, point)
        if each.before == name and each.closed_by is None
    ]
