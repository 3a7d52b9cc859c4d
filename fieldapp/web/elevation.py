"""The site's elevation as shapes to draw: what hangs where, and how far each joint is.

Geometry comes from the compiled site (millimetres); the state of each joint is laid
over it by place, tone, icon and word together. Each arm is a drawing of its own, so
that two arms stand beside one another on a wide page and below on a narrow one. The
template only draws.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.web.stages import (
    AHEAD,
    BEGUN,
    CARRIES,
    PAST,
    WHOLE,
    first_gate,
    title_of,
)

MM_PER_UNIT = 65
DECK = 58
"""Where the deck's top lies: above it are names and call-outs."""
FOOT = 34
PIER_WIDTH_RATIO = 0.55
LETTER_WIDTH = 8
"""Of a segment's name above its box, on the wide side."""
MOST_LETTERS = 5
"""So many stand upright above a box on a narrow page."""
CALL_OUT_WIDTH = 9
"""Of a letter, on the wide side; a call-out that would leave the drawing turns back."""
Row = dict[str, Any]


def elevation(picture: Mapping[str, Any], rows: Mapping[str, Row]) -> list[Row]:
    """Give the piers, each with its arms as drawings; empty without piers.

    rows: what the list shows of each joint, by its id.
    """
    return [_pier(pier, rows) for pier in picture.get("piers", ())]


def legend(
    picture: Mapping[str, Any], folded: Iterable[Folded], awaited: Mapping[str, str]
) -> list[Row]:
    """Give what each look of a box means, in the words of the plan of its joints."""
    joints = _drawn(picture)
    sheet = next((f.sheet.raw for f in folded if f.sheet.subject in joints), None)
    if sheet is None:
        return []
    gate, milestone = first_gate(sheet), awaited.get(sheet["kind"])
    told = {AHEAD: "not begun", BEGUN: "begun"}
    if gate:
        told[PAST] = f"past {title_of(sheet, gate)}"
    if milestone:
        told[CARRIES] = title_of(sheet, milestone)
    told[WHOLE] = "finished"
    return [{"level": level, "word": word} for level, word in told.items()]


def _drawn(picture: Mapping[str, Any]) -> set[str]:
    return {
        segment["joint"]
        for pier in picture.get("piers", ())
        for arm in pier["arms"]
        for segment in arm["segments"]
        if "joint" in segment
    }


def _pier(pier: Mapping[str, Any], rows: Mapping[str, Row]) -> Row:
    arms = [arm for arm in pier["arms"] if arm["segments"]]
    deepest = max((s["depth"] for arm in arms for s in arm["segments"]), default=0)
    return {
        "title": pier["title"],
        "arms": [_arm(pier, arm, deepest, rows) for arm in arms],
    }


def _short_names(pier: Mapping[str, Any]) -> dict[str, str]:
    """Give what fits over each box of a pier's segments, by their ids.

    Names too long for their boxes lose what all of them begin with, then their own
    beginning: numbers stand at the end.
    """
    segments = [each for arm in pier["arms"] for each in arm["segments"]]
    ids = [each["id"] for each in segments]
    least = min((_units(each["length"]) for each in segments), default=0)
    room = max(2, min(least // LETTER_WIDTH, MOST_LETTERS))
    if all(len(name) <= room for name in ids):
        return {name: name for name in ids}
    head = min(_alike(min(ids), max(ids)), *(len(name) - 1 for name in ids))
    return {name: _tail(name[head:], room) for name in ids}


def _alike(first: str, last: str) -> int:
    """Count the letters with which the first and last of sorted names begin alike."""
    pairs = enumerate(zip(first, last, strict=False))
    return next((n for n, (a, b) in pairs if a != b), min(len(first), len(last)))


def _tail(name: str, room: int) -> str:
    return name if len(name) <= room else f"…{name[1 - room :]}"


def _arm(
    pier: Mapping[str, Any],
    arm: Mapping[str, Any],
    deepest: int,
    rows: Mapping[str, Row],
) -> Row:
    half = _units(pier["half"])
    reach = half + sum(_units(each["length"]) for each in arm["segments"])
    depth = _units(deepest)
    towards_left = arm["side"] < 0
    names = _short_names(pier)
    shapes = [
        shape | {"name": names[shape["id"]]}
        for shape in _segments(arm, half, reach, depth, rows)
    ]
    carrying = [shape for shape in shapes if shape["level"] >= CARRIES]
    column = round(half * PIER_WIDTH_RATIO)
    return {
        "id": arm["id"],
        "side": "left" if towards_left else "right",
        "width": reach,
        "height": DECK + depth + FOOT,
        "head": _box(reach - half if towards_left else 0, DECK, half, depth),
        "column": _box(
            reach - column if towards_left else 0, DECK + depth, column, FOOT
        ),
        "segments": shapes,
        "carrying": len(carrying),
        "count": len(shapes),
    }


def _segments(
    arm: Mapping[str, Any], half: int, reach: int, depth: int, rows: Mapping[str, Row]
) -> Iterator[Row]:
    at, inner, mirror = half, depth, arm["side"] < 0
    for segment in arm["segments"]:
        outer, length = _units(segment["depth"]), _units(segment["length"])
        ends = (at, at + length)
        at += length
        near, far = (reach - each if mirror else each for each in ends)
        yield _segment(segment, near, far, (inner, outer), rows) | _call_out(
            near, far, reach, rows.get(segment.get("joint", ""))
        )
        inner = outer


def _segment(
    segment: Mapping[str, Any],
    near: int,
    far: int,
    depths: tuple[int, int],
    rows: Mapping[str, Row],
) -> Row:
    row = rows.get(segment.get("joint", ""))
    inner, outer = depths
    return {
        "id": segment["id"],
        "title": segment["title"],
        "row": row,
        "level": row["stage"]["level"] if row else 0,
        "outline": f"{near},{DECK} {far},{DECK} {far},{DECK + outer}"
        f" {near},{DECK + inner}",
        "face": near,
        "foot": DECK + inner,
        "middle": (near + far) // 2,
        "icon_at": DECK + min(depths) // 2 + 8,
        "deck": DECK,
    }


def _call_out(near: int, far: int, reach: int, row: Row | None) -> Row:
    """Say on which side of its leader the words of a live joint stand."""
    middle = (near + far) // 2
    width = CALL_OUT_WIDTH * len(row["mark"]["live"]) if row else 0
    turned = middle + width > reach
    return {"anchor": "end" if turned else "start", "beside": -5 if turned else 5}


def _units(length_mm: int) -> int:
    return round(length_mm / MM_PER_UNIT)


def _box(x: int, y: int, width: int, height: int) -> Row:
    return {"x": x, "y": y, "width": width, "height": height}
