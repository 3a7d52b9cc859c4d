"""Stress over the joint's face in each state, from what the fold worked out.

The plane through the corner stresses is drawn in steps of equal stress; the figures
are the fold's own. Below the least stress allowed the face is red and said so.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

from fieldapp.records.figures import computed, figure
from fieldapp.records.opened import Opened
from fieldapp.records.pictures.counted import counted
from fieldapp.records.pictures.drawing import (
    Drawing,
    Point,
    Shape,
    box,
    dot,
    outline,
    text_width_mm,
    word,
)
from fieldapp.records.pictures.stress_told import STRESS_PLACES, shown_as, told_of

WIDTH_MM, DEEPEST_MM = 88.0, 40.0
SIDE_MM, TOP_MM = 13.0, 1.6
LEGEND_MM = 9.4
FORCE_PLACES = 1
STEPS = (50, 100, 200, 250, 500, 1_000, 2_000, 2_500, 5_000, 10_000)
MOST_BANDS = 7
FILLS = ("#f4f8fb", "#e1ecf5", "#c9dcec", "#aecae2", "#90b5d5", "#719fc6", "#5489b5")
LOW_FILL = "#f0b9b3"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Stress over x and y (mm), in 0.0001 MPa: level + by_x × x + by_y × y."""

    level: float
    by_x: float
    by_y: float

    def at(self, place: Point) -> float:
        """Give the stress at a place."""
        return self.level + self.by_x * place[0] + self.by_y * place[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """How the face's millimetres come onto paper."""

    middle: float
    top: float
    scale: float
    depth: float

    @property
    def foot(self) -> float:
        """Give where the face ends on paper, downwards."""
        return TOP_MM + self.depth * self.scale

    def at(self, place: Point) -> Point:
        """Give the place on paper of a place on the face (y upwards)."""
        return (
            WIDTH_MM / 2 + (place[0] - self.middle) * self.scale,
            TOP_MM + (self.top - place[1]) * self.scale,
        )


def joint_stress(opened: Opened, picture: Mapping[str, Any]) -> Iterator[Drawing]:
    """Draw the face once for each state that has its stresses."""
    values = opened.state["values"]
    for state in picture["states"]:
        corners = [
            ((each["x"], each["y"]), values[each["value"]])
            for each in state["corners"]
            if each["value"] in values
        ]
        if len(corners) == len(state["corners"]) and state["least"] in values:
            yield _state(opened, picture, state, corners)


def _state(
    opened: Opened,
    picture: Mapping[str, Any],
    state: Mapping[str, Any],
    corners: list[tuple[Point, int]],
) -> Drawing:
    values = opened.state["values"]
    frame = _frame(picture["outline"])
    shapes = [
        *_bands(frame, picture, corners),
        *(_hole(frame, ring) for ring in picture["voids"]),
        outline([_placed(frame, picture["outline"])], "outline"),
        *_bars(frame, picture, values),
        *_corner_words(
            frame,
            corners,
            picture["limits"]["least"],
            shown_as(opened, picture, state["least"]),
        ),
    ]
    told = told_of(opened, picture, state)
    return Drawing(
        title=f"Stress over the joint [MPa], {state['title']}: {'; '.join(told)}",
        caption=f"Stress over the joint [MPa], {state['title'].lower()}",
        width_mm=WIDTH_MM,
        height_mm=round(frame.foot + LEGEND_MM, 2),
        shapes=tuple(shapes),
        notes=(" · ".join(told) + f" · at the bars: {counted(opened, picture)}",),
    )


def _frame(face: Sequence[Sequence[int]]) -> Frame:
    xs, ys = [place[0] for place in face], [place[1] for place in face]
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((WIDTH_MM - 2 * SIDE_MM) / wide, DEEPEST_MM / deep)
    middle = (max(xs) + min(xs)) / 2
    return Frame(middle=middle, top=max(ys), scale=scale, depth=deep)


def _placed(frame: Frame, ring: Sequence[Sequence[float]]) -> list[Point]:
    return [frame.at((place[0], place[1])) for place in ring]


def _bands(
    frame: Frame, picture: Mapping[str, Any], corners: list[tuple[Point, int]]
) -> Iterator[Shape]:
    plane = _plane(corners)
    stresses = [stress for _, stress in corners]
    levels = _levels(min(stresses), max(stresses), picture["limits"]["least"])
    for number, (low, high) in enumerate(pairwise(levels)):
        fill = _fill(number, high, picture["limits"]["least"])
        cut = _between(picture["outline"], plane, low, high)
        if len(cut) > 2:
            yield outline([_placed(frame, cut)], "outline", fill)
        yield from _legend(frame, number, len(levels) - 1, (low, high), fill)


def _levels(low: int, high: int, least: int) -> list[int]:
    """Give rounded levels around the stresses; the least allowed is one of them."""
    step = next(
        (each for each in STEPS if (high - low) / each < MOST_BANDS - 1), STEPS[-1]
    )
    first = low // step * step
    levels = list(range(first, high + step, step))
    return sorted({*levels, least}) if first < least < levels[-1] else levels


def _fill(number: int, high: int, least: int) -> str:
    return LOW_FILL if high <= least else FILLS[min(number, len(FILLS) - 1)]


def _hole(frame: Frame, ring: Sequence[Sequence[int]]) -> Shape:
    return outline([_placed(frame, ring)], "hole")


def _legend(
    frame: Frame, number: int, count: int, ends: tuple[int, int], fill: str
) -> Iterator[Shape]:
    width = (WIDTH_MM - 10) / count
    left, top = 5 + number * width, frame.foot + 2.6
    right, foot = left + width, top + 2.6
    ring = [(left, top), (right, top), (right, foot), (left, foot)]
    yield outline([ring], "outline", fill)
    yield box((left, top), width, 2.6, "thin")
    yield word((left, top + 5.2), _level(ends[0]), "quiet", "middle", 0.85)
    if number == count - 1:
        yield word((left + width, top + 5.2), _level(ends[1]), "quiet", "middle", 0.85)


def _level(value: int) -> str:
    text = figure(value, STRESS_PLACES)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _plane(corners: list[tuple[Point, int]]) -> Plane:
    """Lay the plane through the three corners that span the most."""
    a, b, c = max(combinations(corners, 3), key=lambda three: abs(_span(three)))
    span = _span((a, b, c))
    (ax, ay), (bx, by), (cx, cy) = a[0], b[0], c[0]
    up, over = b[1] - a[1], c[1] - a[1]
    by_x = (up * (cy - ay) - over * (by - ay)) / span
    by_y = (over * (bx - ax) - up * (cx - ax)) / span
    return Plane(level=a[1] - by_x * ax - by_y * ay, by_x=by_x, by_y=by_y)


def _span(three: Sequence[tuple[Point, int]]) -> float:
    (ax, ay), (bx, by), (cx, cy) = (place for place, _ in three)
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def _between(
    ring: Sequence[Sequence[float]], plane: Plane, low: float, high: float
) -> list[Point]:
    points = [(float(place[0]), float(place[1])) for place in ring]
    above = _cut(points, lambda place: plane.at(place) - low)
    return _cut(above, lambda place: high - plane.at(place))


def _cut(ring: list[Point], over: Any) -> list[Point]:
    """Keep the part of a ring where `over` is not negative."""
    kept: list[Point] = []
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        here, there = over(start), over(end)
        if here >= 0:
            kept.append(start)
        if here * there < 0:
            part = here / (here - there)
            kept.append(
                (
                    start[0] + (end[0] - start[0]) * part,
                    start[1] + (end[1] - start[1]) * part,
                )
            )
    return kept


def _bars(
    frame: Frame, picture: Mapping[str, Any], values: Mapping[str, int]
) -> Iterator[Shape]:
    taken: list[Point] = []
    for bar in picture["bars"]:
        place = frame.at((bar["x"], bar["y"]))
        force = values.get(bar["force"])
        yield dot(place, 0.95, "ring" if not force else "dot")
        if force is not None:
            text = figure(force, FORCE_PLACES)
            # Inside a hollow there is room towards the middle, else away from it.
            hollow = any(_inside(bar["x"], bar["y"], ring) for ring in picture["voids"])
            side = 1 if (bar["x"] < frame.middle) == hollow else -1
            spot = (place[0] + 1.5 * side, place[1] + 0.8)
            if _free(spot, taken, text_width_mm(text, 0.8)):
                taken.append(spot)
                yield word(spot, text, "words", "start" if side > 0 else "end", 0.8)


def _inside(x: float, y: float, ring: Sequence[Sequence[float]]) -> bool:
    """Say whether a place lies in a ring: a ray from it crosses the ring oddly."""
    crossed = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            crossed = not crossed
    return crossed


def _corner_words(
    frame: Frame, corners: list[tuple[Point, int]], least: int, show: Mapping[str, Any]
) -> Iterator[Shape]:
    """Write the corner stresses, the least and the greatest first, where room is."""
    ordered = sorted(corners, key=lambda each: each[1])
    taken: list[Point] = []
    greatest = ordered[-1][1]
    for place, stress in [ordered[0], ordered[-1], *ordered[1:-1]]:
        x, y = frame.at(place)
        at_left = place[0] < frame.middle
        spot = (x - 1 if at_left else x + 1, y + 0.8)
        side = "up" if stress == greatest else show.get("round")
        text = computed(stress, {**show, "round": side})
        if _free(spot, taken, text_width_mm(text)):
            taken.append(spot)
            pen = "alarm" if stress < least else "strong"
            yield word(spot, text, pen, "end" if at_left else "start", 0.95)


def _free(spot: Point, taken: list[Point], width_mm: float) -> bool:
    return all(
        abs(spot[0] - other[0]) > width_mm or abs(spot[1] - other[1]) > 2.3
        for other in taken
    )
