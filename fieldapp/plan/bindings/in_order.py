"""Whether the lines of a step were recorded in the order of the sheet.

Only times already there are compared; a line not yet recorded breaks no order.
"""

from itertools import pairwise
from typing import Any

from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Condition
from fieldapp.plan.toml_node import Node


def add(node: Node, draft: Draft) -> None:
    """Add the condition named by `condition`: each line not before the one above."""
    name, step = node.text("condition"), draft.step(node.child("step"))
    made = draft.made(node.child("lines"), draft.lines, "lines")
    if not step or made is None:
        return
    if draft.steps[step].lines_from != node.child("lines").value:
        node.child("step").fault("a step with these lines")
        return
    ids = [line["id"] for line in made.lines]
    if len(ids) < 2:
        node.child("lines").fault("two lines or more")
        return
    parts = [_not_before(step, first, then) for first, then in pairwise(ids)]
    draft.conditions[name] = Condition({"word": "all", "of": parts})


def _not_before(step: str, first: str, then: str) -> dict[str, Any]:
    elapsed = {
        "word": "elapsed",
        "from": {"step": step, "line": first},
        "to": {"step": step, "line": then},
        "as": "not_before",
    }
    return {"word": "between", "value": elapsed, "low": 0}
