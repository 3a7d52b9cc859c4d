"""Reads the steps of a kind: fields, lines, checks and what a step shows.

Every limit must say where it comes from. A step's lines come from the plan or from a
calculation; whatever reads "this line" stands only where there is one.
"""

from typing import Any

from fieldapp.plan.conditions import read_condition
from fieldapp.plan.draft import FIELD_KINDS, Draft, bound_of, options_of
from fieldapp.plan.expressions import read_value
from fieldapp.plan.item_fields import item_field
from fieldapp.plan.quantities import NO_LINES, Condition, Quantity, Value
from fieldapp.plan.toml_node import Node, report_repeats

CLASSES = ("gated", "raced", "make_safe")
MOST_LINES = 999
DAY_MS = 86_400_000
MINUTE_MS = 60_000


def read_step(name: str, node: Node, draft: Draft) -> dict[str, Any]:
    """Read one step into the form of the sheet."""
    step: dict[str, Any] = {
        "title": words(node, "title", draft),
        "class": node.one_of("class", CLASSES),
        "by": roles(node, "by", draft),
        "fields": [_field(place, draft) for place in node.items("fields", need=False)],
        "checks": [
            _check(place, name, draft) for place in node.items("checks", need=False)
        ],
        "shows": [
            read_show(place, name, draft) for place in node.items("shows", need=False)
        ],
    }
    for key in ("fields", "checks", "shows"):
        report_repeats(node.items(key, need=False))
    if "photos" in node:
        step["photos"] = node.whole("photos", 1, 20)
    for key in ("caution", "help", "icon", "source"):
        if key in node:
            step[key] = words(node, key, draft)
    for key in ("series", "again", "first", "sign_off"):
        if node.flag(key):
            step[key] = 1
    _add_lines(step, node, draft)
    _add_order(step, node, draft)
    node.finish()
    return step


def words(node: Node, key: str, draft: Draft) -> str:
    """Give a text with the subject's own words filled in: {segment}, {pier} …"""
    text = node.text(key)
    if "{" not in text and "}" not in text:
        return text
    try:
        return text.format_map(subject_words(draft))
    except (KeyError, IndexError, ValueError, AttributeError):
        known = ", ".join(f"{{{name}}}" for name in subject_words(draft))
        node.child(key).fault(f"text, and in braces only {known}")
        return text


def subject_words(draft: Draft) -> dict[str, str]:
    """Give what a text of the plan may say of its subject."""
    subject = draft.subject
    piers = {pier.id: pier.title for pier in draft.site.piers}
    return {
        **subject.cells,
        "id": subject.id,
        "title": subject.title,
        "pier": piers.get(subject.pier, subject.pier),
        "arm": subject.arm,
        "order": "" if subject.order is None else str(subject.order),
        "segment": subject.segment.title if subject.segment else "",
        **{name: str(count) for name, count in draft.counts.items()},
    }


def roles(node: Node, key: str, draft: Draft) -> list[str]:
    """Give a list of roles that somebody on the site holds."""
    found = []
    held = sorted({role for person in draft.site.people for role in person.roles})
    for place in node.items(key):
        if place.value in held:
            found.append(str(place.value))
        elif place.value in list(draft.site.roles):
            allowed = "a role that a person holds: " + ", ".join(held)
            place.lacks(allowed, "people.csv")
        else:
            place.lacks("one of the roles " + ", ".join(draft.site.roles), "site.toml")
    if not node.items(key):
        node.child(key).fault("one role or more")
    return found


def _field(node: Node, draft: Draft) -> dict[str, Any]:
    kind = node.one_of("kind", FIELD_KINDS)
    field: dict[str, Any] = {
        "id": node.identity("id"),
        "label": words(node, "label", draft),
        "kind": kind,
        "need": int(node.flag("need", default=True)),
    }
    if node.flag("same"):
        field["same"] = 1
    if node.flag("aim"):
        field["aim"] = "aim"
    if "limit" in node:
        field["limit"] = words(node, "limit", draft)
    if kind == "number":
        field |= _number(node)
    elif kind == "choice":
        field["options"] = options_of(node, draft.site)
        _check_options(node, field["options"])
    elif kind == "item":
        field |= item_field(node, draft)
    if kind:
        node.finish()
    return field


def _number(node: Node) -> dict[str, Any]:
    unit, places = node.text("unit", need=False), node.whole("places", 0, 6, default=0)
    quantity = Quantity(unit, places)
    number: dict[str, Any] = {"unit": unit, "places": places}
    for key in ("low", "high"):
        bound = bound_of(node, key)
        whole = None if bound is None else quantity.whole(bound)
        if bound is not None and whole is None:
            node.child(key).fault(f"at most {places} decimal places")
        if whole is not None:
            number[key] = whole
    if number.get("low", 0) >= number.get("high", 1) and {"low", "high"} <= set(number):
        node.child("low").fault("below high")
    return number


def _check_options(node: Node, options: list[dict[str, Any]]) -> None:
    values = [option["value"] for option in options]
    if len(set(values)) < len(values):
        node.child("options").fault("each value once", ", ".join(map(str, values)))
    if len(values) < 2:
        node.child("options").fault("two options or more", f"{len(values)}")


def _check(node: Node, step: str, draft: Draft) -> dict[str, Any]:
    scope = node.one_of("scope", ("line", "step"), default="step")
    must = read_condition(node.child("must"), draft)
    check: dict[str, Any] = {
        "id": node.identity("id"),
        "scope": scope,
        "must": must.word if must else 0,
        "raises": node.one_of("raises", ("block", "nonconformance", "caution")),
        "text": words(node, "text", draft),
        "source": words(node, "source", draft),
    }
    blocks = [draft.point(place) for place in node.items("blocks", need=False)]
    if blocks:
        check["blocks"] = blocks
    for key in ("begins", "settles"):
        named = [draft.step(place) for place in node.items(key, need=False)]
        if named:
            check[key] = named
            if scope != "line" or check["raises"] != "nonconformance":
                node.child(key).fault("in a nonconformance of a line alone")
    lines_fit(node.child("must"), must, step if scope == "line" else "", draft)
    if check["raises"] == "block" and _is_raced(step, draft):
        node.child("raises").fault(
            "no block in a raced step: shut the next gate instead"
        )
    node.finish()
    return check


def _is_raced(step: str, draft: Draft) -> bool:
    return bool(draft.kind.child("steps").child(step).child("class").value == "raced")


def read_show(node: Node, step: str, draft: Draft) -> dict[str, Any]:
    """Read a computed figure that is shown into the form of the sheet."""
    scope = node.one_of("scope", ("line", "step"), default="step")
    value = read_value(node.child("value"), draft)
    quantity = value.quantity if value else Quantity("", 0)
    show = {
        "id": node.identity("id"),
        "label": words(node, "label", draft),
        "value": value.word if value else 0,
        "unit": quantity.unit,
        "places": quantity.places,
        "scope": scope,
    }
    lines_fit(node.child("value"), value, step if scope == "line" else "", draft)
    if "places" in node:
        # What decides keeps its places; only what is read is made short.
        most = quantity.places if value else 6
        show["shown"] = node.whole("places", 0, most, default=0)
        show["round"] = node.one_of("round", ("up", "down", "out"))
    node.finish()
    return show


def lines_fit(
    node: Node, found: Value | Condition | None, step: str, draft: Draft
) -> None:
    """Report an expression that reads a current line where there is none."""
    wanted = found.lines if found else NO_LINES
    stray = sorted(wanted - {step})
    if stray:
        node.fault(
            'a line named with "line", or a reduce over the lines',
            "the current line of " + ", ".join(stray),
        )


def _add_lines(step: dict[str, Any], node: Node, draft: Draft) -> None:
    lines = node.child("lines")
    if isinstance(lines.value, str):
        made = draft.made(lines, draft.lines, "lines")
        step["lines"] = made.lines if made else []
    elif lines.given:
        step["lines"] = [_line(place, draft) for place in node.items("lines")]
        ids = [line["id"] for line in step["lines"]]
        if len(set(ids)) < len(ids) or not ids:
            lines.fault("lines, each id once", ", ".join(ids))
    if "least" in node:
        one = MOST_LINES if "series" in step else 1
        most = len(step["lines"]) or MOST_LINES if "lines" in step else one
        step["least"] = _least(node.child("least"), most, draft)


def _line(node: Node, draft: Draft) -> dict[str, Any]:
    line: dict[str, Any] = {
        "id": node.identity("id"),
        "label": words(node, "label", draft),
        "need": int(node.flag("need", default=True)),
        "numbers": {},
    }
    if "group" in node:
        line["group"] = words(node, "group", draft)
    node.finish()
    return line


def _least(node: Node, most: int, draft: Draft) -> Any:
    """A number, a count a calculation made, or a value."""
    if isinstance(node.value, str) and node.value in draft.counts:
        return draft.counts[node.value]
    if isinstance(node.value, int) and not isinstance(node.value, bool):
        if not 1 <= node.value <= most:
            node.fault(f"a whole number from 1 to {most}, the lines there are")
        return node.value
    value = read_value(node, draft)
    lines_fit(node, value, "", draft)
    return value.word if value else 1


def _add_order(step: dict[str, Any], node: Node, draft: Draft) -> None:
    if "when" in node:
        when = read_condition(node.child("when"), draft)
        lines_fit(node.child("when"), when, "", draft)
        if when is not None:
            step["when"] = when.word
    if "needs" in node:
        needs = [draft.stage(place) for place in node.items("needs")]
        step["needs"] = [stage for stage in needs if stage]
    if "takes_off" in node:
        step["takes_off"] = [draft.step(each) for each in node.items("takes_off")]
        if "again" not in step:
            node.child("takes_off").fault("a step that is done again")
    if "gives_back" in node:
        place = node.child("gives_back")
        named = draft.names_in_column(place)
        step["gives_back"] = [n for n in named if draft.subject_named(n, place)]
    if "typical_s" in node:
        step["typical_ms"] = node.whole("typical_s", 1, 86_400) * 1000
