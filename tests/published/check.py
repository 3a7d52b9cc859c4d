"""One check of a calculation against a document, and the shapes they share.

`printed` holds figures as the document prints them, with the tolerance that its
rounding or its method leaves. A figure from memory says so in its place.
"""

import math
from dataclasses import dataclass
from typing import Any

Tolerance = float


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """Document, place in it, input, and what it prints, key by key."""

    document: str
    place: str
    name: str
    data: dict[str, Any]
    printed: dict[str, tuple[Any, Tolerance]]

    @property
    def id(self) -> str:
        """How the check is named in a report."""
        return f"{self.document} {self.place}"


def found(answer: dict[str, Any], key: str) -> Any:
    """The value at a key such as force_kn.1 or states.gear.min_mpa."""
    value: Any = answer
    for part in key.split("."):
        value = value[int(part)] if isinstance(value, list) else value[part]
    return value


def scaled(ring: list[list[float]], factor: float) -> list[list[float]]:
    """A ring in another unit of length."""
    return [[x * factor, y * factor] for x, y in ring]


def rectangle(x: float, y: float, width: float, height: float) -> list[list[float]]:
    """A ring from its lower left corner."""
    return [[x, y], [x + width, y], [x + width, y + height], [x, y + height]]


def box_beam_in(width: float, height: float) -> dict[str, Any]:
    """Box beam of PCI MNL-133 appendix B, in inches about its own axis.

    Webs 5, flanges 5.5, chamfers 3; keyway 0.375 over the top 6, then 0.75 over the
    next 6, on both sides.
    """
    half, top = width / 2, height
    right = [
        (half, 0),
        (half, top - 12),
        (half - 0.75, top - 12),
        (half - 0.75, top - 6),
        (half - 0.375, top - 6),
        (half - 0.375, top),
    ]
    outline = [*right, *((-x, y) for x, y in reversed(right))]
    inner = half - 5
    low, high = 5.5, top - 5.5
    void = [
        (inner, low + 3),
        (inner, high - 3),
        (inner - 3, high),
        (3 - inner, high),
        (-inner, high - 3),
        (-inner, low + 3),
        (3 - inner, low),
        (inner - 3, low),
    ]
    return {"outline": [list(p) for p in outline], "voids": [[list(p) for p in void]]}


def angle_with_fillets_mm() -> list[list[float]]:
    """Angle 150 x 90 x 12, root radius 10 and toe radius 5, eight points an arc."""
    toe, root = 5.0, 10.0
    return [
        [0.0, 0.0],
        [90.0, 0.0],
        *arc(90 - toe, 12 - toe, toe, 0, 90),
        *arc(12 + root, 12 + root, root, 270, 180),
        *arc(12 - toe, 150 - toe, toe, 0, 90),
        [0.0, 150.0],
    ]


def arc(
    x: float, y: float, radius: float, start_degrees: float, end_degrees: float
) -> list[list[float]]:
    """Eight points from one direction to another, both ends included."""
    turns = [
        math.radians(start_degrees + (end_degrees - start_degrees) * step / 7)
        for step in range(8)
    ]
    return [[x + radius * math.cos(t), y + radius * math.sin(t)] for t in turns]


def circle(x: float, y: float, diameter: float, sides: int = 360) -> list[list[float]]:
    """A round void as a polygon of the same area."""
    step = 2 * math.pi / sides
    radius = diameter / 2 * math.sqrt(step / math.sin(step))
    return [
        [x + radius * math.cos(step * side), y + radius * math.sin(step * side)]
        for side in range(sides)
    ]
