"""The ids of a plan are its own: renamed to anything, the same joint is told."""

import json
import re
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

from fieldapp.core.sheet import prepare
from fieldapp.plan import compile_site, read_site
from tests.core.story import START_MS, Story
from tests.plan.sample import copied, told

WORDS_FOR_IDS = [f"w{number:03}x" for number in range(600)]
NAMES_A_STEP = {
    "flow", "needs", "after", "covers", "shuts", "lapses", "before", "blocks", "step",
    "lost", "start", "until", "temps", "reading", "field", "constant", "at", "from",
    "to", "air", "humidity", "surfaces", "formulation", "pressure", "jack",
    "extension", "spots", "reached", "life", "milestone", "point", "forecast",
    "top_left", "top_right", "bottom_left", "bottom_right", "water", "bags",
    "hung", "undone", "takes_off", "discards", "begins", "settles", "among",
}  # fmt: skip
HOLDS_IDS = ("steps", "points", "milestones", "clocks", "holds", "cards")


def renamed(folder: Path) -> dict[str, str]:
    """Give every step, point, clock, card, field and kind of the plan a random word."""
    plans = {
        path: tomllib.loads(path.read_text("utf-8"), parse_float=Decimal)
        for path in sorted((folder / "plan").glob("*.toml"))
    }
    words = iter(WORDS_FOR_IDS)
    names = {
        name: next(words)
        for name in dict.fromkeys(i for plan in plans.values() for i in _ids(plan))
    }
    for path, plan in plans.items():
        told = _with_ids(_renamed(plan, names, ""), names)
        path.write_text(
            "\n".join(f"{k} = {_toml(v)}" for k, v in told.items()), "utf-8"
        )
    for name in ("joints.csv", "site.toml"):
        file = folder / name
        text = file.read_text("utf-8")
        for plan in plans.values():
            text = re.sub(
                f'([",]){plan["id"]}([",])', rf"\1{names[plan['id']]}\2", text
            )
        file.write_text(text, "utf-8")
    return names


def _ids(plan: dict[str, Any]) -> list[str]:
    fields = [f["id"] for s in plan["steps"].values() for f in s.get("fields", ())]
    own = [name for key in HOLDS_IDS for name in plan.get(key, ())]
    return [plan["id"], *own, *fields]


def _with_ids(plan: dict[str, Any], names: dict[str, str]) -> dict[str, Any]:
    """Rename what the plan names by its own keys: tables, fields, the kind itself."""
    for key in HOLDS_IDS:
        if key in plan:
            plan[key] = {names[name]: part for name, part in plan[key].items()}
    for step in plan["steps"].values():
        for field in step.get("fields", ()):
            field["id"] = names[field["id"]]
    return {**plan, "id": names[plan["id"]]}


def _renamed(part: Any, names: dict[str, str], key: str) -> Any:
    if isinstance(part, dict):
        return {k: _renamed(v, names, k) for k, v in part.items()}
    if isinstance(part, list):
        return [_renamed(each, names, key) for each in part]
    if isinstance(part, str) and key in NAMES_A_STEP:
        step, dot, field = part.partition(".")
        if dot and key != "constant":
            return f"{names[step]}.{names[field]}"
        return names.get(step, step) + dot + field
    return part


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        inner = ", ".join(f"{json.dumps(k)} = {_toml(v)}" for k, v in value.items())
        return "{ " + inner + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, Decimal):
        return str(value)
    return json.dumps(value, ensure_ascii=False)


def test_a_plan_with_every_id_renamed_tells_the_same_joint(tmp_path: Path) -> None:
    folder = copied(tmp_path / "site")
    names = renamed(folder)
    site = compile_site(read_site(folder))
    original = told("signed")
    other = Story(prepare(site.sheets["j-w1"], dict(site.tables)))
    other.people = original.people
    ids: dict[str, str] = {}
    for entry in original.entries.values():
        parts: dict[str, Any] = {
            "values": {names[k]: v for k, v in entry.values.items()}
        }
        for key in ("step", "point", "line", "unlocked"):
            value = getattr(entry, key)
            if value:
                parts[key] = names.get(value, value) if key != "line" else value
        if entry.kind != "done":
            del parts["values"]
        if entry.kind == "sighting":
            parts["about"] = dict(entry.about)
        parts["photos"] = list(entry.photos)
        other.minute = (entry.at - START_MS) / 60_000
        ids[entry.id] = other.say(entry.kind, by=entry.person, **parts)
    first, second = original.state(1500), other.state(1500)
    assert second["verdict"] == first["verdict"] == "complete"
    assert second["values"] == first["values"]
    for key in ("steps", "points", "milestones", "clocks"):
        for name, found in first[key].items():
            clock, slash, line = name.partition("/")
            twin = second[key][names[clock] + slash + line]
            for part in ("status", "shows", "at", "used_ppm", "deadlines"):
                assert twin.get(part) == found.get(part), (name, part)
