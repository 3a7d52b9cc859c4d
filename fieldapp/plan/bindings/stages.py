"""A load let off in stages: a line a stage, with what the hook should hold then.

The load and the per cent of it that is off are the plan's. A stage's band is a share
of the whole load, rounded inwards: what passes here passes the written band.
"""

import math
from decimal import Decimal
from fractions import Fraction
from typing import Any

from fieldapp.plan.bindings.band import MOST
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import LineList, Quantity
from fieldapp.plan.toml_node import Node


def add(node: Node, draft: Draft) -> None:
    """Add the lines named by `lines`, with numbers low and high for the `field`."""
    name, source = node.text("lines"), node.text("source")
    load = node.decimal("load", Decimal(0), MOST)
    within = node.decimal("within_percent", Decimal(0), Decimal(100))
    percents = [_percent(place) for place in node.items("percents")]
    label = _label(node.child("label"))
    step, field = draft.field(node.child("field"))
    if not percents or not step or not label:
        return
    if sorted(set(percents)) != percents:
        node.child("percents").fault("per cent that rise from stage to stage")
        return
    quantity = draft.shape(step, field).quantity
    lefts = [Fraction(load) * (100 - percent) / 100 for percent in percents]
    band = Fraction(load) * Fraction(within) / 100
    unit = 10**quantity.places
    made = LineList(
        [
            _line(percent, label.format(percent=percent, load=_shown(left, quantity)))
            for percent, left in zip(percents, lefts, strict=True)
        ]
    )
    made.number(
        "low", quantity, [max(math.ceil((each - band) * unit), 0) for each in lefts]
    )
    made.number("high", quantity, [math.floor((each + band) * unit) for each in lefts])
    _add_aims(made, percents, [round(each * unit) for each in lefts], quantity)
    draft.lines[name] = made
    told = ", ".join(f"{_shown(each, quantity)}" for each in lefts)
    value = f"{told} {quantity.unit}, each within {within} % of the whole".strip()
    draft.facts.append(
        {"label": f"Stages of {load} {quantity.unit}", "value": value, "source": source}
    )


def _add_aims(
    made: LineList, percents: list[int], wholes: list[int], quantity: Quantity
) -> None:
    """Give a target to the stages that are steered to; what hangs before is read."""
    made.numbers["aim"] = quantity
    for line, percent, whole in zip(made.lines, percents, wholes, strict=True):
        if percent > 0:
            line["numbers"]["aim"] = whole


def _percent(node: Node) -> int:
    whole = isinstance(node.value, int) and not isinstance(node.value, bool)
    if whole and 0 <= node.value <= 100:
        return int(node.value)
    node.fault("a whole number from 0 to 100")
    return 0


def _label(node: Node) -> str:
    """Give the text of a line, or "" where it says anything but load and per cent."""
    text = node.value if isinstance(node.value, str) else ""
    try:
        text.format(percent=0, load="")
    except (KeyError, IndexError, ValueError, AttributeError):
        text = ""
    if not text:
        node.fault("text, and in braces only {percent} and {load}")
    return text


def _line(percent: int, label: str) -> dict[str, Any]:
    return {"id": f"off-{percent}", "label": label, "need": 1, "numbers": {}}


def _shown(value: Fraction, quantity: Quantity) -> str:
    return str(Decimal(round(value * 10**quantity.places)).scaleb(-quantity.places))
