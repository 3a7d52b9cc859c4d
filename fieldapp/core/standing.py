"""The little other subjects need to know of a subject, taken from its state."""

from typing import Any

from fieldapp.core.entries import ID


def standing_of(state: dict[str, Any], as_of: int) -> dict[str, Any]:
    """Give a subject's standing: milestones with entry ids, open blocks, as-of ms."""
    milestones: dict[str, str] = {
        name: found["entry"] for name, found in state["milestones"].items()
    }
    for name, step in state["steps"].items():
        if step["status"] == "done" and step["lines"]:
            last = max(
                step["lines"].values(), key=lambda line: (line["at"], line["entry"])
            )
            milestones[name] = last["entry"]
    for name, point in state["points"].items():
        if point["status"] == "released" and point.get("release"):
            milestones[name] = point["release"][-1]
    return {
        "items": _items(state),
        "milestones": milestones,
        "verdict": state["verdict"],
        "blocking": [f["id"] for f in state["nonconformances"] if f["blocks"]],
        "as_of": as_of,
    }


def _items(state: dict[str, Any]) -> list[str]:
    """Give every item some reading of the subject names, sorted."""
    named = {
        value
        for step in state["steps"].values()
        for line in step["lines"].values()
        for value in line["values"].values()
        if isinstance(value, str) and ID.fullmatch(value)
    }
    return sorted(named)
