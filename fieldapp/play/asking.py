"""Asks a phone's own rules before anything is signed, as the real phone does."""

from collections.abc import Mapping
from typing import Any

from fieldapp.core.fold import present
from fieldapp.core.rules import reading_refusals, release_refusals
from fieldapp.core.scene import Scene
from fieldapp.lookups import Folded

Refusal = dict[str, Any]


def refusals_for(
    seen: Folded, said: Mapping[str, Any], values: Mapping[str, Any], **moment: Any
) -> list[Refusal]:
    """Give why the phone would say no to an entry now; empty when it would not.

    seen: the subject as this phone knows it; said: the entry's kind (`do`), place and
    `person`; values: whole numbers; moment: `now` as the fold takes it.
    """
    if said["do"] == "done":
        step = seen.sheet.raw["steps"].get(said.get("step"))
        if step is None:
            return [{"code": "unknown_step", "facts": {}}]
        found: list[Refusal] = seen.state["steps"][said["step"]]["refusals"]
        return [*found, *reading_refusals(step, dict(values))]
    if said["do"] == "release" and said.get("point") in seen.sheet.points:
        return release_refusals(scene_of(seen, **moment), said["point"], said["person"])
    return []


def scene_of(seen: Folded, **moment: Any) -> Scene:
    """Give the scene rules are asked of; moment: `now` as the fold takes it."""
    return present(seen.sheet, seen.entries, seen.standing, moment)
