"""Reads what stands between the steps: points, milestones, and the cards of STOP.

Minutes of the plan become milliseconds here, once.
"""

import re
from typing import Any

from fieldapp.plan.arms import read_heard
from fieldapp.plan.conditions import read_condition
from fieldapp.plan.draft import Draft
from fieldapp.plan.item_fields import item_kind
from fieldapp.plan.signers import read_signers
from fieldapp.plan.steps import (
    DAY_MS,
    MINUTE_MS,
    lines_fit,
    read_show,
    words,
)
from fieldapp.plan.toml_node import Node, report_repeats

CLASSES = ("hold", "witness", "review", "surveillance")
DAY_MIN = DAY_MS // MINUTE_MS
CLOCK_TIME = re.compile(r"(?P<hours>[01]\d|2[0-3]):(?P<minutes>[0-5]\d)")


def read_point(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one point into the form of the sheet."""
    point: dict[str, Any] = {
        "title": words(node, "title", draft),
        "class": node.one_of("class", CLASSES),
        "covers": _steps(node, "covers", draft),
        "shuts": _steps(node, "shuts", draft),
        "releases": read_signers(node, "releases", draft.site),
        "after": [draft.stage(place) for place in node.items("after", need=False)],
        "requires": [
            _requirement(place, draft) for place in node.items("requires", need=False)
        ],
        "lapses": [draft.card(place) for place in node.items("lapses", need=False)],
        "independent": int(node.flag("independent", default=True)),
    }
    report_repeats(node.items("requires", need=False))
    if name in point["after"]:
        node.child("after").fault("what comes before this point", name)
    _add_times(point, node)
    if "other_arm" in node:
        heard = read_heard(node.child("other_arm"), draft)
        point |= {"heard": heard} if heard else {}
    if node.flag("other_organisation"):
        point["other_organisation"] = 1
    for key in ("caution", "source", "critical"):
        if key in node:
            point[key] = words(node, key, draft)
    node.finish()
    return point


def _add_times(point: dict[str, Any], node: Node) -> None:
    """Add how long a release lasts, a notice runs, a spoken word waits for a pen."""
    if "life_min" in node:
        point["life_ms"] = node.whole("life_min", 1, 90 * DAY_MIN) * MINUTE_MS
    if "until" in node:
        point["until_minute"] = _shift_ends(node.child("until"))
    if "notice_min" in node:
        point["notice_ms"] = node.whole("notice_min", 1, 90 * DAY_MIN) * MINUTE_MS
    if "spoken_min" in node:
        point["spoken_ms"] = node.whole("spoken_min", 1, 90 * DAY_MIN) * MINUTE_MS
    witness = point["class"] == "witness"
    if witness != ("notice_ms" in point):
        place = node.child("notice_min")
        place.fault("a time" if witness else "nothing: only a witness has a notice")


def _shift_ends(node: Node) -> int | list[int]:
    """The end of the shift, or of each, hours and minutes of the site's own day."""
    if isinstance(node.value, list):
        return [_minute_of_day(each) for each in node.elements()]
    return _minute_of_day(node)


def _minute_of_day(node: Node) -> int:
    said = node.value if isinstance(node.value, str) else ""
    found = CLOCK_TIME.fullmatch(said)
    if found is None:
        node.fault("a time of the day, as 18:00")
        return 0
    return int(found["hours"]) * 60 + int(found["minutes"])


def read_milestone(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one milestone into the form of the sheet."""
    when = read_condition(node.child("when"), draft)
    lines_fit(node.child("when"), when, "", draft)
    milestone = {
        "id": name,
        "title": words(node, "title", draft),
        "step": draft.step(node.child("step")),
        "when": when.word if when else 0,
    }
    node.finish()
    return milestone


def read_card(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one card of what to do into the form of the sheet."""
    lines = [str(place.value) for place in node.items("do")]
    for place in node.items("do"):
        if not isinstance(place.value, str) or not place.value.strip():
            place.fault("text")
    lapsed = [p for p in draft.points if name in _lapse_names(draft, p)]
    card = {
        "id": name,
        "title": words(node, "title", draft),
        "do": lines,
        "lapses": lapsed,
    }
    if "step" in node:
        card["step"] = draft.step(node.child("step"))
    if "items" in node:
        # What may be at fault: the one in hand is marked where it is chosen next.
        card["items"] = item_kind(node, draft)
    if "discards" in node:
        # What is thrown away from the card: kits that were mixed wrongly.
        card["discards"] = _steps(node, "discards", draft)
    node.finish()
    return card


def _lapse_names(draft: Draft, point: str) -> list[str]:
    place = draft.kind.child("points").child(point).child("lapses")
    return place.value if isinstance(place.value, list) else []


def _steps(node: Node, key: str, draft: Draft) -> list[str]:
    return [draft.step(place) for place in node.items(key)]


def _requirement(node: Node, draft: Draft) -> dict[str, Any]:
    must = read_condition(node.child("must"), draft)
    lines_fit(node.child("must"), must, "", draft)
    requirement = {
        "id": node.identity("id"),
        "must": must.word if must else 0,
        "text": words(node, "text", draft),
        "source": words(node, "source", draft),
    }
    if "show" in node:
        # What it bounds: a signer sees the figure beside its limit.
        requirement["show"] = read_show(node.child("show"), "", draft)
    node.finish()
    return requirement
