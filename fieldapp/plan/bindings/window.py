"""The temperature window of the adhesive that was chosen, as two values.

Bounds come from the formulation's certificate; what they bound is the plan's to say.
"""

from math import floor

from fieldapp.calc.tables import life_min
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Quantity, Value
from fieldapp.plan.site import Formulation
from fieldapp.plan.toml_node import Node

TENTHS = Quantity("°C", 1)


def add(node: Node, draft: Draft) -> None:
    """Add the values named by `lowest` and `highest`, by the chosen formulation."""
    by = chosen(node, draft)
    names = [node.text(key) for key in ("lowest", "highest")]
    if by is None:
        return
    every = draft.site.formulations.values()
    bounds = [[each.low_c for each in every], [each.high_c for each in every]]
    for name, values in zip(names, bounds, strict=True):
        cases = [
            [each.number, round(value * 10)]
            for each, value in zip(every, values, strict=True)
        ]
        draft.values[name] = Value({"word": "choose", "by": by, "cases": cases}, TENTHS)
    for each in every:
        draft.facts.append(
            {
                "label": each.title,
                "value": _said(each),
                "source": each.source,
            }
        )


def _said(each: Formulation) -> str:
    """Give the window in words, and the open time at its two ends.

    A phone shows it beside the formulation wherever one is chosen.
    """
    low, high = each.low_c, each.high_c
    said, table = f"{low:g} to {high:g} °C", each.lives.get("open")
    # A table that does not reach them is a fault told where it was read.
    if table is None or not table.low_c <= low < high <= table.high_c:
        return said
    most, least = (floor(life_min(table, at)) for at in (low, high))
    return f"{said}, open time {most} to {least} min"


def chosen(node: Node, draft: Draft) -> dict[str, str] | None:
    """Give the reading of the field in which a formulation is chosen."""
    place = node.child("formulation")
    step, name = draft.field(place)
    if not step:
        return None
    known = {each.number for each in draft.site.formulations.values()}
    if set(draft.shape(step, name).options) != known or draft.steps[step].many:
        place.fault('a choice with options = "formulations", of a step of one line')
        return None
    return {"word": "reading", "step": step, "field": name}
