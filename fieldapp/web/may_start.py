"""What a subject may start or go on with: its next step or gate that nothing shuts.

Only gathered here: every state and refusal is the fold's own.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.web.stages import FINISHED

Row = dict[str, Any]


def others(found: Folded) -> list[dict[str, Any]]:
    """Give what other subjects owe before a gate of this one."""
    return [
        refusal["facts"]
        for point in found.state["points"].values()
        for refusal in point["refusals"]
        if refusal["code"] == "other_subject" and point["status"] != "released"
    ]


def may_start(found: Folded) -> Iterator[Row]:
    """Yield a subject that waits for no other and whose next step lacks nothing.

    A clock that runs shuts nothing; only a STOP does, and a wait before the next gate:
    what is read for it now would be too old. What failed comes before what is open, and
    nothing comes after what is shut.
    """
    state, sheet = found.state, found.sheet.raw
    if state["verdict"] in FINISHED or "stopped" in state or others(found):
        return
    held = _held(sheet, state)
    for place, name in enumerate(sheet["flow"]):
        step, point = state["steps"].get(name), state["points"].get(name)
        if point and sheet["points"][name]["class"] == "surveillance":
            # Seen in passing or not: nothing waits for it.
            continue
        opened = point and point["status"] in ("released", "waived")
        if point and not opened:
            if point["status"] == "ready":
                yield _row(found, begun=bool(found.entries), next=sheet["points"][name])
            return
        if step and is_shut(step):
            return
        if step and step["status"] in _TO_READ and not step["refusals"]:
            if _next_gate(sheet, state, place) in held:
                return
            again = step["status"] in ("failed", "disputed")
            begun = bool(found.entries)
            yield _row(found, begun=begun, next=sheet["steps"][name], again=again)
            return


_TO_READ = ("open", "partial", "failed", "disputed")


def is_shut(step: Row) -> bool:
    """Say whether a step that is next may not be begun; what only time opens is not
    next, and what a gate forbade is decided, not done again.
    """
    codes = {refusal["code"] for refusal in step["refusals"]}
    waits = step["status"] in ("closed", "open", "partial")
    return waits and bool(codes - _BY_TIME)


_BY_TIME = {"hold_running", "hold_untimed", "hold_not_begun"}


def _held(sheet: Row, state: Row) -> set[str]:
    """Give the gates before which a wait still runs."""
    return {
        gate
        for hold in sheet.get("holds", ())
        if state["holds"].get(hold["id"], {}).get("status") == "running"
        for gate in hold["before"]
    }


def _next_gate(sheet: Row, state: Row, place: int) -> str:
    """Give the gate that is next after a place of the flow; "" where none is left."""
    return next(
        (
            name
            for name in sheet["flow"][place:]
            if sheet["points"].get(name, {}).get("class") == "hold"
            and state["points"][name]["status"] not in ("released", "waived")
        ),
        "",
    )


def _row(found: Folded, **more: Any) -> Row:
    return {"id": found.sheet.subject, "title": found.sheet.raw["title"], **more}
