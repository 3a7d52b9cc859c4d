"""Which nonconformances belong to what a point rests on, decided ones included: whoever
reads a gate years later must find there what was accepted before it was opened.

The phone says the same beside the evidence (`static/phone/concerning.js`).
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.lookups import Folded
from fieldapp.records.certificates import CORRECTED

Part = Mapping[str, Any]


def concerns(found: Folded, fault: Part, point: str, raised: Entry | None) -> bool:
    """Say whether a nonconformance shuts a point, or is of the work it covers."""
    raw, state = found.sheet.raw, found.state
    covers = raw["points"][point].get("covers", ())
    step = fault.get("step", "")
    if fault.get("verdict") == "rework" and state["attempts"] == 1:
        return False
    if point in fault["blocks"] or step in covers or fault.get("verdict") == "rework":
        return True
    if fault["code"] == CORRECTED and raised is not None:
        item = raised.values.get(fault["check"])
        return any(_names(state["steps"][each], item) for each in covers)
    if fault["code"] == "by_hand" and not step:
        return bool(raw["points"][point]["class"] == "hold")
    named = next((r["blocks"] for r in _rules(raw, fault) if r.get("blocks")), ())
    return point in named if named else _next_gate(raw, step) == point


def _names(step: Part, item: object) -> bool:
    return any(item in line["values"].values() for line in step["lines"].values())


def _rules(raw: Part, fault: Part) -> Iterable[Part]:
    step, check = fault.get("step", ""), fault.get("check", "")
    rules = [
        *raw["steps"].get(step, {}).get("checks", ()),
        *(r for c in raw.get("clocks", ()) if c["start"] == step for r in c["ratios"]),
    ]
    return (each for each in rules if each["id"] == check)


def _next_gate(raw: Part, step: str) -> str:
    flow = raw["flow"]
    behind = flow[flow.index(step) + 1 :] if step in flow else ()
    points = raw["points"]
    gates = (n for n in behind if points.get(n, {}).get("class") == "hold")
    return next(gates, "")
