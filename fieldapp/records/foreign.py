"""Which item was used though it was none of those looked at before, and which were.

The rules say only that it was so; pages and paper name both.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.items import FOREIGN, find_item, looked_at
from fieldapp.core.scene import Scene

Foreign = Mapping[str, Mapping[str, str]]
"""By "step/line/field" as it stands and by "entry/field": facts of the words."""


def is_foreign(state: Mapping[str, Any]) -> bool:
    """Say whether anything of a state is about such an item."""
    return next(_where(state), None) is not None


def foreign(scene: Scene, state: Mapping[str, Any]) -> Foreign:
    """Give what the words name, for each reading of a state that is about such one."""
    found: dict[str, dict[str, str]] = {}
    history = scene.view.history
    for step, line, entry, field in _where(state):
        place = history.graph.index[entry]
        asked = scene.view.sheet.steps[step].fields[field]
        now = state["steps"][step]["lines"].get(line, {}).get("values", {})
        item = history.entry(place).values.get(field, now.get(field, field))
        told = {
            "check": _label(scene, str(item)),
            "seen": ", ".join(
                _label(scene, each) for each in looked_at(scene, asked, place)
            ),
        }
        found[f"{entry}/{field}"] = told
        if state["steps"][step]["lines"].get(line, {}).get("entry") == entry:
            found[f"{step}/{line}/{field}"] = told
    return found


def told_of(known: Foreign, told: Mapping[str, Any]) -> Mapping[str, str]:
    """Give the facts of a failure or nonconformance, if it is about such an item."""
    if told["code"] != FOREIGN:
        return {}
    step, line, field = (told.get(each, "") for each in ("step", "line", "check"))
    by_entry = known.get(f"{told.get('entry')}/{field}")
    return by_entry or known.get(f"{step}/{line}/{field}", {})


def _where(state: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    for step, now in state["steps"].items():
        for line, read in now["lines"].items():
            for failed in read["failed"]:
                code, _, field = failed.partition(":")
                if code == FOREIGN:
                    yield step, line, read["entry"], field
    for each in state["nonconformances"]:
        if each["code"] == FOREIGN:
            yield each["step"], each.get("line", ""), each["entry"], each["check"]


def _label(scene: Scene, item: str) -> str:
    known = find_item(scene, item)
    return str(known["label"]) if known else item
