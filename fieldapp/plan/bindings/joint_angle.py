"""Thickness of a joint from scribed marks, and the angle they give for nothing.

Four marks across the joint, two above and two below, scribed a gauge apart with the
joint dry and closed. What they have moved apart is the joint; the difference between
them over their lever is its angle. Exact: no reading is rounded.
"""

from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import linear, reduced
from fieldapp.plan.quantities import Quantity, Value
from fieldapp.plan.toml_node import Node

THICKNESS = Quantity("mm", 2)
ANGLE = Quantity("mm/m", 3)
CORNERS = ("top_left", "top_right", "bottom_left", "bottom_right")


class Levers(NamedTuple):
    """How far the marks lie apart, m: from above to below, from left to right."""

    up_m: Fraction
    across_m: Fraction


def add(node: Node, draft: Draft) -> None:
    """Add the values named by mean, least, greatest, vertical and plan.

    vertical is positive where the joint is wider above, plan where wider on the left.
    Source: angle = difference of thickness / lever (geometry).
    """
    marks = [_mark(node, corner, draft) for corner in CORNERS]
    gauge = Fraction(node.decimal("gauge_mm", Decimal(1), Decimal(2000)))
    levers = _levers(node, draft)
    wanted = ("mean", "least", "greatest", "vertical", "plan")
    names = {key: node.text(key) for key in wanted}
    good = [mark for mark in marks if mark is not None]
    if levers is None or len(good) < len(CORNERS):
        return
    each = [linear(THICKNESS, -100 * gauge, [(_to(mark), mark)]) for mark in good]
    quarter = [(_to(mark) / 4, mark) for mark in good]
    draft.values[names["mean"]] = linear(THICKNESS, -100 * gauge, quarter)
    draft.values[names["least"]] = reduced("min", each)
    draft.values[names["greatest"]] = reduced("max", each)
    # A slope is told in mm over m; each side is the mean of its two marks.
    draft.values[names["vertical"]] = _angle(good, (1, 1, -1, -1), levers.up_m)
    draft.values[names["plan"]] = _angle(good, (1, -1, 1, -1), levers.across_m)
    draft.facts.append(
        {
            "label": "Scribed marks",
            "value": f"{float(gauge):g} mm apart dry; lever {float(levers.up_m):.3f} m "
            f"up, {float(levers.across_m):.3f} m across",
            "source": "geometry of the face",
        }
    )


def _mark(node: Node, corner: str, draft: Draft) -> Value | None:
    place = node.child(corner)
    step, name = draft.field(place)
    if not step:
        return None
    quantity = draft.shape(step, name).quantity
    if quantity.unit != "mm" or quantity.places > 2 or draft.steps[step].many:
        place.fault("a field in mm with at most 2 places, of a step of one line")
        return None
    return Value({"word": "reading", "step": step, "field": name}, quantity)


def _levers(node: Node, draft: Draft) -> Levers | None:
    edges = [
        Fraction(node.decimal(key, Decimal(0), Decimal(20)))
        for key in ("below_top_m", "above_bottom_m")
    ]
    across = Fraction(node.decimal("apart_m", Decimal("0.1"), Decimal(40)))
    if not draft.has_face(node):
        return None
    heights = [y for _, y in draft.face.outline]
    depth = Fraction(repr(max(heights))) - Fraction(repr(min(heights)))
    up = depth - sum(edges)
    if up <= 0:
        node.child("below_top_m").fault(f"marks within the depth, {float(depth):g} m")
        return None
    return Levers(up_m=up, across_m=across)


def _to(mark: Value) -> Fraction:
    """From a mark's whole numbers to those of a thickness."""
    return Fraction(10) ** (THICKNESS.places - mark.quantity.places)


def _angle(marks: list[Value], signs: tuple[int, ...], lever_m: Fraction) -> Value:
    """Mean of one side less mean of the other, over the lever."""
    return linear(
        ANGLE,
        Fraction(0),
        [
            (
                Fraction(10) ** (ANGLE.places - mark.quantity.places)
                * sign
                / 2
                / lever_m,
                mark,
            )
            for mark, sign in zip(marks, signs, strict=True)
        ],
    )
