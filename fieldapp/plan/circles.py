"""Finds what waits for itself, and what a sheet says that nobody would ever ask.

A step, point or milestone that asks for itself in a circle has no meaning: it could
never be reached, or only by the order in which it is asked. What has no effect is a
fault too: whoever wrote it believes that it has.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.plan.answers import check_answers, words_asked
from fieldapp.plan.draft import Draft
from fieldapp.plan.toml_node import Node

Stage = tuple[str, str]
"""`record` or `reach`, and the id of a step, point or milestone."""


def check_order(sheet: dict[str, Any], draft: Draft) -> None:
    """Report the first circle of a sheet, and what has no effect in it."""
    waits = {stage: sorted(set(_waits(sheet, stage))) for stage in _stages(sheet)}
    clear: set[Stage] = set()
    for stage in waits:
        circle = _circle(stage, waits, clear, ())
        if circle:
            names = " for ".join(name for _, name in circle)
            _place(sheet, draft, circle[0][1]).fault(
                "nothing that waits for itself", names
            )
            break
    for name, step in sheet["steps"].items():
        _check_effects(name, step, sheet, draft)
    check_answers(sheet, draft)


def _stages(sheet: dict[str, Any]) -> Iterator[Stage]:
    for name in sheet["steps"]:
        yield ("record", name)
        yield ("reach", name)
    for name in (*sheet["points"], *(each["id"] for each in sheet["milestones"])):
        yield ("reach", name)


def _waits(sheet: dict[str, Any], stage: Stage) -> Iterator[Stage]:
    what, name = stage
    step, point = sheet["steps"].get(name), sheet["points"].get(name)
    if step is not None and what == "record":
        yield from (("reach", each) for each in _before(sheet, name, step))
        yield from _held(sheet, name)
    elif step is not None:
        yield ("record", name)
        asked = [step.get("when"), step.get("least")]
        # Cautions, too: they are asked while it is worked out how the step stands.
        asked += [check["must"] for check in step["checks"]]
        yield from _asked(asked, sheet)
    elif point is not None:
        yield from (("reach", each) for each in (*point["covers"], *point["after"]))
        yield from _asked([each["must"] for each in point["requires"]], sheet)
        yield from _held(sheet, name)
    for each in sheet["milestones"]:
        if each["id"] == name:
            yield ("record", each["step"])
            yield from _asked(each["when"], sheet)


def _held(sheet: dict[str, Any], name: str) -> Iterator[Stage]:
    for hold in sheet["holds"]:
        if name in hold["before"]:
            yield ("record", hold["after"])


def _before(sheet: dict[str, Any], name: str, step: dict[str, Any]) -> list[str]:
    """Give what must be behind before a step may be recorded as done."""
    gates = [i for i, point in sheet["points"].items() if name in point["shuts"]]
    return gates + (step.get("needs", []) if step["class"] == "gated" else [])


def _asked(body: Any, sheet: dict[str, Any]) -> Iterator[Stage]:
    """Give the stages of this subject an expression asks for, names followed."""
    for word in words_asked(body, sheet):
        if word["word"] in ("reached", "elapsed", "life"):
            for part in (word, word.get("from"), word.get("to")):
                yield from _named(part)


def _named(part: Any) -> Iterator[Stage]:
    if not isinstance(part, dict) or "subject" in part:
        return
    if "milestone" in part:
        yield ("reach", part["milestone"])
    if part.get("word") == "reached":
        yield from (("reach", part[key]) for key in ("step", "point") if key in part)


def _circle(
    stage: Stage,
    waits: dict[Stage, list[Stage]],
    clear: set[Stage],
    path: tuple[Stage, ...],
) -> tuple[Stage, ...]:
    """Give a way that comes back to where it has been, or nothing."""
    if stage in path:
        return (*path[path.index(stage) :], stage)
    if stage in clear:
        return ()
    for other in waits.get(stage, ()):
        found = _circle(other, waits, clear, (*path, stage))
        if found:
            return found
    clear.add(stage)
    return ()


def _place(sheet: dict[str, Any], draft: Draft, name: str) -> Node:
    tables = {"steps": sheet["steps"], "points": sheet["points"]}
    table = next((key for key, parts in tables.items() if name in parts), "milestones")
    return draft.kind.child(table).child(name)


def _spoiled(step: str, draft: Draft) -> bool:
    """Say whether a step has no lines only because their making was faulty."""
    return draft.steps[step].lines_from in draft.spoiled


def _check_effects(
    name: str, step: dict[str, Any], sheet: dict[str, Any], draft: Draft
) -> None:
    place = draft.kind.child("steps").child(name)
    if step.get("series") and "lines" in place:
        place.child("lines").fault("none: of a series every reading is a line")
    if step.get("first") and not any(
        name in point["shuts"] for point in sheet["points"].values()
    ):
        place.child("first").fault("a step that a point shuts")
    aims = any(
        key.startswith("aim")
        for line in step.get("lines", ())
        for key in line["numbers"]
    )
    for number, field in enumerate(step["fields"]):
        if "aim" in field and not aims and not _spoiled(name, draft):
            node = place.items("fields")[number]
            node.child("aim").fault("lines with a target, as bar_rounds makes them")
    for number, check in enumerate(step["checks"]):
        if check["raises"] == "caution" and "blocks" in check:
            node = place.items("checks")[number]
            node.child("blocks").fault("none: a caution shuts nothing")
