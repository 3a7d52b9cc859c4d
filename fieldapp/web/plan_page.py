"""A kind of subject as its inspection and test plan, read from a sheet in force.

Every step with what is recorded, its limits and their sources; every point with its
class, who signs it and what it needs. Driven by the sheet alone.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.sheet import Sheet
from fieldapp.records.plan import terms_of
from fieldapp.web.display import figure, lasting
from fieldapp.web.names import SiteNames

LETTERS = {"hold": "H", "witness": "W", "review": "R", "surveillance": "S"}
CLASSES = {
    "gated": "gated",
    "raced": "raced: always recordable",
    "make_safe": "make safe: never refused",
}
Part = Mapping[str, Any]
Row = dict[str, Any]


def plan_page(sheet: Sheet, names: SiteNames, elsewhere: Mapping[str, str]) -> Row:
    """Give the rows of the plan in the order of the work, by the template's names.

    elsewhere: what subjects it waits for call their steps, points and milestones.
    """
    raw = sheet.raw
    return {
        "sheet": raw,
        "sheet_hash": sheet.hash,
        "kind": names.kind(raw["kind"]),
        "rows": [_row(raw, name, number, names) for number, name in _numbered(raw)],
        "clocks": list(_clocks(raw)),
        "holds": [
            {
                "title": hold["title"],
                "text": f"{lasting(hold['ms'])} after {_title(raw, hold['after'])}",
                "before": ", ".join(_title(raw, each) for each in hold["before"]),
                "source": hold.get("source", ""),
            }
            for hold in raw.get("holds", ())
        ],
        "waits": [
            {
                "subject": names.subject(each["subject"]),
                "milestone": elsewhere.get(each["milestone"], each["milestone"]),
                "before": ", ".join(_title(raw, name) for name in each["before"]),
            }
            for each in raw.get("prerequisites", ())
        ],
        "dispose": names.signers(raw["dispose"], " or "),
        "propose": names.signers(raw["propose"], " or "),
        "letters": {letter: name for name, letter in LETTERS.items()},
    }


def _numbered(raw: Part) -> Iterator[tuple[int, str]]:
    return enumerate(raw["flow"], 1)


def _row(raw: Part, name: str, number: int, names: SiteNames) -> Row:
    if name in raw["points"]:
        return _point(raw, name, number, names)
    step = raw["steps"][name]
    return {
        "number": number,
        "what": "step",
        "title": step["title"],
        "class": CLASSES.get(step["class"], step["class"]),
        "caution": step.get("caution", ""),
        "recorded": list(_recorded(step)),
        "lines": len(step.get("lines", ())),
        "limits": list(limits_of(step)),
        "by": _roles(step.get("by", ()), names),
        "again": bool(step.get("again")),
        "sometimes": "when" in step,
        "sign_off": bool(step.get("sign_off")),
        "source": step.get("source", ""),
    }


def _point(raw: Part, name: str, number: int, names: SiteNames) -> Row:
    point = raw["points"][name]
    return {
        "number": number,
        "what": "point",
        "title": point["title"],
        "letter": LETTERS.get(point["class"], "?"),
        "class": point["class"],
        "caution": point.get("caution", ""),
        "wanted": [names.signer(each) for each in point["releases"]],
        "limits": [
            {"text": each["text"], "source": each.get("source", "")}
            for each in point.get("requires", ())
        ],
        "shuts": [_title(raw, each) for each in point.get("shuts", ())],
        "covers": [_title(raw, each) for each in point.get("covers", ())],
        "terms": list(terms_of(raw, point)),
        "source": point.get("source", ""),
        "critical": point.get("critical", ""),
    }


def _recorded(step: Part) -> Iterator[str]:
    for field in step.get("fields", ()):
        if field["kind"] == "choice":
            told = " / ".join(each["label"] for each in field.get("options", ()))
            yield f"{field['label']}: {told}"
        elif field["kind"] == "number":
            yield f"{field['label']}, {field.get('unit') or 'number'}{_range(field)}"
        else:
            yield str(field["label"])
    if step.get("photos"):
        yield f"{step['photos']} photo{'s' if step['photos'] > 1 else ''}"


def _range(field: Part) -> str:
    """Say what can be typed at all, where a field bounds it."""
    places = field.get("places", 0)
    ends = [figure(field[end], places) for end in ("low", "high") if end in field]
    return f" ({' to '.join(ends)})" if ends else ""


def limits_of(step: Part) -> Iterator[Row]:
    """Yield a step's checks: text, source, and what a failed one raises."""
    for check in step.get("checks", ()):
        yield {
            "text": check["text"],
            "source": check.get("source", ""),
            "raises": check["raises"],
        }


def _clocks(raw: Part) -> Iterator[Row]:
    for clock in raw.get("clocks", ()):
        for ratio in clock["ratios"]:
            share = figure(ratio["num"] * 1_000 // ratio["den"], 1, "%")
            cap = ratio.get("cap_ms")
            yield {
                "title": clock["title"],
                "start": _title(raw, clock["start"]),
                "until": _title(raw, clock["until"]),
                "ratio": ratio["title"],
                "limit": share + (f", at most {lasting(cap)}" if cap else ""),
                "text": ratio.get("text", ""),
                "source": ratio.get("source", ""),
            }


def _title(raw: Part, name: str) -> str:
    parts = {**raw["steps"], **raw["points"]}
    milestones = {m["id"]: m["title"] for m in raw.get("milestones", ())}
    title = parts[name]["title"] if name in parts else milestones.get(name, name)
    return str(title)


def _roles(roles: Any, names: SiteNames) -> str:
    return ", ".join(names.roles.get(role, role) for role in roles)
