"""A small sheet for tests, written by hand: wipe, read, gate, mix, press, gate, go.

The life table is flat: 60 minutes at every certified temperature from 10 to 30 °C,
so that a rate of 1/3,600,000 per ms is 277,777,778 in 1e-15, rounded up.
"""

from copy import deepcopy
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.core.sheet import Sheet, prepare

LIFE = {
    "temps": [100, 200, 300],
    "rates": [277_777_778, 277_777_778, 277_777_778],
    "certified": [100, 200, 300],
}
HOUR_MS = 3_600_000


def reading(step: str, field: str, line: str | None = None) -> dict[str, Any]:
    """Give the word `reading`."""
    word = {"word": "reading", "step": step, "field": field}
    return word if line is None else {**word, "line": line}


def between(value: Any, low: Any = None, high: Any = None) -> dict[str, Any]:
    """Give the word `between`, leaving out the bounds that are not given."""
    word = {"word": "between", "value": value}
    bounds = {"low": low, "high": high}
    return word | {name: bound for name, bound in bounds.items() if bound is not None}


def number(field_id: str, *, need: bool = True) -> dict[str, Any]:
    """Give a number field."""
    return {"id": field_id, "label": field_id, "kind": "number", "need": need}


def check(check_id: str, must: dict[str, Any], raises: str) -> dict[str, Any]:
    """Give a line check."""
    return {"id": check_id, "scope": "line", "must": must, "raises": raises}


def bar_lines() -> list[dict[str, Any]]:
    """Give two bars in two rounds; the second round re-checks every bar."""
    return [
        {"id": f"b{bar}r{turn}", "label": "", "item": f"b{bar}", "round": turn,
         "need": turn == 2, "numbers": {}}
        for turn in (1, 2)
        for bar in (1, 2)
    ]  # fmt: skip


def last_force(bar: int) -> dict[str, Any]:
    """Give the force of a bar: its last reading, kN."""
    return {
        "word": "reduce",
        "how": "last",
        "step": "bars",
        "item": f"b{bar}",
        "value": reading("bars", "force"),
    }


def kit_lines() -> list[dict[str, Any]]:
    """Give three kits, of which two are needed."""
    return [
        {"id": f"k{n}", "label": "", "item": f"k{n}", "round": 1, "need": n <= 2,
         "numbers": {}}
        for n in (1, 2, 3)
    ]  # fmt: skip


STEPS: dict[str, Any] = {
    "wipe": {
        "title": "Wipe",
        "class": "gated",
        "fields": [number("damp")],
        "checks": [
            check("dry", {"word": "in", "value": reading("wipe", "damp"),
                          "set": [0]}, "block")
        ],
    },
    "face": {
        "title": "Face temperature",
        "class": "gated",
        "series": True,
        "fields": [number("hot")],
        "checks": [
            check("window", between(reading("face", "hot"), 50, 400), "block")
        ],
    },
    "clean": {"title": "Parted and cleaned", "class": "make_safe", "again": True},
    "mix": {
        "title": "Mix",
        "class": "gated",
        "first": True,
        "lines": kit_lines(),
        "fields": [],
    },
    "bars": {
        "title": "Bars",
        "class": "raced",
        "needs": ["mix"],
        "lines": bar_lines(),
        "fields": [number("force")],
        "checks": [
            check("cap", between(reading("bars", "force"), 0, 500),
                  "nonconformance")
        ],
        "shows": [
            {"id": "tons", "scope": "line", "label": "", "unit": "", "places": 0,
             "value": {"word": "form", "constant": 0, "divisor": 10,
                       "terms": [[1, reading("bars", "force")]]}}
        ],
    },
    "slack": {"title": "Weight off", "class": "gated", "fields": []},
}  # fmt: skip


def steps() -> dict[str, Any]:
    """Give the steps of the small sheet."""
    return deepcopy(STEPS)


TOTAL = {
    "word": "form",
    "constant": 0,
    "terms": [[1, last_force(1)], [1, last_force(2)]],
    "divisor": 1,
}
SHEET: dict[str, Any] = {
    "format": 1,
    "rules": 1,
    "site": "test",
    "subject": "J1",
    "kind": "joint",
    "title": "Joint 1",
    "revision": 1,
    "facts": [],
    "tables": {"open": fingerprint(LIFE)},
    "items": {},
    "flow": ["wipe", "face", "clean", "may_mix", "mix", "bars", "may_go", "slack"],
    "steps": STEPS,
    "points": {
        "may_mix": {
            "title": "Mixing",
            "class": "hold",
            "covers": ["wipe", "face", "clean"],
            "shuts": ["mix"],
            "releases": [{"role": "inspector", "organisation": ["owner"]}],
            "life_ms": HOUR_MS // 2,
            "after": [],
            "requires": [],
            "lapses": ["rain"],
            "independent": True,
        },
        "may_go": {
            "title": "Weight off",
            "class": "hold",
            "covers": ["mix", "bars"],
            "shuts": ["slack"],
            "releases": [{"role": "erection_engineer"}],
            "after": ["may_mix", "pressed"],
            "requires": [
                {"id": "enough", "must": between("total", 600), "text": "enough"}
            ],
            "lapses": [],
            "independent": True,
        },
    },
    "values": {"total": TOTAL},
    "conditions": {},
    "milestones": [
        {"id": "pressed", "title": "Contact pressure", "step": "bars",
         "when": between("total", 600)}
    ],
    "clocks": [
        {
            "id": "open",
            "title": "Open time",
            "start": "mix",
            "table": "open",
            "temps": [{"step": "face", "field": "hot"}],
            "age_ms": HOUR_MS,
            "until": "pressed",
            "ratios": [
                {"id": "press_by", "title": "", "num": 7, "den": 10, "text": "",
                 "raises": "nonconformance"},
                {"id": "over", "title": "", "num": 1, "den": 1, "text": ""},
            ],
        }
    ],
    "holds": [
        {"id": "lockout", "title": "", "after": "clean", "ms": 24 * HOUR_MS,
         "before": ["may_mix"]}
    ],
    "cards": [{"id": "rain", "title": "Rain", "do": [], "lapses": ["may_mix"]}],
    "prerequisites": [],
    "dispose": [{"role": "designers_engineer", "organisation": ["designer"]}],
    "propose": [{"role": "erection_engineer"}],
    "record": ["foreman"],
    "pictures": [],
}  # fmt: skip


def raw_sheet(**changes: Any) -> dict[str, Any]:
    """Give the small sheet as plain data; changes replace top-level keys."""
    return deepcopy(SHEET) | changes


def small_sheet(**changes: Any) -> Sheet:
    """Give the small sheet, prepared."""
    return prepare(raw_sheet(**changes), {fingerprint(LIFE): LIFE})
