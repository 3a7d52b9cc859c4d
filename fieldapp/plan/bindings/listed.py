"""Lines of a step from a list: the ducts that cross a face, the vents of a duct.

The list stands in the plan, or in a column of the subject's own row. Nothing is
computed; the same list may serve several steps, which a clock per line needs.
"""

from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import LineList
from fieldapp.plan.toml_node import ID, ID_ALLOWED, Node


def add(node: Node, draft: Draft) -> None:
    """Add the lines named by `lines`; the first `needed` of them must be recorded.

    A label with `{place}` (and `{count}`) numbers them; another has the id after it.
    """
    name, label = node.text("lines"), node.text("label")
    place = node.child("list")
    ids = _ids(place)
    needed = node.whole("needed", 0, 999, default=len(ids))
    if not ids:
        return
    if needed > len(ids):
        node.child("needed").fault(f"at most the {len(ids)} lines there are")
    draft.lines[name] = LineList(
        [
            _line(each, _label(label, each, place, len(ids)), place <= needed)
            for place, each in enumerate(ids, 1)
        ]
    )
    draft.counts[name] = len(ids)


def _ids(node: Node) -> list[str]:
    """Give the ids of a list, or of a text with spaces between them."""
    value = node.value
    found = value.split() if isinstance(value, str) else value
    if isinstance(found, int):
        found = [str(found)]
    if not isinstance(found, list) or not found:
        node.fault("ids: a list, or a text with spaces between them")
        return []
    wrong = [
        each for each in found if not (isinstance(each, str) and ID.fullmatch(each))
    ]
    for each in wrong:
        node.fault(ID_ALLOWED, each)
    if len(set(map(str, found))) < len(found):
        node.fault("each id once")
        return []
    return [] if wrong else found


def _label(label: str, name: str, place: int, count: int) -> str:
    """Give a line's label: as the plan says by its place, else by its own name."""
    if "{place}" not in label:
        return f"{label} {name}"
    return label.replace("{place}", str(place)).replace("{count}", str(count))


def _line(name: str, label: str, need: bool) -> dict[str, Any]:
    return {
        "id": name,
        "label": label,
        "need": int(need),
        "numbers": {},
    }
