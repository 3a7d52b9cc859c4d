"""How a point stands, for paper and the desk alike.

The fold calls a point released once the work behind it is done. Told apart here are a
release that lapsed after its use, and a point that was passed without one.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from fieldapp.core.entries import Entry

GIVING = ("release", "spoken")
OPENED = ("released", "used")
"""How a gate stands that was opened as it should be."""
SHUT_SINCE = "shut"
"""How one stands that is released and was shut before anything went through it."""
NOT_OPENED = ("waiting", "ready", "called")
"""How one stands that nobody has opened yet."""
SHUT_AGAIN = ("refused", "lapsed", "expired")
"""How one stands that somebody refused, or whose release is over."""
Part = Mapping[str, Any]
AttemptOf = Callable[[str], str | None]


def point_status(
    raw: Part, state: Part, entries: Iterable[Entry], name: str, attempt_of: AttemptOf
) -> str:
    """Give a point's status; one that was used says whether a release was ever good.

    One that was passed before anybody opened it is no gate still to come. attempt_of:
    the attempt whose entries count for a point, asked only where it matters.
    """
    now = state["points"][name]
    if went_through(raw, state, name):
        return "unreleased"
    if shut_since(raw, state, name):
        return SHUT_SINCE
    if now["status"] != "released" or now.get("release"):
        return str(now["status"])
    void = {f["entry"] for f in state["flags"] if f["code"] == "release_void"}
    given = [
        entry
        for entry in entries
        if entry.point == name and entry.kind in GIVING and entry.id not in void
    ]
    mine = attempt_of(name) if given else None
    return "used" if any(each.attempt == mine for each in given) else "unreleased"


def went_through(raw: Part, state: Part, name: str) -> bool:
    """Say whether a gate that stands shut was passed all the same.

    Where nobody has answered yet, by whatever is recorded behind it; where it was
    refused, has lapsed or run out, by what it forbade: what came before that was free.
    """
    behind = _behind(raw, state, name)
    status = state["points"][name]["status"]
    if status in NOT_OPENED:
        return any(step["lines"] for step in behind)
    entries = {
        entry
        for step in behind
        for line in step["lines"].values()
        for entry in line["entries"]
    }
    return status in SHUT_AGAIN and any(
        fault["code"] == "gate_shut" and fault["entry"] in entries
        for fault in state["nonconformances"]
    )


def shut_since(raw: Part, state: Part, name: str) -> set[str]:
    """Give the nonconformances that shut a released gate nothing went through yet.

    What it stands before says so itself: the release stands, and nothing may begin.
    """
    if state["points"][name]["status"] != "released":
        return set()
    shutting = {f["id"] for f in state["nonconformances"] if name in f["blocks"]}
    return shutting & {
        refusal["facts"]["id"]
        for step in _behind(raw, state, name)
        for refusal in step.get("refusals", ())
        if refusal["code"] == "nonconformance"
    }


def shut_by(raw: Part, state: Part, fault: Part) -> tuple[list[str], list[str]]:
    """Give the points that a nonconformance shuts, and those it came too late for.

    Too late for a point that stands released and let something through, or behind
    which all is done already.
    """
    shut: list[str] = []
    passed: list[str] = []
    for name in fault["blocks"]:
        behind = _behind(raw, state, name)
        status = state["points"][name]["status"]
        states = {step["status"] for step in behind}
        # What nothing has called for yet is not behind anybody: no adhesive is chosen.
        done = "done" in states and states <= {"done", "off"}
        free = status in ("released", "waived")
        over = (free and fault["id"] not in shut_since(raw, state, name)) or done
        (passed if over else shut).append(name)
    return shut, passed


def _behind(raw: Part, state: Part, name: str) -> list[Part]:
    return [state["steps"][step] for step in raw["points"][name].get("shuts", ())]
