"""The calculations a plan can ask for, each bound to the fields it is told.

One module per calculation, none per kind of subject: ids come from the plan. A
binding turns engineering into tables, forms, lines and pictures, and never rounds to
the unsafe side.
"""

from collections.abc import Callable, Iterator
from typing import Any

from fieldapp.plan.bindings import (
    balance,
    band,
    bar_rounds,
    dew_margin,
    extension,
    grout_volume,
    in_order,
    jack,
    joint_angle,
    joint_stress,
    life,
    listed,
    lock_off,
    stages,
    thickness,
    water_limit,
    wind,
    window,
)
from fieldapp.plan.draft import Draft
from fieldapp.plan.toml_node import Node

BINDINGS: dict[str, Callable[[Node, Draft], None]] = {
    "dew_margin": dew_margin.add,
    "window": window.add,
    "life": life.add,
    "thickness": thickness.add,
    "jack": jack.add,
    "bar_rounds": bar_rounds.add,
    "extension": extension.add,
    "lock_off": lock_off.add,
    "joint_stress": joint_stress.add,
    "joint_angle": joint_angle.add,
    "listed": listed.add,
    "in_order": in_order.add,
    "band": band.add,
    "stages": stages.add,
    "balance": balance.add,
    "wind": wind.add,
    "grout_volume": grout_volume.add,
    "water_limit": water_limit.add,
}


def add_calculation(node: Node, draft: Draft) -> None:
    """Add what one calculation of the plan gives to the sheet.

    What a faulty one would have given is remembered, so that its absence is not told
    at every place that uses it.
    """
    faults = node.source.faults
    before = faults.told
    use = node.one_of("use", tuple(BINDINGS))
    if use:
        BINDINGS[use](node, draft)
        node.finish()
    if faults.told > before:
        draft.spoiled.update(_texts(node.value))


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from _texts(inner)
