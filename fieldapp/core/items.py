"""Whether the items a reading names were fit for use when it was made.

Before a gate an unfit item fails the step; in the race it is recorded all the same
and becomes a nonconformance. An item whose certificate was corrected after a reading
had relied on it raises one at every subject it touched, never one a line, and only in
the present: what was released in ignorance stays released.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step
from fieldapp.core.view import Line

CORRECTED = "item_corrected"
"""The code of an item whose certificate was corrected after a reading relied on it."""


class Relied(NamedTuple):
    """The first reading that relied on a certificate corrected since.

    `older`: the registration it named; `steps`: all that relied on it, in flow order.
    """

    item: str
    older: str
    step: str
    field: str
    line: Line
    steps: tuple[str, ...]


def item_failures(scene: Scene, step: Step, line: Line) -> tuple[str, ...]:
    """Give what is wrong with the items of a line, as `code:field`, in field order."""
    if not step.items or line.discarded or line.disputed:
        return ()
    found = []
    for field, kind in step.items:
        name = line.values.get(field)
        if isinstance(name, str):
            code = _fault(scene, line, kind, name)
            if code is not None:
                found.append(f"{code}:{field}")
    return tuple(found)


def ran_out(scene: Scene, step: Step) -> bool:
    """Say whether an item of a step was fit when read and has run out since.

    A lot chosen on its last day is not to be mixed after midnight.
    """
    for line in scene.lines(step.id).values() if step.items else ():
        if line.discarded or line.disputed:
            continue
        for field, _ in step.items:
            name = line.values.get(field)
            item = find_item(scene, name) if isinstance(name, str) else None
            if item is not None and item.get("expires", scene.at.at) < scene.at.at:
                return True
    return False


def find_item(scene: Scene, name: str) -> dict[str, Any] | None:
    """Give an item as the register knows it, else as the sheet froze it."""
    register = scene.view.standing.get("items", {})
    found: dict[str, Any] | None = register.get(name)
    return found or scene.view.sheet.raw.get("items", {}).get(name)


def relied_on_corrected(scene: Scene) -> list[Relied]:
    """Give, for each certificate corrected since, the first reading that relied on it.

    Sorted by item and entry; none in an entry's own past, which knew nothing of it.
    """
    first: dict[tuple[str, str], Relied] = {}
    if scene.view.mask == scene.view.history.graph.everything:
        for each in _relied(scene):
            known = first.setdefault((each.item, each.older), each)
            steps = tuple(dict.fromkeys((*known.steps, each.step)))
            soonest = each if each.line.root < known.line.root else known
            first[each.item, each.older] = soonest._replace(steps=steps)
    return [first[key] for key in sorted(first)]


def _relied(scene: Scene) -> Iterator[Relied]:
    items = scene.view.standing.get("items", {})
    corrected = {name: item["older"] for name, item in items.items() if "older" in item}
    if not any(corrected.values()):
        return
    for step in scene.view.sheet.steps.values():
        for line in scene.lines(step.id).values() if step.items else ():
            if line.discarded or line.disputed:
                continue
            needs = scene.view.history.entry(line.root).needs
            for field, _ in step.items:
                name = line.values.get(field)
                if isinstance(name, str):
                    for older in corrected.get(name, ()):
                        if older in needs:
                            yield Relied(name, older, step.id, field, line, (step.id,))


def _fault(scene: Scene, line: Line, kind: str, name: str) -> str | None:
    item = find_item(scene, name)
    if item is None:
        return "item_unknown"
    if item["kind"] != kind:
        return "item_wrong"
    expires = item.get("expires")
    if expires is not None and expires < scene.view.moment(line).at:
        return "item_expired"
    limit = item.get("numbers", {}).get("uses_max")
    if limit is not None and item.get("uses", 0) >= limit:
        return "item_overused"
    return None
