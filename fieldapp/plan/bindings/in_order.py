"""Whether the lines of a step were recorded in the order of the sheet.

A line recorded while one above it is not breaks the order at once: nobody has to wait
for the one between to be told. One recorded later all the same stays out of order.
A time that was typed knows only its minute: beside one, out of order is what is so by a
minute, and lines of the same minute are in order, whatever the milliseconds say.
"""

from itertools import pairwise
from typing import Any

from fieldapp.core.clocks import MINUTE_MS
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import Condition
from fieldapp.plan.toml_node import Node

ORDER = "order"
"""The number of a line that says which one it is, from 1 on."""


def add(node: Node, draft: Draft) -> None:
    """Add the condition named by `condition`: each line not before those above."""
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
    for place, line in enumerate(made.lines, 1):
        line["numbers"][ORDER] = place
    parts = [_not_before(step, first, then) for first, then in pairwise(ids)]
    none_left_out = _none_left_out(step)
    draft.conditions[name] = Condition({"word": "all", "of": [none_left_out, *parts]})


def _none_left_out(step: str) -> dict[str, Any]:
    """The last of the lines recorded, by the sheet, is also their number."""
    number = {"word": "constant", "step": step, "name": ORDER}
    last = {"word": "reduce", "how": "max", "step": step, "value": number}
    count = {"word": "reduce", "how": "count", "step": step}
    ahead = {"word": "form", "constant": 0, "terms": [[1, last], [-1, count]]}
    return {"word": "between", "value": {**ahead, "divisor": 1}, "high": 0}


def _not_before(step: str, first: str, then: str) -> dict[str, Any]:
    elapsed = {
        "word": "elapsed",
        "from": {"step": step, "line": first},
        "to": {"step": step, "line": then},
        # The larger of what the clocks say: out of order is only what surely is.
        "as": "use_by",
        "typed_ms": MINUTE_MS - 1,
    }
    return {"word": "between", "value": elapsed, "low": 0}
