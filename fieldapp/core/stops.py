"""What was said after each STOP: what was reported of it, and notes.

Whatever somebody says belongs to the newest STOP they had seen: neither arrival nor a
clock tells, so paper and every phone say the same.
"""

from typing import Any

from fieldapp.core.scene import Scene


def stops(scene: Scene) -> list[dict[str, Any]]:
    """Give every STOP, in order, with the ids of what was said of it."""
    view, history = scene.view, scene.view.history
    pulled = view.among(history.by_kind.get("stopped"))
    told: dict[int, dict[str, Any]] = {
        place: {"entry": history.entry(place).id, "reported": [], "said": []}
        for place in pulled
    }
    mask = sum(1 << place for place in pulled)
    for kind, name in (("nonconformance", "reported"), ("note", "said")):
        for place in view.among(history.by_kind.get(kind)):
            seen = history.graph.past[place] & mask
            if seen:
                told[seen.bit_length() - 1][name].append(history.entry(place).id)
    return list(told.values())
