"""Reads what a plan says of a field that takes an item of the register."""

from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.toml_node import Node


def item_field(node: Node, draft: Draft) -> dict[str, Any]:
    """Read the kind of item, whether it runs out of calibration, and where it may be.

    `once`: in one place of the step; `among`: it is one of those that these fields of
    other steps name.
    """
    found: dict[str, Any] = {"items": item_kind(node, draft)}
    if _is_calibrated(found["items"], draft):
        found["calibrated"] = 1
    if node.flag("once"):
        found["once"] = 1
    if "among" in node:
        named = [
            _looked_at(place, found["items"], draft) for place in node.items("among")
        ]
        found["among"] = [each for each in named if each is not None]
    return found


def item_kind(node: Node, draft: Draft) -> str:
    """Give the kind of item that `items` names; there must be one of it."""
    kind = node.identity("items")
    known = {item["kind"] for item in draft.items.values()}
    if kind and kind not in known:
        allowed = "a kind of item there is: " + ", ".join(sorted(known))
        node.child("items").lacks(allowed, "items.csv")
    return kind


def _looked_at(place: Node, kind: str, draft: Draft) -> list[str] | None:
    step, name = draft.field(place)
    if not step:
        return None
    if draft.shape(step, name).item != kind:
        place.fault(f"a field for items of the kind {kind}")
        return None
    return [step, name]


def _is_calibrated(kind: str, draft: Draft) -> bool:
    """A jack always is; of others their kind says so."""
    known = draft.site.item_kinds.get(kind)
    jacks = {jack.kind for jack in draft.site.jacks}
    return kind in jacks or (known is not None and known.calibrated)
