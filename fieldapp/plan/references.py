"""Checks, once a sheet stands, the names that only a whole sheet can answer for.

Lines and items named in expressions, and cards no point uses. The sheet is searched
as it will be read, so that nothing a calculation made escapes.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.plan.draft import Draft


def check_references(sheet: dict[str, Any], draft: Draft) -> None:
    """Report words that name a line, an item or a round their step does not have."""
    lines = {
        name: step.get("lines", [])
        for name, step in sheet["steps"].items()
        if not draft.steps[name].lines_from or step.get("lines")
    }
    for word in words_of(sheet):
        step = word.get("step")
        if not isinstance(step, str) or step not in lines:
            continue
        ids = [line["id"] for line in lines[step]]
        items = {line["item"] for line in lines[step] if "item" in line}
        if "line" in word and word["line"] not in ids:
            _fault(draft, step, f"line {word['line']}", ids)
        if "item" in word and word["item"] not in items:
            _fault(draft, step, f"item {word['item']}", sorted(items))
        rounds = sorted({line["round"] for line in lines[step] if "round" in line})
        if "round" in word and word["round"] not in rounds:
            known = [f"round {each}" for each in rounds]
            _fault(draft, step, f"round {word['round']}", known)


def words_of(part: Any) -> Iterator[dict[str, Any]]:
    """Give every word of an expression anywhere in a sheet."""
    waiting = [part]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            if "word" in here:
                yield here
            waiting.extend(here.values())
        elif isinstance(here, list):
            waiting.extend(here)


def _fault(draft: Draft, step: str, found: str, known: list[str]) -> None:
    place = draft.kind.child("steps").child(step)
    place.fault(
        "in expressions a line or item of this step: " + ", ".join(known), found
    )
