"""The wind of a forecast, raised to the height where the lifting is done.

The factor is for open country and read high; the limit is the machine's own and the
plan's to say, and the operator's stop is never overruled.
"""

import math
from decimal import Decimal
from fractions import Fraction

from fieldapp.calc.refusals import CalcRefusal
from fieldapp.calc.wind import height_factor
from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import linear
from fieldapp.plan.quantities import Quantity, Value
from fieldapp.plan.toml_node import Node

SPEED = Quantity("m/s", 4)
PER_FACTOR = 1000


def add(node: Node, draft: Draft) -> None:
    """Add the value named by `speed`: the forecast's, at `height_m`."""
    place, height = node.child("forecast"), node.child("height_m")
    step, field = draft.field(place)
    name, high = node.text("speed"), node.decimal("height_m", Decimal(0), Decimal(500))
    if not step:
        return
    quantity = draft.shape(step, field).quantity
    if quantity.unit != "m/s" or quantity.places > 1 or draft.steps[step].many:
        place.fault("a field in m/s with at most 1 place, of a step of one line")
        return
    try:
        factor = height_factor(float(high))
    except CalcRefusal as refusal:
        height.fault(f"a height {refusal.allowed} m")
        return
    reading = Value({"word": "reading", "step": step, "field": field}, quantity)
    raised = Fraction(math.ceil(factor * PER_FACTOR - 1e-6), PER_FACTOR)
    scale = Fraction(10) ** (SPEED.places - quantity.places)
    draft.values[name] = linear(SPEED, Fraction(0), [(raised * scale, reading)])
    draft.facts.append(
        {
            "label": "Wind at the lift",
            "value": f"forecast at 10 m × {float(raised):g} at {high} m",
            "source": "CPA TIN 101, height multipliers, open country",
        }
    )
