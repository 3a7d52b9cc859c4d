"""Finds an answer the plan calls not good that nothing in it would ever hold against.

Such an answer would end as a tick: the step done, its gate ready to call. Whoever
wrote "not good" believes that it shuts something, so it is a fault of the plan.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.plan.draft import Draft

INNER: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("reading", "constant", "field", "reached"), ()),
    **dict.fromkeys(("elapsed", "life"), ()),
    "form": ("constant", "terms"),
    "table": ("x", "y"),
    "choose": ("by", "cases", "otherwise"),
    "reduce": ("value", "values"),
    "slope": ("x", "y"),
    "between": ("value", "low", "high"),
    "in": ("value",),
    "all": ("of",),
    "any": ("of",),
}
"""Where a word holds other words or names of them."""


def check_answers(sheet: dict[str, Any], draft: Draft) -> None:
    """Report a choice with an answer that is not good which nothing asks for.

    It is asked for by a check or a condition of its sheet: of a step, a point or a
    milestone. What is only shown holds nothing back.
    """
    asking = list(_asking(sheet))
    if not all(asking):
        # One that is faulty itself may be the one that asks.
        return
    read = {
        (word["step"], word["field"])
        for word in words_asked(asking, sheet)
        if word["word"] == "reading"
    }
    for name, step in sheet["steps"].items():
        place = draft.kind.child("steps").child(name)
        for number, field in enumerate(step["fields"]):
            if _bad(field) and (name, field["id"]) not in read:
                place.items("fields")[number].child("options").fault(
                    "answers that are not good only where a check or a condition of"
                    f" the plan reads {name}.{field['id']}",
                    ", ".join(_bad(field)) + ": not good, and nothing asks for it",
                )


def words_asked(body: Any, sheet: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Give the words of an expression, names of values and conditions followed."""
    seen: set[str] = set()
    waiting = [body]
    while waiting:
        here = waiting.pop()
        if isinstance(here, list):
            waiting += here
        elif isinstance(here, str):
            if here not in seen:
                seen.add(here)
                waiting += [sheet[key].get(here) for key in ("values", "conditions")]
        elif isinstance(here, dict):
            yield here
            waiting += [here[key] for key in INNER[here["word"]] if key in here]


def _asking(sheet: dict[str, Any]) -> Iterator[Any]:
    """Give every expression that holds something back; 0: it could not be read."""
    for step in sheet["steps"].values():
        yield from (check["must"] for check in step["checks"])
        yield from (step[key] for key in ("when", "least") if key in step)
    for point in sheet["points"].values():
        yield from (each["must"] for each in point["requires"])
    yield from (each["when"] for each in sheet["milestones"])


def _bad(field: dict[str, Any]) -> list[str]:
    """Give the answers of a choice that are not good."""
    options = field.get("options", ())
    return [each["label"] for each in options if not each.get("good", 1)]
