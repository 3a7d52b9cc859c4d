"""The site as screens and paper need it: its elevation, its kinds and subjects.

Geometry in millimetres, names and order; what has been done is laid over it by
whoever draws.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from fieldapp.plan.site import Files, ItemKind, Pier, Segment, Subject
from fieldapp.plan.toml_node import Node


def plan_of(
    site: Files, sheets: Mapping[str, Any], hashes: Mapping[str, str]
) -> dict[str, Any]:
    """Give what is signed before sheets are issued: who signs, and every sheet's hash.

    hashes: by subject. Where the site asks for no signature, `sign` is not in it.
    """
    mine = {
        name: [sheets[s.id] for s in site.subjects if s.kind == name]
        for name in site.kinds
    }
    return {
        "format": 1,
        "site": site.id,
        "title": site.title,
        "revision": site.revision,
        **(site.plan_signers or {}),
        "sheets": dict(hashes),
        "kinds": [
            {
                "id": name,
                "title": _name(kind),
                "sheets": len(mine[name]),
                "steps": max((len(each["steps"]) for each in mine[name]), default=0),
                "points": max((len(each["points"]) for each in mine[name]), default=0),
            }
            for name, kind in site.kinds.items()
        ],
    }


def elevation(site: Files) -> dict[str, Any]:
    """Give piers, arms, segments as they are hung, and every subject in order."""
    return {
        "id": site.id,
        "title": site.title,
        "revision": site.revision,
        "zone": site.zone_minutes,
        "roles": dict(site.roles),
        "organisations": [
            {"id": each.id, "name": each.name, "part": each.part}
            for each in site.organisations
        ],
        "piers": [_pier(site, pier) for pier in site.piers],
        "kinds": [
            {"id": name, "title": _name(kind), "record": kind.ids("record")}
            for name, kind in site.kinds.items()
        ],
        "subjects": [_subject(subject) for subject in site.subjects],
        "item_kinds": [_item_kind(site, kind) for kind in site.item_kinds.values()],
        "paper": site.paper,
    }


def _name(kind: Node) -> str:
    """What a kind is called; its id where it gives no name."""
    return kind.text("name") if "name" in kind else kind.identity("id")


def _subject(subject: Subject) -> dict[str, Any]:
    place: dict[str, Any] = {
        "id": subject.id,
        "kind": subject.kind,
        "title": subject.title,
    }
    for key in ("pier", "arm", "order"):
        if getattr(subject, key) not in (None, ""):
            place[key] = getattr(subject, key)
    if subject.segment is not None:
        place["segment"] = subject.segment.id
    return place


def _item_kind(site: Files, kind: ItemKind) -> dict[str, Any]:
    numbers = [
        {"id": name, "unit": quantity.unit, "places": quantity.places}
        for name, quantity in kind.numbers.items()
    ]
    told: dict[str, Any] = {"id": kind.id, "title": kind.title, "numbers": numbers}
    if kind.planned:
        told["planned"] = 1
    fits = [fit for node in site.kinds.values() for fit in _fits(node, kind.id)]
    # Certificates that must serve two readings of a gauge are left to the files.
    if fits and len({fit["places"] for fit in fits}) == 1:
        told["calibration"] = min(fits, key=lambda fit: fit["residual"])
    return told


def _fits(kind: Node, item: str) -> Iterator[dict[str, int]]:
    """Give how points of a jack's certificate are read, wherever a plan reads them.

    places: of a pressure in bar; residual: hundredths of a per cent the points may lie
    off one line. What is faulty, or another for each subject, is not told.
    """
    for node in kind.child("calculations").elements():
        said = node.value if isinstance(node.value, dict) else {}
        if said.get("use") != "jack":
            continue
        jack = _field(kind, said.get("jack"))
        pressure = _field(kind, said.get("pressure"))
        if jack.get("items") != item or not pressure:
            continue
        places, most = pressure.get("places", 0), said.get("residual_percent")
        if not isinstance(places, int) or not isinstance(most, int | float | Decimal):
            continue
        residual = Decimal(str(most)) * 100
        if residual.is_finite():
            yield {"places": places, "residual": int(residual)}


def _field(kind: Node, named: object) -> dict[str, Any]:
    """Give the field that a plan calls "step.field", as it is written; {} if none."""
    step, _, name = str(named).partition(".")
    fields = kind.child("steps").child(step).child("fields")
    found = (one.value for one in fields.elements() if isinstance(one.value, dict))
    return next((one for one in found if one.get("id") == name), {})


def _pier(site: Files, pier: Pier) -> dict[str, Any]:
    return {
        "id": pier.id,
        "title": pier.title,
        "at": _mm(pier.at_m),
        "level": _mm(pier.level_m),
        "half": _mm(pier.half_length_m),
        "arms": [_arm(site, pier, arm) for arm in pier.arms],
    }


def _arm(site: Files, pier: Pier, arm: str) -> dict[str, Any]:
    """An arm: the first one named lies towards smaller stations, the second beyond."""
    mine = sorted(
        (s for s in site.segments if (s.pier, s.arm) == (pier.id, arm)),
        key=lambda segment: segment.order,
    )
    side = -1 if pier.arms.index(arm) == 0 else 1
    start = pier.half_length_m
    segments = []
    for segment in mine:
        segments.append(_segment(site, segment, pier.at_m + side * start))
        start += segment.length_m
    return {"id": arm, "side": side, "segments": segments}


def _segment(site: Files, segment: Segment, face_m: float) -> dict[str, Any]:
    joints = [
        subject.id
        for subject in site.subjects
        if subject.segment is segment and subject.section is not None
    ]
    drawn: dict[str, Any] = {
        "id": segment.id,
        "title": segment.title,
        "order": segment.order,
        "at": _mm(face_m),
        "length": _mm(segment.length_m),
        "depth": _mm(segment.depth_m),
        "level": _mm(segment.level_m),
    }
    if joints:
        drawn["joint"] = joints[0]
    return drawn


def _mm(metres: float) -> int:
    return round(metres * 1000)
