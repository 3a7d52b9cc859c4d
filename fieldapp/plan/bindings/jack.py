"""Force from a pressure reading, by the certificate of the jack that was chosen.

The certificate travels with the jack as whole numbers of the item, so a spare may
finish a round. Outside the certified pressures there is no force to rely on.
"""

from decimal import Decimal
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Condition, Quantity, Value
from fieldapp.plan.site import Jack
from fieldapp.plan.toml_node import Node

FORCE = Quantity("kN", 1)
PER_KN = 10
SCALE = 10**6


def add(node: Node, draft: Draft) -> None:
    """Add the value named by `force` and the condition named by `certified`."""
    pressure, item = (
        draft.field(node.child("pressure")),
        draft.field(node.child("jack")),
    )
    force, certified = node.text("force"), node.text("certified")
    limit = node.child("residual_percent")
    most = float(node.decimal("residual_percent", Decimal("0.01"), Decimal(5)))
    # Without a limit that can be read no certificate is held against one.
    stated = limit.given and limit.value == Decimal(str(most))
    if not pressure[0] or not item[0]:
        return
    quantity = draft.shape(*pressure).quantity
    if quantity.unit != "bar" or pressure[0] != item[0]:
        node.child("pressure").fault("a field in bar, of the step of the jack's field")
        return
    kind = draft.shape(*item).item
    if not draft.site.jacks:
        node.child("jack").fault("a site with a calibrated jack", "none")
    for jack in draft.site.jacks:
        if stated:
            _check_fit(node, jack, most)
        draft.items[jack.id]["numbers"] = _numbers(jack, quantity)
    draft.item_numbers[kind] = {
        "slope": Quantity("kN/bar", 7 - quantity.places),
        "intercept": Quantity("kN", 7),
        "low": quantity,
        "high": quantity,
    }
    _add_words(draft, pressure, item, (force, certified))


def _add_words(
    draft: Draft,
    pressure: tuple[str, str],
    item: tuple[str, str],
    names: tuple[str, str],
) -> None:
    step = pressure[0]
    reading = {"word": "reading", "step": step, "field": pressure[1]}
    bounds = {
        name: {"word": "field", "step": step, "field": item[1], "name": name}
        for name in ("slope", "intercept", "low", "high")
    }
    force = {
        "word": "form",
        "constant": bounds["intercept"],
        "terms": [[bounds["slope"], reading]],
        "divisor": SCALE,
    }
    inside = {
        "word": "between",
        "value": reading,
        "low": bounds["low"],
        "high": bounds["high"],
    }
    lines = frozenset({step}) if draft.steps[step].many else frozenset()
    draft.values[names[0]] = Value(force, FORCE, lines)
    draft.conditions[names[1]] = Condition(inside, lines)


def _check_fit(node: Node, jack: Jack, most: float) -> None:
    found = jack.calibration.fit_residual_percent
    if found > most:
        node.child("residual_percent").fault(
            f"certificates whose line fits within {most:g} %",
            f"{jack.id} fits within {found:.2f} %",
        )


def _numbers(jack: Jack, quantity: Quantity) -> dict[str, int]:
    """Whole numbers of the certificate; rounding moves a force by under 0.01 kN."""
    per_bar = 10**quantity.places
    slope = jack.calibration.slope_kn_per_bar * PER_KN * SCALE / per_bar
    points = jack.calibration.points
    numbers: dict[str, Any] = {
        "slope": round(slope),
        "intercept": round(jack.calibration.intercept_kn * PER_KN * SCALE),
        "low": round(points[0][0] * per_bar),
        "high": round(points[-1][0] * per_bar),
    }
    return numbers
