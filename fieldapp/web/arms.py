"""What may be lifted next on each arm, and why not otherwise.

An arm is the order of the site's picture; what a subject must pass first is the first
hold point of its sheet. Every reason is the fold's own refusal in words.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.lookups import Folded
from fieldapp.web.aged import aged
from fieldapp.web.desk import Desk
from fieldapp.web.display import lasting, soon
from fieldapp.web.held_up import waits_first
from fieldapp.web.stages import (
    CARRIES,
    PASSED,
    WHOLE,
    all_awaited,
    first_gate,
    live_mark,
    reached,
    stage,
    still_wanted,
    title_of,
)
from fieldapp.web.wording import Wording

Row = dict[str, Any]
ELSEWHERE = "other_subject"
UNRECORDED = ("step_open", "step_closed")
_MAY = {
    "ready": ("green", "✓", "may be called"),
    "called": ("blue", "☎", "called"),
    "refused": ("red", "✕", "refused"),
    "lapsed": ("yellow", "↺", "its release lapsed"),
    "expired": ("yellow", "◷", "its release has expired"),
}


def next_on_arms(here: Desk, picture: Mapping[str, Any]) -> list[Row]:
    """Give, for every arm, what comes next at its tip and what still works behind."""
    by_id = {found.sheet.subject: found for found in here.folded}
    awaited = all_awaited(here.folded)
    return [
        {"title": f"{pier['title']} {arm['id']}", **_arm(here, arm, by_id, awaited)}
        for pier in picture.get("piers", ())
        for arm in pier["arms"]
        if any(each.get("joint") in by_id for each in arm["segments"])
    ]


def _arm(
    here: Desk,
    arm: Mapping[str, Any],
    by_id: Mapping[str, Folded],
    awaited: Mapping[str, tuple[str, ...]],
) -> Row:
    joints = [by_id[s["joint"]] for s in arm["segments"] if s.get("joint") in by_id]
    levels = [stage(each, _first(awaited, each)) for each in joints]
    tip = next((each for each in joints if not _went_through(each)), None)
    behind = [
        _at_work(here, found, level)
        for found, level in zip(joints, levels, strict=True)
        if _went_through(found) and _owes(found, level, awaited)
    ]
    return {
        "carries": _carries(joints[0], awaited),
        "carrying": sum(level["level"] >= CARRIES for level in levels),
        "count": len(joints),
        "behind": behind,
        "tip": _tip(here, tip) if tip else None,
    }


def _first(awaited: Mapping[str, tuple[str, ...]], found: Folded) -> str | None:
    return next(iter(awaited.get(found.sheet.raw["kind"], ())), None)


def _carries(found: Folded, awaited: Mapping[str, tuple[str, ...]]) -> str:
    """Say in the plan's words what is counted of an arm."""
    milestone = _first(awaited, found)
    return title_of(found.sheet.raw, milestone) if milestone else "finished"


def _owes(found: Folded, level: Row, awaited: Mapping[str, tuple[str, ...]]) -> bool:
    """Say whether others still wait for something of a joint that is past its gate."""
    named = awaited.get(found.sheet.raw["kind"], ())
    waits = not all(reached(found.state, each) for each in named)
    return level["level"] < WHOLE and (waits or level["level"] < CARRIES)


def _went_through(found: Folded) -> bool:
    """Say whether a subject is past its first gate: one that is released and has let
    nothing through yet is what goes up next.
    """
    gate = first_gate(found.sheet.raw)
    if gate is None:
        return True
    behind = _behind(found, gate)
    open_now = found.state["points"][gate]["status"] in PASSED
    return open_now and (not behind or any(step["lines"] for step in behind))


def _behind(found: Folded, gate: str) -> list[Row]:
    """Give the steps that a gate stands before, as they are now."""
    shut = found.sheet.raw["points"][gate].get("shuts", ())
    return [found.state["steps"][step] for step in shut]


def _at_work(here: Desk, found: Folded, level: Row) -> Row:
    return _named(found) | {"mark": live_mark(found, level, here.now)}


def _tip(here: Desk, found: Folded) -> Row:
    gate = first_gate(found.sheet.raw)
    assert gate is not None, "a subject past no gate has one"
    point = found.state["points"][gate]
    refusals, mark = _standing(here, found, gate)
    old = list(_old(here, found, gate)) if point["status"] in PASSED else []
    if old and mark["tone"] == "green":
        mark = {"tone": "yellow", "icon": "◷", "word": "released, to be read again"}
    first = waits_first(here, found, gate)
    if first:
        mark = {"tone": "yellow", "icon": "◷", "word": "called, waits first"}
    return _named(found) | {
        "gate": title_of(found.sheet.raw, gate),
        "point": gate,
        "mark": mark,
        "first": first,
        "why": [
            *([f"waits first for {first}"] if first else ()),
            *_why(here.words(found), refusals),
            *old,
        ],
        "wanted": ""
        if point["status"] in PASSED
        else here.names.signers(still_wanted(found, gate)),
    }


def _standing(here: Desk, found: Folded, gate: str) -> tuple[list[Row], Row]:
    """Give why a gate may not be passed, and its mark.

    What is released asks for nothing more; what shuts it all the same its steps say.
    """
    point = found.state["points"][gate]
    if point["status"] not in PASSED:
        tone, icon, word = _MAY.get(point["status"], ("grey", "○", "not yet"))
        return point["refusals"], {"tone": tone, "icon": icon, "word": word}
    shut = [r for step in _behind(found, gate) for r in step["refusals"]]
    if "stopped" in found.state:
        return shut, {"tone": "red", "icon": "■", "word": "stopped"}
    if shut:
        return shut, {"tone": "red", "icon": "✕", "word": "released, shut since"}
    until = point.get("until")
    till = f", until {soon(until, here.names.zone, here.now)}" if until else ""
    return [], {"tone": "green", "icon": "✓", "word": f"may be lifted{till}"}


def _old(here: Desk, found: Folded, gate: str) -> Iterator[str]:
    """Yield what a release rested on and is older by now than the plan allows."""
    for each in aged(found, gate, here.now):
        title = title_of(found.sheet.raw, each.step)
        when = soon(each.read, here.names.zone, here.now)
        yield f"{title}: read {when}, older by now than {lasting(each.most)}"


def _why(words: Wording, refusals: list[Row]) -> Iterator[str]:
    """Yield what another subject owes first, then the rest; open steps in one line."""
    elsewhere = [each for each in refusals if each["code"] == ELSEWHERE]
    to_record = [each for each in refusals if each["code"] in UNRECORDED]
    own = [each for each in refusals if each not in elsewhere + to_record]
    yield from words.say_all(elsewhere)
    if to_record:
        steps = dict.fromkeys(each["facts"]["step"] for each in to_record)
        yield "To record: " + ", ".join(words.names["step"][step] for step in steps)
    yield from words.say_all(own)


def _named(found: Folded) -> Row:
    return {"id": found.sheet.subject, "title": found.sheet.raw["title"]}
