"""How many kits a joint takes, and the mean thickness from the kits emptied.

The mean is kits × volume of a kit over the area coated, and reads low by less than
a thousandth of a millimetre.
"""

import math
from decimal import Decimal
from typing import Any

from fieldapp.calc.adhesive import AdhesiveQuantity, adhesive_quantity
from fieldapp.plan.bindings.window import chosen
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import LineList, Quantity, Value
from fieldapp.plan.site import Formulation
from fieldapp.plan.toml_node import Node

MEAN = Quantity("mm", 2)
PER_MM = 100
SCALE = 10**6


def add(node: Node, draft: Draft) -> None:
    """Add the kits as lines, and the value named by `mean` over a step's lines."""
    applied: dict[str, Any] = {
        "thickness_mm": _number(node, "thickness_mm", "0.1", "10"),
        "faces": node.whole("faces", 1, 2),
        "waste_ratio": _number(node, "waste_percent", "0", "100") / 100,
    }
    lines, spare = node.text("lines"), node.whole("spare", 0, 20)
    mean, step = node.text("mean"), draft.step(node.child("step"))
    source, by = node.text("source"), chosen(node, draft)
    picture = {"binding": "thickness", "mean": mean, "kits": step}
    spots = _spots(node, picture, draft)
    if not step or by is None or not draft.site.formulations:
        return
    if not draft.has_face(node):
        return
    every = draft.site.formulations.values()
    wanted = max(_quantity(draft, each, **applied).kits for each in every)
    draft.lines[lines] = LineList(_kits(node, wanted, spare))
    draft.counts[lines] = wanted
    count = {"word": "reduce", "how": "count", "step": step}
    cases = [
        [each.number, _mean_word(count, each, applied["faces"], draft)]
        for each in every
    ]
    word = {"word": "choose", "by": by, "cases": cases}
    draft.values[mean] = Value(word, MEAN)
    draft.pictures.append({**picture, **spots})
    _tell(draft, wanted, applied, source)


def _number(node: Node, key: str, low: str, high: str) -> float:
    return float(node.decimal(key, Decimal(low), Decimal(high)))


def _spots(node: Node, picture: dict[str, Any], draft: Draft) -> dict[str, str]:
    if "spots" not in node:
        return {}
    step, field = draft.field(node.child("spots"))
    return {"spots": step, "field": field}


def _quantity(draft: Draft, adhesive: Formulation, **applied: Any) -> AdhesiveQuantity:
    return adhesive_quantity(
        area_m2=draft.face.properties.area_m2,
        density_kg_per_l=adhesive.density_kg_per_l,
        kit_kg=adhesive.kit_kg,
        **applied,
    )


def _kits(node: Node, wanted: int, spare: int) -> list[dict[str, Any]]:
    title = node.text("kit")
    return [
        {
            "id": f"kit-{number}",
            "label": f"{title} {number}" + ("" if number <= wanted else " (spare)"),
            "need": int(number <= wanted),
            "numbers": {},
        }
        for number in range(1, wanted + spare + 1)
    ]


def _mean_word(
    count: dict[str, Any], adhesive: Formulation, faces: int, draft: Draft
) -> dict[str, Any]:
    """Kits × the thickness one kit makes, from the mass of one millimetre."""
    one = _quantity(draft, adhesive, thickness_mm=1.0, faces=faces, waste_ratio=0.0)
    per_kit = math.floor(adhesive.kit_kg / one.mass_kg * PER_MM * SCALE)
    return {"word": "form", "terms": [[per_kit, count]], "divisor": SCALE}


def _tell(draft: Draft, wanted: int, applied: dict[str, Any], source: str) -> None:
    area = draft.face.properties.area_m2
    where = "one face" if applied["faces"] == 1 else f"each of {applied['faces']} faces"
    coat = f"{applied['thickness_mm']:g} mm on {where}"
    draft.facts.append(
        {
            "label": "Adhesive",
            "value": f"{wanted} kits for {area:.2f} m², {coat}",
            "source": source,
        }
    )
