"""The site's elevation across the head of the record, with the subject marked.

Geometry comes from the compiled site, in millimetres. Only this subject's evidence is
in the record, so nothing is said about the state of any other joint.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.records.opened import Opened
from fieldapp.records.pictures.drawing import (
    Drawing,
    Point,
    Shape,
    box,
    outline,
    stroke,
    text_width_mm,
    word,
)

WIDTH_MM = 180.0
DEEPEST_MM = 34.0
TOP_MM = 7.0
BOTTOM_MM = 1.0
PIER_DEPTH = 4_000
NAME_SCALE, NAME_GAP_MM = 0.85, 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """How the site's millimetres come onto paper."""

    left: float
    top: float
    scale: float
    shift: float

    def at(self, x: float, level: float) -> Point:
        """Give the place on paper of a station and a level."""
        return (
            (x - self.left) * self.scale + self.shift,
            (self.top - level) * self.scale + TOP_MM,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What is marked: joints by id, or a pier where it is none of them."""

    joints: frozenset[str]
    pier: str
    label: str


def elevation(opened: Opened) -> Drawing | None:
    """Draw the site, or None for a site without piers."""
    site = opened.evidence.site
    piers = site.get("piers", ())
    if not piers:
        return None
    frame, height = frame_of(piers)
    shapes = tuple(_shapes(frame, piers, _marks(opened)))
    title = f"Elevation of {site['title']} with {opened.raw['title']} marked"
    return Drawing(
        title=title, caption="", width_mm=WIDTH_MM, height_mm=height, shapes=shapes
    )


def frame_of(piers: Sequence[Mapping[str, Any]]) -> tuple[Frame, float]:
    """Give how the whole site comes onto paper, and the height that takes in mm."""
    xs, levels = [], []
    for pier in piers:
        xs += [pier["at"] - pier["half"], pier["at"] + pier["half"]]
        levels += [pier["level"]]
        for arm in pier["arms"]:
            for segment in arm["segments"]:
                xs += [segment["at"], _far(segment, arm["side"])]
                levels += [segment["level"], segment["level"] + segment["depth"]]
    top, bottom = max(levels), min(levels) - PIER_DEPTH
    wide, deep = max(xs) - min(xs), top - bottom
    scale = min((WIDTH_MM - 4) / wide, (DEEPEST_MM - TOP_MM - BOTTOM_MM) / deep)
    shift = (WIDTH_MM - wide * scale) / 2
    frame = Frame(left=min(xs), top=top, scale=scale, shift=shift)
    return frame, deep * scale + TOP_MM + BOTTOM_MM


def _far(segment: Mapping[str, Any], side: int) -> int:
    return int(segment["at"] + side * segment["length"])


def _shapes(
    frame: Frame, piers: list[Mapping[str, Any]], marks: Marks
) -> Iterator[Shape]:
    for pier in piers:
        yield from pier_shapes(frame, pier, mine=pier["id"] == marks.pier)
    found: list[tuple[Mapping[str, Any], int]] = []
    for pier in piers:
        names = segment_names(frame, pier)
        for arm in pier["arms"]:
            for segment in arm["segments"]:
                mine = segment.get("joint") in marks.joints
                pen = "subject" if mine else "body"
                name = names[segment["id"]]
                yield from segment_shapes(frame, segment, arm["side"], pen, name)
                found += [(segment, arm["side"])] if mine else []
    if len(found) == 1:
        yield from _mark(frame, found[0][0], marks.label)
    elif found:
        yield from _extent(frame, [each for each, _ in found], marks.label)
    elif marks.pier:
        named = next(each for each in piers if each["id"] == marks.pier)
        yield from _pointer(frame.at(named["at"], _top(named)), marks.label)


def _marks(opened: Opened) -> Marks:
    """Give what of the site the subject is: its joint, those it waits for, its pier."""
    site, subject = opened.evidence.site, opened.sheet.subject
    joints = {
        segment["joint"]
        for pier in site["piers"]
        for arm in pier["arms"]
        for segment in arm["segments"]
        if "joint" in segment
    }
    named = {each["subject"] for each in opened.raw.get("prerequisites", ())}
    mine = {subject} & joints or named & joints
    piers = {s["id"]: s.get("pier", "") for s in site.get("subjects", ())}
    pier = "" if mine else piers.get(subject, "")
    known = {each["id"] for each in site["piers"]}
    return Marks(
        joints=frozenset(mine), pier=pier if pier in known else "", label=subject
    )


def _top(pier: Mapping[str, Any]) -> int:
    first = [s for arm in pier["arms"] for s in arm["segments"][:1]]
    return max((s["level"] + s["depth"] for s in first), default=int(pier["level"]))


def pier_shapes(
    frame: Frame, pier: Mapping[str, Any], *, mine: bool
) -> Iterator[Shape]:
    """Draw a pier with its name."""
    segments = [s for arm in pier["arms"] for s in arm["segments"][:1]]
    low = min((s["level"] for s in segments), default=pier["level"])
    high = _top(pier)
    pen = "subject" if mine else "body"
    half = pier["half"]
    yield _box(frame, (pier["at"] - half, high), 2 * half, high - low, pen)
    yield _box(frame, (pier["at"] - half / 2, low), half, PIER_DEPTH, pen)
    x, y = frame.at(pier["at"], low - PIER_DEPTH / 2)
    yield word((x + half * frame.scale / 2 + 1.5, y), str(pier["title"]), "quiet")


def _box(frame: Frame, corner: Point, width: float, height: float, pen: str) -> Shape:
    scale = frame.scale
    return box(frame.at(*corner), width * scale, height * scale, pen)


def segment_names(frame: Frame, pier: Mapping[str, Any]) -> dict[str, str]:
    """Give what a pier's segments are called in their boxes, by id.

    Ids that do not fit lose what all of the pier begin with, then what all of the arm
    begin with: the drawing says which pier and which arm. What does not fit even so is
    left out where it stands.
    """
    arms = [arm["segments"] for arm in pier["arms"]]
    every = [segment for segments in arms for segment in segments]
    alike = _alike([str(segment["id"]) for segment in every])
    heads = [_alike([str(segment["id"]) for segment in one]) for one in arms]
    tries = [
        {s["id"]: str(s["id"]) for s in every},
        {s["id"]: str(s["id"])[alike:] for s in every},
        {
            segment["id"]: str(segment["id"])[head:]
            for segments, head in zip(arms, heads, strict=True)
            for segment in segments
        },
    ]
    # The fullest names of those that leave the fewest boxes bare.
    return max(tries, key=lambda names: sum(_fits(frame, s, names) for s in every))


def _alike(ids: Sequence[str]) -> int:
    """Count the letters that all begin with; each keeps one of its own."""
    letters = zip(*ids, strict=False)
    same = next((n for n, one in enumerate(letters) if len(set(one)) > 1), None)
    shortest = min((len(each) - 1 for each in ids), default=0)
    return shortest if same is None else min(same, shortest)


def _fits(frame: Frame, segment: Mapping[str, Any], names: Mapping[str, str]) -> bool:
    wide = text_width_mm(names[segment["id"]], NAME_SCALE) + NAME_GAP_MM
    return bool(segment["length"] * frame.scale >= wide)


def segment_shapes(
    frame: Frame, segment: Mapping[str, Any], side: int, pen: str, name: str
) -> Iterator[Shape]:
    """Draw a segment with its name, as far as there is room for it."""
    x = min(segment["at"], _far(segment, side))
    top = segment["level"] + segment["depth"]
    yield _box(frame, (x, top), segment["length"], segment["depth"], pen)
    if _fits(frame, segment, {segment["id"]: name}):
        middle = frame.at(x + segment["length"] / 2, segment["level"])
        ink = "light" if pen == "subject" else "quiet"
        # Shallow segments are less deep than a line of text is high.
        lift = min(segment["depth"] * frame.scale / 2 - 0.8, 2.5)
        yield word((middle[0], middle[1] - lift), name, ink, "middle", NAME_SCALE)


def _mark(frame: Frame, segment: Mapping[str, Any], label: str) -> Iterator[Shape]:
    top = frame.at(segment["at"], segment["level"] + segment["depth"])
    foot = frame.at(segment["at"], segment["level"])
    yield stroke((top[0], top[1] - 3), (foot[0], foot[1] + 1.5), "mark")
    yield from _pointer(top, label)


def _extent(
    frame: Frame, segments: list[Mapping[str, Any]], label: str
) -> Iterator[Shape]:
    """Mark several joints, and how far the subject reaches over them."""
    tops = []
    for segment in segments:
        top = frame.at(segment["at"], segment["level"] + segment["depth"])
        foot = frame.at(segment["at"], segment["level"])
        yield stroke((top[0], top[1] - 1.2), (foot[0], foot[1] + 1), "mark")
        tops.append(top)
    high = min(y for _, y in tops) - 2.2
    left, right = min(x for x, _ in tops), max(x for x, _ in tops)
    yield stroke((left, high), (right, high), "mark")
    yield from _pointer(((left + right) / 2, high + 1.6), label)


def _pointer(top: Point, label: str) -> Iterator[Shape]:
    tip, above = top[1] - 2, top[1] - 4.5
    arrow = [(top[0], tip), (top[0] - 1.2, above), (top[0] + 1.2, above)]
    yield outline([arrow], "pointer")
    at_right = top[0] > WIDTH_MM / 2
    anchor, gap = ("end", -2.2) if at_right else ("start", 2.2)
    yield word((top[0] + gap, above), label, "alarm", anchor, 1.15)
