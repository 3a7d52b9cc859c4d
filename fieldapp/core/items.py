"""Whether the items a reading names were fit for use when it was made.

Before a gate an unfit item fails the step; in the race it is recorded all the same
and becomes a nonconformance. An item whose certificate was corrected after a reading
had relied on it raises one at every subject it touched, never one a line, and only in
the present: what was released in ignorance stays released.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

from fieldapp.core.bounds import is_past
from fieldapp.core.line import Line
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step

CORRECTED = "item_corrected"
"""The code of an item whose certificate was corrected after a reading relied on it."""
FOREIGN = "item_foreign"
"""The code of an item that is none of those looked at before."""
TWICE = "item_twice"
"""The code of an item named at two places of a step at once."""


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


class Twice(NamedTuple):
    """An item that lines of a step name at several places, all in force.

    `field`: the first that names it; `lines` in the order of the sheet (of a step that
    has none the fields), and in `places` what states it.
    """

    item: str
    field: str
    lines: tuple[str, ...]
    places: tuple[int, ...]

    @property
    def check(self) -> str:
        """Give what names this very contradiction among the failures of its step."""
        return f"{TWICE}:{self.item}:{','.join(self.lines)}"


def item_failures(scene: Scene, step: Step, line: Line) -> tuple[str, ...]:
    """Give what is wrong with the items of a line, as `code:field`, in field order."""
    if not step.items or line.discarded or line.disputed:
        return ()
    found = []
    for field, kind in step.items:
        name = line.values.get(field)
        if isinstance(name, str):
            code = _fault(scene, line, kind, name)
            if code is None and _is_foreign(scene, step.fields[field], line, name):
                code = FOREIGN
            if code is not None:
                found.append(f"{code}:{field}")
    return tuple(found)


def _is_foreign(scene: Scene, asked: dict[str, Any], line: Line, name: str) -> bool:
    """Say whether an item is none of those that other steps named before, if any did.

    Where nothing was named, that is told of the step that should have. What is looked
    at once it was used makes nothing right; a slip may be corrected.
    """
    seen = looked_at(scene, asked, line.current)
    return bool(seen) and name not in seen


def looked_at(scene: Scene, asked: dict[str, Any], place: int) -> list[str]:
    """Give what the steps that a field asks for named before an entry, each once."""
    seen = (
        str(each)
        for step, field in asked.get("among", ())
        for each in scene.view.named(step, field, place)
    )
    return list(dict.fromkeys(seen))


def ran_out(scene: Scene, step: Step) -> bool:
    """Say whether an item of a step was fit when read and has run out since.

    A lot chosen on its last day is not to be mixed after midnight.
    """
    return True in _past_now(scene, step)


def out_untimed(scene: Scene, step: Step) -> bool:
    """Say whether nobody knows if an item of a step has run out since it was read."""
    return None in _past_now(scene, step)


def _past_now(scene: Scene, step: Step) -> list[bool | None]:
    """Say of each item of a step that was fit when read whether its last day is past.

    What was not fit then is told of that reading, and decided there; what the race used
    may run out afterwards. Sheets from before this was amended asked of all.
    """
    amended = scene.view.sheet.amended >= 2
    found: list[bool | None] = []
    if not step.items or (amended and step.raced):
        return found
    for line in scene.lines(step.id).values():
        if line.discarded or line.disputed:
            continue
        for field, _ in step.items:
            name = line.values.get(field)
            item = find_item(scene, name) if isinstance(name, str) else None
            end = None if item is None else item.get("expires")
            if end is None or (amended and is_past(end, scene.view.moment(line))):
                continue
            found.append(is_past(end, scene.at))
    return found


def named_twice(scene: Scene, step: Step) -> tuple[Twice, ...]:
    """Give the items that a step names at two places at once, by item.

    Those with counted uses, and those of a field the plan marks `once`. A round of the
    same place is no second place; in a series every reading is of another moment.
    Sheets from before this was amended let one bar lie in two places.
    """
    if not step.items or step.series or scene.view.sheet.amended < 2:
        return ()
    named: dict[str, list[tuple[str, str, Line]]] = {}
    for line in scene.lines(step.id).values():
        if line.discarded or line.disputed:
            continue
        for field, _ in step.items:
            name = line.values.get(field)
            if isinstance(name, str):
                named.setdefault(name, []).append((field, line.id, line))
    several = (each for each in sorted(named.items()) if len(each[1]) > 1)
    found = (_twice(scene, step, name, where) for name, where in several)
    return tuple(each for each in found if each is not None)


def _twice(
    scene: Scene, step: Step, name: str, where: list[tuple[str, str, Line]]
) -> Twice | None:
    fields = step.raw["fields"]
    once = {each["id"] for each in fields if each.get("once")}
    if "uses_max" not in (find_item(scene, name) or {}).get("numbers", {}):
        where = [each for each in where if each[0] in once]
    place_of = {each["id"]: each.get("item", "") for each in step.raw.get("lines", ())}
    places = {(place_of.get(line) or line, field) for field, line, _ in where}
    if len(places) < 2:
        return None
    lines = {line: found.current for _, line, found in where}
    # A step without lines has its fields for places: a jack that is its own spare.
    named = tuple(lines) if step.lines else tuple(field for field, _, _ in where)
    return Twice(name, where[0][0], named, tuple(lines.values()))


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
    if "expires" in item:
        past = is_past(item["expires"], scene.view.moment(line))
        if past is not False:
            return "item_expired" if past else "item_untimed"
    limit = item.get("numbers", {}).get("uses_max")
    if limit is not None and item.get("uses", 0) >= limit:
        return "item_overused"
    return None
