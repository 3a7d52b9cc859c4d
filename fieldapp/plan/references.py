"""Checks, once a sheet stands, the names that only a whole sheet can answer for.

Lines and items named in expressions, and cards no point uses. The sheet is searched
as it will be read, so that nothing a calculation made escapes.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.plan.draft import Draft

_DEEP = (dict, list)


def check_references(sheet: dict[str, Any], draft: Draft) -> None:
    """Report words that name a line, an item or a round their step does not have."""
    names = {
        name: _names_of(step.get("lines", []))
        for name, step in sheet["steps"].items()
        if not draft.steps[name].lines_from or step.get("lines")
    }
    for word in words_of(sheet):
        step = word.get("step")
        if not isinstance(step, str) or step not in names:
            continue
        for key, known in names[step].items():
            if key in word and word[key] not in known:
                told = [f"round {each}" for each in known] if key == "round" else known
                _fault(draft, step, f"{key} {word[key]}", told)


def _names_of(lines: list[dict[str, Any]]) -> dict[str, list[Any]]:
    return {
        "line": [line["id"] for line in lines],
        "item": sorted({line["item"] for line in lines if "item" in line}),
        "round": sorted({line["round"] for line in lines if "round" in line}),
    }


def words_of(part: Any) -> Iterator[dict[str, Any]]:
    """Give every word of an expression anywhere in a sheet."""
    waiting = [part]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            if "word" in here:
                yield here
            here = here.values()
        # A sheet is mostly texts and numbers.
        waiting += [each for each in here if isinstance(each, _DEEP)]


def _fault(draft: Draft, step: str, found: str, known: list[str]) -> None:
    place = draft.kind.child("steps").child(step)
    place.fault(
        "in expressions a line or item of this step: " + ", ".join(known), found
    )
