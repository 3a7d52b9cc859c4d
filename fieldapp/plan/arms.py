"""The places on the other arms of a pier that a subject's rules ask about."""

from collections.abc import Container
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.steps import MINUTE_MS, words
from fieldapp.plan.toml_node import Node

DAY_MIN = 24 * 60


def on_other_arms(draft: Draft, further: Container[int]) -> list[str]:
    """Give who lies so many places further out on the pier's other arms (0: level)."""
    mine = draft.subject
    return [
        each.id
        for each in draft.site.subjects
        if mine.order is not None
        and each.order is not None
        and (each.kind, each.pier) == (mine.kind, mine.pier)
        and each.arm != mine.arm
        and each.order - mine.order in further
    ]


def read_heard(node: Node, draft: Draft) -> dict[str, Any]:
    """Read how lately the other arm must have been heard; empty if there is none.

    `places`: whoever lies at most so many places further in or out there.
    """
    places = node.whole("places", 0, 99)
    within = node.whole("within_min", 1, DAY_MIN) * MINUTE_MS
    text, source = words(node, "text", draft), words(node, "source", draft)
    node.finish()
    subjects = on_other_arms(draft, range(-places, places + 1))
    asked = {"within_ms": within, "text": text, "source": source}
    return {"subjects": subjects, **asked} if subjects else {}
