"""How much grout a duct takes beside its steel, as a band for what was injected.

Less than the duct holds is a void, far more a leak; the per cent is the project's.
"""

from decimal import Decimal

from fieldapp.calc.grout import net_l_per_m
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.plan.bindings.band import add_band
from fieldapp.plan.draft import Draft
from fieldapp.plan.toml_node import Node


def add(node: Node, draft: Draft) -> None:
    """Add the values named by `low` and `high`, around the duct's net litres."""
    bore = node.decimal("bore_mm", Decimal(1), Decimal(1000))
    steel = node.decimal("steel_mm2", Decimal(1), Decimal(10**6))
    length = node.decimal("length_m", Decimal("0.1"), Decimal(10_000))
    try:
        net_l = net_l_per_m(float(bore), float(steel)) * float(length)
    except CalcRefusal as refusal:
        node.child("steel_mm2").fault(refusal.allowed)
        net_l = 1.0
    step, name = draft.field(node.child("field"))
    if step and draft.shape(step, name).quantity.unit != "L":
        node.child("field").fault("a field in L")
    draft.facts.append(
        {
            "label": "Net volume of the duct",
            "value": f"{net_l:.1f} L in {length} m beside {steel} mm² of steel",
            "source": "geometry",
        }
    )
    add_band(node, draft, Decimal(repr(round(net_l, 6))))
