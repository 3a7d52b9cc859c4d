"""The force that stays in a bar when its nut has taken up the seating.

A joint is judged by this force, never by the jack's. The loss is the plan's stated
seating, rounded up.
"""

import math
from decimal import Decimal

from fieldapp.calc.bars import locked_force_kn
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.plan.bindings.jack import FORCE, PER_KN
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Value
from fieldapp.plan.site import BarPlace
from fieldapp.plan.toml_node import Node


def add(node: Node, draft: Draft) -> None:
    """Add the value named by `locked`: the force less the seating loss of its line."""
    seating_mm = float(node.decimal("seating_mm", Decimal(0), Decimal(5)))
    name, force, source = (node.text(key) for key in ("locked", "force", "source"))
    made = draft.made(node.child("lines"), draft.lines, "lines")
    known = draft.made(node.child("force"), draft.values, "a force")
    if made is None or known is None:
        return
    bars = {bar.id: bar for bar in draft.subject.bars}
    try:
        losses = [_loss_kn(bars[line["item"]], seating_mm) for line in made.lines]
    except CalcRefusal as refusal:
        node.child("seating_mm").fault(refusal.allowed)
        return
    counted = [math.ceil(loss * PER_KN - 1e-6) for loss in losses]
    made.number("seating", FORCE, counted)
    loss = {"word": "constant", "name": "seating"}
    word = {"word": "form", "terms": [[1, force], [-1, loss]], "divisor": 1}
    draft.values[name] = Value(word, FORCE, draft.values[force].lines)
    draft.facts.append(
        {
            "label": "Seating loss",
            "value": f"{max(counted) / PER_KN:.1f} kN for {seating_mm:g} mm",
            "source": source,
        }
    )


def _loss_kn(bar: BarPlace, seating_mm: float) -> float:
    locked = locked_force_kn(
        length_m=bar.length_m,
        force_kn=bar.force_kn,
        area_mm2=bar.area_mm2,
        modulus_gpa=bar.modulus_gpa,
        seating_mm=seating_mm,
    )
    return bar.force_kn - locked
