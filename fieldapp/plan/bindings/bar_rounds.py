"""The lines of the rounds on the bars: who is next, at what force, at what pressure.

A line is one bar in one round. Its numbers are the target with its band, the bar's
cap, and for each jack of the site the pressure on its own gauge.
"""

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from fieldapp.calc.jack import Calibration, pressure_from_force_bar, set_pressure_bar
from fieldapp.calc.refusals import CalcRefusal
from fieldapp.plan.bindings.jack import FORCE, PER_KN
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import LineList, Quantity
from fieldapp.plan.site import BarPlace
from fieldapp.plan.toml_node import Node

# A limit met exactly stays met when binary fractions miss it.
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """A round's share of the bars' force, and its band as shares of that target."""

    title: str
    share: float
    low: float
    high: float


def add(node: Node, draft: Draft) -> None:
    """Add the lines named by `lines`, a bar in a round, and by `bars`, one a bar.

    The lines named by `places`, if any, are one a bar too, and all must be recorded.
    """
    name, singly, kind = (node.text(key) for key in ("lines", "bars", "item_kind"))
    pressure = draft.field(node.child("pressure"))
    rounds = [_round(place, draft) for place in node.items("rounds")]
    bars = draft.subject.bars
    if not draft.has_bars(node) or not rounds or not pressure[0]:
        return
    for bar in bars:
        if bar.id in draft.items:
            node.child("item_kind").fault("bars with ids no other item has", bar.id)
        draft.items[bar.id] = {"label": bar.title, "kind": kind, "numbers": {}}
    made = LineList(
        [
            _line(bar, number, each.title)
            for number, each in enumerate(rounds, 1)
            for bar in bars
        ]
    )
    forces = [(bar, each) for each in rounds for bar in bars]
    _add_forces(made, forces)
    _add_pressures(node, made, forces, draft.shape(*pressure).quantity, draft)
    draft.lines[name] = made
    draft.lines[singly] = LineList([_single(bar, need=0) for bar in bars])
    if "places" in node:
        placed = [_single(bar, need=1) for bar in bars]
        draft.lines[node.text("places")] = LineList(placed)


def _round(node: Node, draft: Draft) -> Round:
    each = Round(
        title=node.text("title"),
        share=_share(node, "percent"),
        low=_share(node, "low_percent"),
        high=_share(node, "high_percent"),
    )
    if not each.low <= 1 <= each.high:
        node.child("low_percent").fault("a band around 100 % of the round's target")
    for bar in draft.subject.bars:
        force = bar.force_kn * each.share * each.high
        if force > bar.cap_kn:
            node.child("high_percent").fault(
                f"no bar above its cap: {bar.id} has {bar.cap_kn:g} kN",
                f"{force:.1f} kN",
            )
    node.finish()
    return each


def _share(node: Node, key: str) -> float:
    return float(node.decimal(key, Decimal(1), Decimal(200))) / 100


def _line(bar: BarPlace, number: int, title: str) -> dict[str, Any]:
    return {
        "id": f"{bar.id}-r{number}",
        "label": f"{title}, {bar.title}",
        "item": bar.id,
        "round": number,
        "need": 1,
        "numbers": {},
    }


def _single(bar: BarPlace, need: int) -> dict[str, Any]:
    """A line for what happens to a bar outside the rounds."""
    line = {"id": bar.id, "label": bar.title, "item": bar.id, "need": need}
    return {**line, "numbers": {}}


def _add_forces(made: LineList, forces: list[tuple[BarPlace, Round]]) -> None:
    """Bands are rounded inwards: what passes here passes the written band."""
    targets = [bar.force_kn * each.share * PER_KN for bar, each in forces]
    made.number("target", FORCE, [round(target) for target in targets])
    pairs = list(zip(targets, forces, strict=True))
    made.number(
        "low", FORCE, [math.ceil(t * each.low - ROUNDING) for t, (_, each) in pairs]
    )
    made.number(
        "high",
        FORCE,
        [math.floor(t * each.high + ROUNDING) for t, (_, each) in pairs],
    )
    made.number("cap", FORCE, [math.floor(bar.cap_kn * PER_KN) for bar, _ in forces])


def _add_pressures(
    node: Node,
    made: LineList,
    forces: list[tuple[BarPlace, Round]],
    quantity: Quantity,
    draft: Draft,
) -> None:
    per_bar = 10**quantity.places
    for jack in draft.site.jacks:
        try:
            marks = [
                round(_mark(jack.calibration, jack.graduation_bar, bar, each) * per_bar)
                for bar, each in forces
            ]
        except CalcRefusal as refusal:
            node.child("rounds").fault(
                f"forces inside the certificate of {jack.id}: {refusal.allowed} kN",
                f"{refusal.value:g} kN",
            )
        else:
            made.number(f"aim.{jack.id}", quantity, marks)


def _mark(
    calibration: Calibration, graduation: float, bar: BarPlace, each: Round
) -> float:
    pressure = pressure_from_force_bar(calibration, bar.force_kn * each.share)
    return set_pressure_bar(calibration, pressure, graduation)
