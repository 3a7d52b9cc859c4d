"""Whether a bar's extension confirms its force: the departure from what it should be.

The band is the larger of a percentage and a floor in mm; outside it the force is not
refused, it is looked at again. Extension never accepts a bar.
"""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from fieldapp.calc.bars import bar_extension_mm
from fieldapp.plan.bindings.jack import PER_KN
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import LineList, Quantity, Value
from fieldapp.plan.site import BarPlace
from fieldapp.plan.toml_node import Node

DEPARTURE = Quantity("mm", 2)
PER_MM = 100
SCALE = 10**6


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """How extension is measured and how far it may depart."""

    datum_force_kn: float
    grip_length_m: float
    percent: float
    floor_mm: float


def add(node: Node, draft: Draft) -> None:
    """Add the value named by `departure` and the band as numbers of the lines."""
    place = node.child("extension")
    step, field = draft.field(place)
    band = Band(
        datum_force_kn=_number(node, "datum_kn", "0", "500"),
        grip_length_m=_number(node, "grip_m", "0", "5"),
        percent=_number(node, "percent", "0", "50"),
        floor_mm=_number(node, "floor_mm", "0", "50"),
    )
    name, force, source = (node.text(key) for key in ("departure", "force", "source"))
    made = draft.made(node.child("lines"), draft.lines, "lines")
    known = draft.made(node.child("force"), draft.values, "a force")
    if made is None or known is None or not step:
        return
    quantity = draft.shape(step, field).quantity
    if quantity.unit != "mm" or quantity.places > DEPARTURE.places:
        place.fault(f"a field in mm with at most {DEPARTURE.places} places")
        return
    _add_numbers(node, made, draft, band)
    word = _departure(step, field, force, quantity)
    draft.values[name] = Value(word, DEPARTURE, frozenset({step}))
    draft.facts.append(_told(band, source))
    draft.pictures.append(
        {
            "binding": "force_extension",
            "step": step,
            "extension": field,
            "force": force,
            "departure": name,
        }
    )


def _told(band: Band, source: str) -> dict[str, str]:
    """A fact of the sheet: a reading of extension says nothing without its mark."""
    value = (
        f"from {band.datum_force_kn:g} kN, with {band.grip_length_m:g} m in the jack; "
        f"within {band.percent:g} % or {band.floor_mm:g} mm"
    )
    return {"label": "Extension", "value": value, "source": source}


def _number(node: Node, key: str, low: str, high: str) -> float:
    return float(node.decimal(key, Decimal(low), Decimal(high)))


def _departure(step: str, field: str, force: str, quantity: Quantity) -> dict[str, Any]:
    """Reading − (force − datum) × extension per force, over a divisor."""
    reading = {"word": "reading", "step": step, "field": field}
    per_reading = SCALE * PER_MM // 10**quantity.places
    return {
        "word": "form",
        "constant": {"word": "constant", "name": "datum_mm"},
        "terms": [
            [per_reading, reading],
            [{"word": "constant", "name": "less_mm_per_kn"}, force],
        ],
        "divisor": SCALE,
    }


def _add_numbers(node: Node, made: LineList, draft: Draft, band: Band) -> None:
    bars = {bar.id: bar for bar in draft.subject.bars}
    of_line = [bars[line["item"]] for line in made.lines]
    targets = [line["numbers"]["target"] / PER_KN for line in made.lines]
    if min(targets) <= band.datum_force_kn:
        node.child("datum_kn").fault(f"below the least target, {min(targets):g} kN")
        return
    per_kn = [_per_kn_mm(bar, band) for bar in of_line]
    wanted = [
        _extension_mm(bar, band, target)
        for bar, target in zip(of_line, targets, strict=True)
    ]
    slack = [max(band.floor_mm, mm * band.percent / 100) for mm in wanted]
    made.number(
        "less_mm_per_kn",
        Quantity("mm/kN", 7),
        [-round(mm * PER_MM * SCALE / PER_KN) for mm in per_kn],
    )
    made.number(
        "datum_mm",
        Quantity("mm", 8),
        [round(mm * band.datum_force_kn * PER_MM * SCALE) for mm in per_kn],
    )
    made.number("extension", DEPARTURE, [round(mm * PER_MM) for mm in wanted])
    most = [math.floor(mm * PER_MM + 1e-6) for mm in slack]
    made.number("most_departure", DEPARTURE, most)
    made.number("least_departure", DEPARTURE, [-mm for mm in most])


def _extension_mm(bar: BarPlace, band: Band, force_kn: float) -> float:
    return bar_extension_mm(
        length_m=bar.length_m,
        force_kn=force_kn,
        area_mm2=bar.area_mm2,
        modulus_gpa=bar.modulus_gpa,
        datum_force_kn=band.datum_force_kn,
        grip_length_m=band.grip_length_m,
    )


def _per_kn_mm(bar: BarPlace, band: Band) -> float:
    """Extension per kN: what the formula gives for one kN above the datum."""
    return _extension_mm(bar, band, band.datum_force_kn + 1)
