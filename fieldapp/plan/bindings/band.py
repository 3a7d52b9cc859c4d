"""A band of per cent around a number of the plan, as two bounds for a field.

Bounds are rounded inwards to what the field can show: what passes here passes the
written band.
"""

import math
from decimal import Decimal
from fractions import Fraction

from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Quantity, Value
from fieldapp.plan.toml_node import Node

MOST = Decimal(10**9)


def add(node: Node, draft: Draft) -> None:
    """Add the values named by `low` and `high`, around the number `around`."""
    add_band(node, draft, node.decimal("around", Decimal(0), MOST))


def add_band(node: Node, draft: Draft, around: Decimal) -> None:
    """Add a band around a number in the unit of the place's `field`."""
    low, high = _percent(node, "low_percent"), _percent(node, "high_percent")
    names = (node.text("low"), node.text("high"))
    label, source = node.text("label"), node.text("source")
    if low >= high:
        node.child("low_percent").fault("below high_percent")
    step, field = draft.field(node.child("field"))
    if not step:
        return
    shape = draft.shape(step, field)
    if shape.kind != "number":
        node.child("field").fault("a field that is a number")
        return
    least, most = band(around, (low, high), shape.quantity)
    for name, whole in zip(names, (least, most), strict=True):
        draft.values[name] = Value(whole, shape.quantity)
    unit = shape.quantity.unit
    value = f"{_text(least, shape.quantity)} to {_text(most, shape.quantity)} {unit}"
    draft.facts.append({"label": label, "value": value.strip(), "source": source})


def band(
    around: Decimal, percents: tuple[Decimal, Decimal], quantity: Quantity
) -> tuple[int, int]:
    """Give the bounds as whole numbers of a quantity, rounded inwards."""
    scaled = Fraction(around) * 10**quantity.places / 100
    low, high = (scaled * Fraction(percent) for percent in percents)
    return math.ceil(low), math.floor(high)


def _percent(node: Node, key: str) -> Decimal:
    return node.decimal(key, Decimal(0), Decimal(1000))


def _text(whole: int, quantity: Quantity) -> str:
    return str(Decimal(whole).scaleb(-quantity.places))
