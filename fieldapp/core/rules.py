"""What may be recorded or released now: the same no, in the same words, everywhere.

A reading that cannot be (an impossible unit, a missing figure) is refused where it is
typed; once signed it is never refused, only flagged.
"""

from typing import Any

from fieldapp.core.heard import last_heard
from fieldapp.core.readiness import unmet
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene
from fieldapp.core.signers import signer_refusals


def reading_refusals(step: dict[str, Any], values: dict[str, Any]) -> list[Refusal]:
    """Give what is wrong with the readings of one line, field by field.

    step: the sheet's step; values: whole numbers (value x 10^places) and text.
    """
    found = []
    fields = {field["id"]: field for field in step.get("fields", ())}
    for name, field in fields.items():
        if name not in values:
            if field["need"]:
                found.append(refusal("missing_value", field=name))
        elif not possible(field, values[name]):
            found.append(
                refusal(
                    "bad_value",
                    field=name,
                    found=values[name],
                    allowed=_allowed(field),
                )
            )
    return found + [
        refusal("bad_value", field=name, found=values[name], allowed="-")
        for name in sorted(values.keys() - fields.keys())
    ]


def release_refusals(scene: Scene, point_id: str, person: str) -> list[Refusal]:
    """Give why a person may not release a point now; empty when they may."""
    point = scene.view.sheet.points[point_id]
    return [*unmet(scene, point, None), *signer_refusals(scene, point, person)]


def relied_on(scene: Scene, point_id: str) -> list[str]:
    """Give the entries of other subjects a release of this point must name."""
    point = scene.view.sheet.points[point_id]
    subjects = scene.view.standing.get("subjects", {})
    found = [
        subjects.get(each["subject"], {}).get("milestones", {}).get(each["milestone"])
        for each in point.prerequisites
    ]
    heard = last_heard(scene, point, None) if "heard" in point.raw else None
    found.append(heard.entry if heard else None)
    return sorted({entry_id for entry_id in found if entry_id is not None})


def possible(field: dict[str, Any] | None, value: Any) -> bool:
    """Say whether a value may stand in a field; in one that is not there none may."""
    if field is None:
        return False
    if field["kind"] in ("text", "item"):
        return isinstance(value, str)
    if not isinstance(value, int):
        return False
    if field["kind"] == "choice":
        return value in [option["value"] for option in field["options"]]
    return bool(field.get("low", value) <= value <= field.get("high", value))


def _allowed(field: dict[str, Any]) -> str:
    if field["kind"] in ("text", "item"):
        return "text"
    if field["kind"] == "choice":
        return ", ".join(str(option["value"]) for option in field["options"])
    return f"{field.get('low', '')}..{field.get('high', '')}"
