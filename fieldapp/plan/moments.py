"""Reads the moments of the plan, and the two value words that measure time.

A moment is "now" or the time of a step, a point or a milestone. What a moment means
when clocks disagree is the kernel's business, not the plan's.
"""

from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import MILLISECONDS, SHARE, Value
from fieldapp.plan.toml_node import Node


def read_ref(node: Node, draft: Draft) -> Any:
    """Read "now", an id, or { at = id, line = …, pick = … }; None if faulty."""
    if node.value == "now":
        return "now"
    if not isinstance(node.value, dict):
        stage = draft.stage(node)
        return {draft.kind_of(stage): stage} if stage else None
    stage = draft.stage(node.child("at"))
    ref = {draft.kind_of(stage): stage} if stage else {}
    if node.child("line").given:
        ref["line"] = node.identity("line")
    if node.child("pick").given:
        ref["pick"] = node.one_of("pick", ("first", "last"))
    node.finish()
    return ref if stage else None


def read_elapsed(node: Node, draft: Draft) -> Value | None:
    """Read { elapsed = { from = …, to = … }, as = "use_by" or "not_before" }."""
    span = node.child("elapsed")
    start, end = (read_ref(span.child(key), draft) for key in ("from", "to"))
    span.finish()
    how = node.one_of("as", ("use_by", "not_before"))
    if start is None or end is None:
        return None
    word = {"word": "elapsed", "from": start, "to": end, "as": how}
    return Value(word, MILLISECONDS)


def read_life(node: Node, draft: Draft) -> Value | None:
    """Read { life = clock, to = moment }: the share of a clock's life used by then."""
    clock, end = draft.clock(node.child("life")), read_ref(node.child("to"), draft)
    if not clock or end is None:
        return None
    return Value({"word": "life", "clock": clock, "to": end}, SHARE)
