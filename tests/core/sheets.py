"""Random sheets for the differential test: every word, class and option occurs.

Ids are chosen to trip a careless twin: whole numbers, which JavaScript sorts first in
a plain object, and names that every plain object seems to hold (`constructor`).
"""

from random import Random
from typing import Any

from fieldapp.core.canonical import fingerprint
from tests.core.expressions import Expressions, Parts

PART_IDS = (
    *("wipe", "10", "2", "mix", "constructor", "1", "bars", "toString", "Z", "a.b"),
    *("press", "0", "hasOwnProperty", "x-y", "100", "valueOf", "may_go", "g_2"),
)
FIELD_IDS = ("force", "1", "hot", "constructor", "0", "length", "note", "kit")
LINE_IDS = ("1", "10", "2", "k1", "valueOf", "b.2", "length", "Z")
MILESTONE_IDS = ("pressed", "7", "isPrototypeOf")
ITEMS = {
    "jack-1": {"label": "Jack", "kind": "jack", "numbers": {"slope": 7, "zero": -3}},
    "7": {"label": "Jack", "kind": "jack", "numbers": {"slope": -2}},
    "toString": {"label": "Lot", "kind": "lot", "numbers": {}},
}
LIFE_TABLES = (
    {"temps": [100, 200, 300], "rates": [150, 280, 600], "certified": [100, 200, 300]},
    {"temps": [50, 120, 250], "rates": [90, 91, 377], "certified": [50, 250]},
    {"temps": [0, 400], "rates": [200, 200], "certified": [100, 300]},
)
RATE_SCALE = 1_000_003
"""Rates about one life an hour, and no round number."""


def random_sheet(rng: Random, calm: bool) -> tuple[dict[str, Any], dict[str, Any]]:
    """Give a sheet and its table bodies by hash; a calm one can be completed."""
    ids = rng.sample(PART_IDS, rng.randint(4, 9))
    count = max(2, round(len(ids) * 0.65))
    flow = list(ids)
    step_ids = set(rng.sample(ids, count))
    parts = _parts(rng, flow, step_ids)
    bodies = _tables(rng)
    words = Expressions(rng, parts, calm)
    sheet = {
        "format": 1,
        "rules": 1,
        "amended": rng.choice([0, 1, 2, 2]),
        "site": "test",
        "subject": "J1",
        "kind": "joint",
        "title": "Joint",
        "revision": 1,
        "facts": [],
        "tables": {name: fingerprint(body) for name, body in bodies.items()},
        "items": ITEMS,
        "flow": flow,
        "values": words.named_values(),
        "conditions": words.named_conditions(),
        "milestones": [_milestone(words, name) for name in parts.milestones],
        "clocks": [_clock(rng, words, parts, name) for name in parts.clocks],
        "holds": [] if calm else _holds(rng, parts),
        "cards": [{"id": "rain", "title": "Rain", "do": [], "lapses": []}],
        "prerequisites": [] if calm else _prerequisites(rng, parts),
        "dispose": [
            {"role": "designer", "organisation": rng.choice(["d", ["d", "x"]])}
        ],
        "propose": [{"role": "engineer"}],
        "record": ["foreman"],
        "pictures": [],
    }
    sheet["steps"] = {name: _step(rng, words, parts, name) for name in parts.steps}
    sheet["points"] = {name: _point(rng, words, parts, name) for name in parts.points}
    return sheet, {fingerprint(body): body for body in bodies.values()}


def _parts(rng: Random, flow: list[str], step_ids: set[str]) -> Parts:
    steps = {name: _skeleton(rng) for name in flow if name in step_ids}
    milestones = rng.sample(MILESTONE_IDS, rng.randint(0, 2))
    clocks = ("open", "9")[: rng.choice([0, 1, 1, 2])]
    points = [name for name in flow if name not in step_ids]
    return Parts(
        flow=flow,
        steps=steps,
        points=points,
        milestones=milestones,
        clocks={name: rng.random() < 0.3 for name in clocks},
    )


def _skeleton(rng: Random) -> dict[str, Any]:
    """Give a step's fields and lines, before anything refers to them."""
    step: dict[str, Any] = {"fields": [_field(rng, i) for i in _some_fields(rng)]}
    if rng.random() < 0.2:
        step["series"] = True
    elif rng.random() < 0.45:
        step["lines"] = _lines(rng)
    return step


def _some_fields(rng: Random) -> list[str]:
    return rng.sample(FIELD_IDS, rng.choice([0, 1, 1, 2, 3]))


def _field(rng: Random, field_id: str) -> dict[str, Any]:
    kind = {"note": "text", "kit": "item"}.get(field_id, "number")
    found = {"id": field_id, "label": "", "kind": kind, "need": rng.random() < 0.5}
    if kind == "item":
        found |= {"items": "jack", "once": rng.choice([0, 1, 1])}
    elif kind == "number" and rng.random() < 0.2:
        options = [{"value": n, "label": "", "stays": n // 50} for n in (0, 1, 50)]
        found |= {"kind": "choice", "options": options}
    elif kind == "number":
        found |= {"unit": "kN", "places": 0, "low": -50, "high": 400}
    return found


def _lines(rng: Random) -> list[dict[str, Any]]:
    names = rng.sample(LINE_IDS, rng.randint(1, 5))
    return [
        {
            "id": name,
            "label": "",
            "item": rng.choice(["bar-1", "2"]),
            "round": rng.randint(1, 2),
            "need": rng.random() < 0.6,
            "numbers": {"share": rng.randint(-5, 9)} if rng.random() < 0.8 else {},
        }
        for name in names
    ]


def _tables(rng: Random) -> dict[str, Any]:
    life = rng.choice(LIFE_TABLES)
    return {
        "life": {**life, "rates": [rate * RATE_SCALE for rate in life["rates"]]},
        "straight": {"x": [-20, 0, 70, 120], "v": [5, -5, 60, 61]},
        "node": {"x": [50], "v": [3]},
        "plane": {"x": [0, 100], "y": [0, 30, 90], "v": [[1, 2, 9], [-4, 0, 80]]},
    }


def _step(rng: Random, words: Expressions, parts: Parts, name: str) -> dict[str, Any]:
    step = {"title": name, **parts.told(name)}
    step["class"] = rng.choice(["gated", "gated", "gated", "raced", "make_safe"])
    before = parts.before(name)
    if before and rng.random() < 0.5:
        step["needs"] = rng.sample(before, min(len(before), rng.randint(1, 2)))
    if rng.random() < 0.2:
        step["by"] = [rng.choice(["foreman", "engineer"])]
    if not words.calm and rng.random() < 0.15:
        step["when"] = words.condition()
    if rng.random() < 0.08:
        step |= {"again": True, "takes_off": [n for n in parts.steps if n > name]}
    if rng.random() < 0.2:
        step["first"] = True
    if rng.random() < 0.15:
        step["least"] = 1 if words.calm else rng.choice([1, 2, words.value(2)])
    if rng.random() < 0.1:
        step["photos"] = rng.randint(1, 2)
    if rng.random() < 0.5:
        step["typical_ms"] = rng.randint(1, 40) * 60_000
    step["checks"] = [
        _check(rng, words, parts, name, n) for n in range(rng.randint(0, 2))
    ]
    step["shows"] = [
        {
            "id": f"show-{n}",
            "label": "",
            "value": words.value(3, name if scope == "line" else None),
            "unit": "",
            "places": 0,
            "scope": scope,
        }
        for n, scope in enumerate(rng.sample(["line", "step"], rng.randint(0, 2)))
    ]
    return step


def _check(
    rng: Random, words: Expressions, parts: Parts, step: str, number: int
) -> dict[str, Any]:
    scope = rng.choice(["line", "line", "step"])
    check = {
        "id": f"check-{number}",
        "scope": scope,
        "must": words.demand(step if scope == "line" else None),
        "raises": rng.choice(["block", "nonconformance", "caution"]),
        "text": "",
    }
    if parts.points and rng.random() < 0.3:
        check["blocks"] = [rng.choice(parts.points)]
    return check


def _point(rng: Random, words: Expressions, parts: Parts, name: str) -> dict[str, Any]:
    place = parts.flow.index(name)
    earlier = [i for i in parts.flow[:place] if i in parts.steps]
    later = [i for i in parts.flow[place:] if i in parts.steps]
    releases: list[dict[str, Any]] = [
        {"role": "inspector", "organisation": ["owner"]},
        {"role": "engineer"},
    ]
    if rng.random() < 0.25:
        deputy = {"role": "designer", "after_ms": rng.randint(0, 20) * 60_000}
        releases[0]["deputies"] = [deputy]
    point = {
        "title": name,
        "class": rng.choice(["hold", "hold", "hold", "hold", "witness"]),
        "covers": rng.sample(earlier, min(len(earlier), rng.randint(0, 3))),
        "shuts": rng.sample(later, min(len(later), rng.choice([0, 1, 1, 2]))),
        "releases": rng.choice([releases[:1], releases[:1], releases[1:], releases]),
        "after": [],
        "requires": [],
        "lapses": ["rain"] if rng.random() < 0.4 else [],
        "independent": rng.random() < 0.8,
    }
    before = parts.before(name)
    if before and rng.random() < 0.3:
        point["after"] = [rng.choice(before)]
    if rng.random() < 0.35:
        point["requires"] = [{"id": "need", "must": words.demand(None), "text": ""}]
    if rng.random() < 0.4:
        point["life_ms"] = rng.randint(5, 600) * 60_000
    if not words.calm and rng.random() < 0.15:
        within = rng.choice([5, 40, 300, 90_000]) * 60_000
        point["heard"] = {"subjects": ["J0", "valueOf"], "within_ms": within}
    return point | _point_rules(rng, words.calm)


def _point_rules(rng: Random, calm: bool) -> dict[str, Any]:
    """Give rules of some points: notice, spoken release, shift's end, organisation."""
    rules = {
        "notice_ms": rng.randint(0, 60) * 60_000,
        "spoken_ms": rng.randint(10, 300) * 60_000,
        "until_minute": [end := rng.randrange(720), end + 720][end % 2 :],
        "other_organisation": True,
    }
    return {} if calm else {k: v for k, v in rules.items() if rng.random() < 0.25}


def _milestone(words: Expressions, name: str) -> dict[str, Any]:
    step = words.read_step()
    return {"id": name, "title": name, "step": step, "when": words.demand(None)}


def _clock(rng: Random, words: Expressions, parts: Parts, name: str) -> dict[str, Any]:
    per_line = parts.clocks[name]
    steps = list(parts.steps)
    temps = [
        {"step": step, "field": field["id"]}
        for step, body in parts.steps.items()
        for field in body["fields"]
        if field["kind"] in ("number", "choice")
    ]
    ratios = [
        {"id": "press_by", "title": "", "num": rng.choice([1, 3, 7]), "den": 10,
         "text": "", "raises": "nonconformance"},
        {"id": "1", "title": "", "num": 1, "den": 1, "text": "", "cap_ms": 10_000_000},
    ]  # fmt: skip
    if parts.points and rng.random() < 0.3:
        ratios[0]["blocks"] = [rng.choice(parts.points)]
    if not words.calm and rng.random() < 0.3:
        ratios[0]["when"] = words.condition()
    clock = {
        "id": name,
        "title": name,
        "start": rng.choice(steps),
        "table": "life",
        "temps": rng.sample(temps, min(len(temps), rng.randint(0, 2))),
        "age_ms": rng.choice([15, 60, 240]) * 60_000,
        "until": rng.choice([*steps, *parts.milestones, *parts.milestones]),
        "ratios": ratios[: rng.randint(1, 2)],
    }
    if not per_line and rng.random() < 0.4:
        # Ends where it starts: how long another subject was ahead.
        step = rng.choice(steps)
        others = [each for each in steps if each != step]
        other = {"subject": rng.choice(["J0"] * 9 + ["J9"])}
        if others and rng.random() < 0.8:
            other["undone"] = rng.choice(others)
        return {**clock, "start": step, "until": step, "temps": [], "other": other}
    if per_line:
        return {**clock, "per_line": True}
    return {**clock, "temps": [], "renewed": 1} if rng.random() < 0.25 else clock


def _holds(rng: Random, parts: Parts) -> list[dict[str, Any]]:
    if not parts.points or rng.random() < 0.6:
        return []
    before = [rng.choice([*parts.points, *parts.steps])]
    ms = rng.randint(1, 300) * 60_000
    after = rng.choice(list(parts.steps))
    return [{"id": "lockout", "title": "", "after": after, "ms": ms, "before": before}]


def _prerequisites(rng: Random, parts: Parts) -> list[dict[str, Any]]:
    if not parts.points or rng.random() < 0.75:
        return []
    milestone = rng.choice(["hung", "hung", "constructor"])
    before = [rng.choice(parts.points)]
    return [{"subject": "J0", "milestone": milestone, "before": before}]
