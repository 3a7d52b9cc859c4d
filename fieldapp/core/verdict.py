"""The nonconformances of every attempt laid out, and what they add up to.

A record says facts: complete, complete under concession, rejected or incomplete.
"""

from typing import Any

from fieldapp.core import gates
from fieldapp.core.conditions import conditions
from fieldapp.core.fault import Fault
from fieldapp.core.faults import nonconformances
from fieldapp.core.scene import Scene

State = dict[str, Any]
UNDECIDED = ("open", "proposed")


def all_faults(scene: Scene) -> list[State]:
    """Give the nonconformances of every attempt, earlier ones as rework left them."""
    found = {fault.id: _fault(scene, fault, None) for fault in nonconformances(scene)}
    chain = scene.view.attempts()
    for count in range(1, len(chain)):
        reopened = chain[count][0]
        for fault in nonconformances(scene.case.earlier(scene, count)):
            if fault.id not in found:
                found[fault.id] = _fault(scene, fault, reopened)
    return [found[key] for key in sorted(found)]


def _fault(scene: Scene, fault: Fault, reopened: str | None) -> State:
    history, decided = scene.view.history, fault.disposal
    state: State = {
        "id": fault.id,
        "code": fault.code,
        "derived": 1 if fault.derived else 0,
        "blocks": [] if reopened else list(fault.shuts),
        "status": decided.status,
    }
    if reopened and decided.place is None:
        state |= {"status": "disposed", "verdict": "rework", "disposition": reopened}
    if decided.place is not None:
        state["verdict"] = decided.verdict
        state["disposition"] = history.entry(decided.place).id
    if fault.step is not None:
        state["step"] = fault.step
    if fault.line:
        state["line"] = fault.line
    if fault.check is not None:
        state["check"] = fault.check
    if fault.item is not None:
        state |= {"item": fault.item, "lines": ",".join(fault.lines)}
    # Sheets from before this was amended told what had not come as come too late.
    amended = scene.view.sheet.amended >= 2
    if fault.running and amended and not reopened:
        state["running"] = 1
    if fault.place is not None:
        state["entry"] = history.entry(fault.place).id
    return state


def verdict(scene: Scene, faults: list[State]) -> str:
    """Say complete, concession (complete under one), rejected or incomplete."""
    verdicts = {fault.get("verdict") for fault in faults}
    if any(f.get("verdict") == "reject" and f["blocks"] for f in faults):
        return "rejected"
    sheet = scene.view.sheet
    behind = all(scene.case.reached(scene, "step", name) for name in sheet.steps)
    passed = all(
        gates.passed(scene, point)
        for point in sheet.points.values()
        if point.raw["class"] != "surveillance"
    )
    unclosed = any(
        each.closed_by is None
        for point in sheet.points.values()
        for each in conditions(scene, point)
    )
    # One that shuts no gate, because none is left, is still to be decided; sheets from
    # before this was amended are read as they were.
    counted = UNDECIDED if sheet.amended else ()
    undecided = any(f["blocks"] or f["status"] in counted for f in faults)
    if not behind or not passed or unclosed or undecided:
        return "incomplete"
    return "concession" if verdicts & {"use_as_is", "repair"} else "complete"
