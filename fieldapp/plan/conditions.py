"""Reads the plan's conditions into the kernel's: between, in, reached, all, any.

Bounds are inclusive and counted like the value they bound. The fifteen words of the
two readers together are all there is.
"""

from collections.abc import Callable
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.expressions import read_value, same_quantity
from fieldapp.plan.quantities import CHOICE, NO_LINES, Condition
from fieldapp.plan.toml_node import Node

Reader = Callable[[Node, Draft], Condition | None]


def read_condition(node: Node, draft: Draft) -> Condition | None:
    """Read a condition; None after a fault."""
    if node.too_deep:
        return None
    if isinstance(node.value, str):
        return _named(node, draft)
    if not isinstance(node.value, dict):
        node.fault("a condition's name, or a table with a word: " + ", ".join(READERS))
        return None
    words = [key for key in node.value if key in READERS]
    if len(words) != 1:
        node.fault("one word of " + ", ".join(READERS), ", ".join(node.value))
        return None
    found = READERS[words[0]](node, draft)
    node.finish()
    return found


def declare_condition(name: str, node: Node, draft: Draft) -> None:
    """Read a condition the plan declares, once; one that refers to itself is none."""
    draft.declare(name, draft.conditions, lambda: read_condition(node, draft))


def _named(node: Node, draft: Draft) -> Condition | None:
    name = str(node.value)
    declared = draft.kind.child("conditions")
    if name in declared:
        declare_condition(name, declared.child(name), draft)
    known = draft.made(node, draft.conditions, "a condition")
    return Condition(name, known.lines) if known else None


def _between(node: Node, draft: Draft) -> Condition | None:
    value = read_value(node.child("between"), draft)
    word: dict[str, Any] = {"word": "between"}
    given = [key for key in ("low", "high") if node.child(key).given]
    if not given:
        node.fault("a low or a high bound", "neither")
    if value is None:
        return None
    word["value"] = value.word
    lines = value.lines
    for key in given:
        place = node.child(key)
        bound = read_value(place, draft, value.quantity)
        if bound is None or same_quantity(place, bound, value.quantity) is None:
            return None
        word[key] = bound.word
        lines |= bound.lines
    low, high = word.get("low"), word.get("high")
    if isinstance(low, int) and isinstance(high, int) and low > high:
        node.child("low").fault("no more than high")
    return Condition(word, lines)


def _in(node: Node, draft: Draft) -> Condition | None:
    value = read_value(node.child("in"), draft)
    known = _options_of(value.word, draft) if value else ()
    wanted: list[int] = []
    for place in node.items("set"):
        one = read_value(place, draft, value.quantity if value else CHOICE)
        if one is None:
            continue
        if not isinstance(one.word, int) or (known and one.word not in known):
            place.fault("one of " + ", ".join(map(str, known)) if known else "a number")
            continue
        wanted.append(one.word)
    if value is None or not wanted:
        return None
    return Condition({"word": "in", "value": value.word, "set": wanted}, value.lines)


def _options_of(word: Any, draft: Draft) -> tuple[int, ...]:
    """Give the options of the choice a value reads; none where it reads no choice."""
    if isinstance(word, dict) and word["word"] == "reading":
        return draft.shape(word["step"], word["field"]).options
    return ()


def _reached(node: Node, draft: Draft) -> Condition | None:
    if "subject" in node:
        return _reached_elsewhere(node, draft)
    stage = draft.stage(node.child("reached"))
    if not stage:
        return None
    return Condition({"word": "reached", draft.kind_of(stage): stage})


def _reached_elsewhere(node: Node, draft: Draft) -> Condition | None:
    """What another subject must have reached: one of its kind's stages."""
    name, place = node.identity("subject"), node.child("reached")
    if not name or not draft.stage_of(name, node.child("subject"), place):
        return None
    word = {"word": "reached", "milestone": place.value, "subject": name}
    return Condition(word)


def _all(node: Node, draft: Draft) -> Condition | None:
    return _several(node, draft, "all")


def _any(node: Node, draft: Draft) -> Condition | None:
    return _several(node, draft, "any")


def _several(node: Node, draft: Draft, word: str) -> Condition | None:
    places = node.items(word)
    if not places:
        node.child(word).fault("one condition or more")
    found = [read_condition(place, draft) for place in places]
    parts = [part for part in found if part is not None]
    if not parts or len(parts) < len(found):
        return None
    lines = NO_LINES.union(*(part.lines for part in parts))
    return Condition({"word": word, "of": [part.word for part in parts]}, lines)


READERS: dict[str, Reader] = {
    "between": _between,
    "in": _in,
    "reached": _reached,
    "all": _all,
    "any": _any,
}
