"""Reads the clocks of a kind, lives that run out, and its holds, times that must pass.

A clock runs by a life table and temperatures or by time alone; minutes of the plan
become milliseconds here, once. Only a step or a milestone ends a clock.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from fieldapp.plan.arms import on_other_arms
from fieldapp.plan.conditions import read_condition
from fieldapp.plan.draft import Draft
from fieldapp.plan.quantities import COUNT, Quantity, TableShape
from fieldapp.plan.steps import DAY_MS, MINUTE_MS, lines_fit, words
from fieldapp.plan.toml_node import Node, report_repeats

DAY_MIN = DAY_MS // MINUTE_MS
MOST_LIFE_MIN = 400 * DAY_MIN
RATE_UNIT = 10**15
TENTHS = Quantity("°C", 1)


def read_clock(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one clock into the form of the sheet."""
    if "other_arm" in node:
        return _read_ahead(name, node, draft)
    clock: dict[str, Any] = {
        "id": name,
        "title": words(node, "title", draft),
        "start": draft.step(node.child("start")),
        **_life(name, node, draft),
        "until": _end(node.child("until"), draft),
        "ratios": [_ratio(place, draft) for place in node.items("ratios")],
    }
    if "life_min" in node:
        _cap(clock)
    report_repeats(node.items("ratios"))
    if node.flag("renewed"):
        clock["renewed"] = 1
        if "life_min" not in node or "per_line" in node:
            node.child("renewed").fault("a clock by life_min alone, not one a line")
    if node.flag("per_line"):
        clock["per_line"] = 1
        _check_same_lines(node, clock, draft)
    elif clock["until"] in draft.steps:
        _check_one_line(node, draft.kind.child("steps").child(clock["until"]))
    node.finish()
    return clock


def _read_ahead(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read a clock of how long the other arm may be ahead; empty if none ever is.

    Both subjects are of one kind: the step that says what hangs is the same on both.
    """
    place = node.child("other_arm")
    further = place.whole("segments", 1, 99) - 1
    hung = draft.step(place.child("hung"))
    undone = draft.step(place.child("undone")) if "undone" in place else ""
    place.finish()
    clock: dict[str, Any] = {
        "id": name,
        "title": words(node, "title", draft),
        "start": hung,
        **_plain_life(name, node, draft),
        "until": hung,
        "ratios": [_ratio(each, draft) for each in node.items("ratios")],
    }
    _cap(clock)
    report_repeats(node.items("ratios"))
    node.finish()
    ahead = on_other_arms(draft, (further,))
    if not hung or not ahead:
        return {}
    other = {"subject": ahead[0]}
    return {**clock, "other": {**other, "undone": undone} if undone else other}


def read_hold(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one hold, a time that must pass, into the form of the sheet."""
    hold = {
        "id": name,
        "title": words(node, "title", draft),
        "after": draft.step(node.child("after")),
        "ms": node.whole("hours", 1, 24 * 90) * 60 * MINUTE_MS,
        "before": [_held(place, draft) for place in node.items("before")],
        "source": words(node, "source", draft),
    }
    node.finish()
    return hold


def report_same_words(clocks: Mapping[str, Node], read: list[dict[str, Any]]) -> None:
    """Report ratios of one start and name that are told in different words.

    What a clock raises is told by its start and its ratio's name.
    """
    told: dict[tuple[str, str], Any] = {}
    for clock in read:
        for place, ratio in enumerate(clock.get("ratios", ())):
            key = clock["start"], ratio["id"]
            if told.setdefault(key, ratio.get("text")) != ratio.get("text"):
                found = clocks[clock["id"]].items("ratios")[place]
                found.child("id").fault(
                    "a name of its own among the clocks that start alike, or their text"
                )


def _held(node: Node, draft: Draft) -> str:
    """What a hold keeps waiting: a point, or a step that is gated."""
    if node.value not in draft.steps:
        return draft.point(node)
    step = draft.kind.child("steps").child(str(node.value))
    if step.child("class").value != "gated":
        node.fault("a point or a gated step")
    return draft.step(node)


def _life(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """What a clock runs by: a life table and temperatures, or time alone.

    A rate is whole: it is rounded down here, and every ratio has its time as a cap.
    """
    if "life_min" in node:
        return _plain_life(name, node, draft)
    return {
        "table": _life_table(node, draft),
        "temps": [_temperature(place, draft) for place in node.items("temps")],
        "age_ms": node.whole("age_min", 1, DAY_MIN) * MINUTE_MS,
    }


def _plain_life(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    ms = node.whole("life_min", 1, MOST_LIFE_MIN) * MINUTE_MS
    body = {"temps": [0], "rates": [RATE_UNIT // ms], "certified": [0]}
    draft.tables[name] = TableShape(body=body, x=TENTHS, y=None, v=COUNT)
    return {"table": name, "temps": [], "age_ms": ms}


def _cap(clock: dict[str, Any]) -> None:
    """Give every ratio of a clock by time alone its time, exact to the millisecond."""
    for ratio in clock["ratios"]:
        ms = clock["age_ms"] * ratio["num"] // ratio["den"]
        ratio["cap_ms"] = min(ratio.get("cap_ms", ms), ms)


def _life_table(node: Node, draft: Draft) -> str:
    place = node.child("table")
    lives = {name: each for name, each in draft.tables.items() if "rates" in each.body}
    return str(place.value) if draft.made(place, lives, "a life table") else ""


def _temperature(node: Node, draft: Draft) -> dict[str, str]:
    step, field = draft.field(node)
    if step and draft.shape(step, field).quantity != TENTHS:
        node.fault("a field in °C with 1 place")
    return {"step": step, "field": field}


def _end(node: Node, draft: Draft) -> str:
    """A clock is ended by a step or a milestone, never by a release."""
    if node.value in draft.points:
        node.fault("a step or a milestone")
    return draft.stage(node)


def _ratio(node: Node, draft: Draft) -> dict[str, Any]:
    percent = node.decimal("percent", Decimal(1), Decimal(300))
    num, den = (percent / 100).as_integer_ratio()
    ratio: dict[str, Any] = {
        "id": node.identity("id"),
        "title": words(node, "title", draft),
        "num": num,
        "den": den,
        "text": words(node, "text", draft),
        "source": words(node, "source", draft),
    }
    if "raises" in node:
        ratio["raises"] = node.one_of("raises", ("nonconformance", "caution"))
    if "when" in node:
        when = read_condition(node.child("when"), draft)
        lines_fit(node.child("when"), when, "", draft)
        ratio["when"] = when.word if when else 0
    if "cap_min" in node:
        ratio["cap_ms"] = node.whole("cap_min", 1, DAY_MIN) * MINUTE_MS
    blocks = [draft.point(place) for place in node.items("blocks", need=False)]
    if blocks:
        ratio["blocks"] = blocks
    node.finish()
    return ratio


def _check_one_line(node: Node, step: Node) -> None:
    """A clock ends with the first line of a step, while others may be still to do."""
    if "lines" in step:
        node.child("until").fault("a step without lines, or a milestone")


def _check_same_lines(node: Node, clock: dict[str, Any], draft: Draft) -> None:
    """A clock per line ends line by line: both steps must have the same lines."""
    steps = [draft.steps.get(clock[key]) for key in ("start", "until")]
    lists = {step.lines_from if step else "" for step in steps}
    if "" in lists or len(lists) > 1:
        node.child("until").fault("a step with the same lines as the start")
