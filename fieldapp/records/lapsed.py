"""What made a release lapse, in words for paper and desk alike: which, when, by what.

The fold says by which entry; here it is only told.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.lapses import lapse
from fieldapp.core.scene import Scene
from fieldapp.records.figures import day, time_of_day

Part = Mapping[str, Any]
LAPSED = "release_lapsed"


def lapse_cause(scene: Scene, release: Entry) -> Entry | None:
    """Give the entry by which a release lapsed; None where it did not lapse."""
    history, sheet = scene.view.history, scene.view.sheet
    point = sheet.points.get(release.point or "")
    place = history.graph.index.get(release.id)
    found = None if point is None or place is None else lapse(scene, point, place)
    return None if found is None else history.entry(history.graph.index[found])


def lapse_told(scene: Scene, release: Entry, zone: int) -> str:
    """Say which release lapsed, when and by what; empty where it did not lapse."""
    sheet, cause = scene.view.sheet, lapse_cause(scene, release)
    if cause is None:
        return ""
    when = f"{day(cause.at, zone)} {time_of_day(cause.at, zone)}"
    given = time_of_day(release.at, zone)
    title = sheet.points[release.point or ""].raw["title"]
    return (
        f"{title}: the release of {given} lapsed {when} by {_cause(sheet.raw, cause)}."
    )


def _cause(raw: Part, entry: Entry) -> str:
    if entry.kind == "stopped":
        cards = {each["id"]: str(each["title"]) for each in raw.get("cards", ())}
        reason = entry.about["reason"]
        return f"STOP: {cards.get(reason, reason)}"
    if entry.kind == "refusal":
        return "a refusal"
    if entry.kind == "crew":
        return "its signer being named in the crew"
    step = raw["steps"].get(entry.step or "", {}).get("title", entry.step)
    labels = {
        each["id"]: str(each["label"])
        for each in raw["steps"].get(entry.step or "", {}).get("lines", ())
    }
    at = f"{step}, {labels[entry.line]}" if entry.line in labels else str(step)
    words = {"correction": "a correction of", "discarded": "discarding"}
    return f"{words.get(entry.kind, 'what was read:')} {at}"
