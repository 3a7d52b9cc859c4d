"""Compiles the sheet of each subject: all the engineering, once, as whole numbers.

Compiling is also how a plan is checked: what cannot be compiled is a fault, and all
faults of all subjects are found in one run. The same files give the same bytes.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import NotCanonical, fingerprint
from fieldapp.plan.bindings import add_calculation
from fieldapp.plan.circles import check_order
from fieldapp.plan.columns import column_places, filled
from fieldapp.plan.conditions import declare_condition
from fieldapp.plan.draft import Draft, new_draft
from fieldapp.plan.expressions import declare_value
from fieldapp.plan.faults import Faults
from fieldapp.plan.gates import read_card, read_milestone, read_point
from fieldapp.plan.picture import elevation, plan_of
from fieldapp.plan.prerequisites import check_circles, read_prerequisites
from fieldapp.plan.references import check_references
from fieldapp.plan.signers import read_plain_signers
from fieldapp.plan.site import Files, Person, Subject
from fieldapp.plan.steps import read_step, roles, words
from fieldapp.plan.timing import read_clock, read_hold, report_same_words
from fieldapp.plan.toml_node import Node

FORMAT = 1
RULES = 1
AMENDED = 2
"""Mended readings of these rules that a sheet asks for; sheets without stay as read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compiled:
    """Sheets by subject, table bodies by hash, the site's elevation and its people.

    `plan` is what is signed before sheets are issued; without `sign`, nobody has to.
    """

    site_id: str
    sheets: Mapping[str, dict[str, Any]]
    tables: Mapping[str, dict[str, Any]]
    picture: dict[str, Any]
    people: tuple[Person, ...]
    plan: dict[str, Any]


def compile_files(site: Files, faults: Faults) -> Compiled:
    """Compile every subject; what is wrong is added to the faults."""
    sheets: dict[str, dict[str, Any]] = {}
    hashes: dict[str, str] = {}
    tables: dict[str, dict[str, Any]] = {}
    places = {name: column_places(kind.value) for name, kind in site.kinds.items()}
    for subject in site.subjects:
        kind = filled(site.kinds[subject.kind], places[subject.kind], subject)
        sheets[subject.id] = _sheet(site, subject, kind, tables)
        hashes[subject.id] = _hash(sheets[subject.id], kind)
    check_circles(site.subjects, sheets, faults)
    used = {subject.kind for subject in site.subjects}
    for name, kind in site.kinds.items():
        if name not in used and not faults.touch_tables():
            kind.child("id").fault("a kind that a subject has, or it is never checked")
    return Compiled(
        site_id=site.id,
        sheets=sheets,
        tables=dict(sorted(tables.items())),
        picture=elevation(site),
        people=site.people,
        plan=plan_of(site, sheets, hashes),
    )


def _sheet(
    site: Files, subject: Subject, kind: Node, tables: dict[str, dict[str, Any]]
) -> dict[str, Any]:
    draft = new_draft(site, subject, kind)
    _add_items(draft)
    for node in kind.items("calculations", need=False):
        add_calculation(node, draft)
    _check_names(draft)
    _declare(draft)
    sheet = _head(draft) | _body(draft)
    sheet["tables"] = _hashed(draft, tables)
    check_references(sheet, draft)
    check_order(sheet, draft)
    for key in ("subjects", "name"):
        kind.child(key)
    kind.finish()
    return sheet


def _hash(sheet: dict[str, Any], kind: Node) -> str:
    """A sheet must have a hash: whole numbers that both languages hold exactly."""
    try:
        return fingerprint(sheet)
    except NotCanonical as fault:
        kind.fault("numbers and texts that can be signed", str(fault))
        return ""


def _add_items(draft: Draft) -> None:
    for jack in draft.site.jacks:
        facts = [{"label": "Gauge", "value": jack.gauge}]
        draft.items[jack.id] = {
            "label": jack.title,
            "kind": jack.kind,
            "numbers": {},
            "expires": jack.expires_ms,
            "facts": facts + _certificate(jack.certificate),
        }
    for item in draft.site.items:
        draft.items[item.id] = {
            "label": item.title,
            "kind": item.kind,
            "numbers": dict(item.numbers),
        }
        if item.expires_ms is not None:
            draft.items[item.id]["expires"] = item.expires_ms
        if item.certificate:
            draft.items[item.id]["facts"] = _certificate(item.certificate)
    for kind in draft.site.item_kinds.values():
        draft.item_numbers[kind.id] = dict(kind.numbers)


def _certificate(text: str) -> list[dict[str, str]]:
    return [{"label": "Certificate", "value": text}] if text else []


def _check_names(draft: Draft) -> None:
    """A name the plan declares is not also given by a calculation."""
    for key, made in (
        ("values", set(draft.values)),
        ("conditions", set(draft.conditions)),
    ):
        for name, node in draft.kind.named(key, need=False):
            if name in made - draft.declared:
                node.fault("a name no calculation gives", name)


def _declare(draft: Draft) -> None:
    """Read the plan's own values and conditions that nothing has asked for yet."""
    for name, node in draft.kind.named("values", need=False):
        declare_value(name, node, draft)
    for name, node in draft.kind.named("conditions", need=False):
        declare_condition(name, node, draft)


def _head(draft: Draft) -> dict[str, Any]:
    kind = draft.kind
    facts = [_fact(node, draft) for node in kind.items("facts", need=False)]
    return {
        "format": FORMAT,
        "rules": RULES,
        "amended": AMENDED,
        "site": draft.site.id,
        "subject": draft.subject.id,
        "kind": kind.identity("id"),
        "title": words(kind, "title", draft),
        "revision": draft.site.revision,
        "facts": facts + draft.facts,
        "items": draft.items,
        "record": roles(kind, "record", draft),
        "dispose": read_plain_signers(kind, "dispose", draft.site),
        "propose": read_plain_signers(kind, "propose", draft.site),
    }


def _body(draft: Draft) -> dict[str, Any]:
    """Read the named tables of the kind; steps first, they may add no names."""
    steps = {name: read_step(name, n, draft) for name, n in draft.kind.named("steps")}
    points = {name: read_point(name, n, draft) for name, n in _named(draft, "points")}
    lists = {
        "milestones": read_milestone,
        "clocks": read_clock,
        "holds": read_hold,
        "cards": read_card,
    }
    body: dict[str, Any] = {
        key: [read(name, node, draft) for name, node in _named(draft, key)]
        for key, read in lists.items()
    }
    # Of a clock that this subject has no need of nothing is left.
    body["clocks"] = [clock for clock in body["clocks"] if clock]
    report_same_words(dict(_named(draft, "clocks")), body["clocks"])
    return body | {
        "flow": _flow(draft),
        "steps": steps,
        "points": points,
        "values": {name: value.word for name, value in draft.values.items()},
        "conditions": {name: each.word for name, each in draft.conditions.items()},
        "prerequisites": read_prerequisites(draft),
        "pictures": draft.pictures,
    }


def _named(draft: Draft, key: str) -> list[tuple[str, Node]]:
    return draft.kind.named(key, need=False)


def _fact(node: Node, draft: Draft) -> dict[str, str]:
    fact = {"label": words(node, "label", draft), "value": words(node, "value", draft)}
    if "source" in node:
        fact["source"] = words(node, "source", draft)
    node.finish()
    return fact


def _flow(draft: Draft) -> list[str]:
    """Every step and point stands in the flow once, a gate before what it shuts."""
    flow = draft.kind.ids("flow")
    known = [*draft.steps, *draft.points]
    place = draft.kind.child("flow")
    for name in flow:
        if name not in known:
            place.fault("steps and points: " + ", ".join(known), name)
    for name in known:
        if name not in flow:
            place.fault("every step and point once", f"no {name}")
    for name, node in _named(draft, "points"):
        _check_order(name, node, flow)
    return flow


def _check_order(point: str, node: Node, flow: list[str]) -> None:
    """A point comes after the steps it covers and before those it shuts."""
    for key, side in (("covers", -1), ("shuts", 1)):
        for place in node.items(key):
            if point in flow and place.value in flow:
                ahead = flow.index(place.value) - flow.index(point)
                if ahead * side < 0:
                    word = "before" if side < 0 else "after"
                    place.fault(f"a step {word} {point} in the flow")


def _hashed(draft: Draft, tables: dict[str, dict[str, Any]]) -> dict[str, str]:
    """Give the tables of a sheet by hash; a body that many share is hashed once."""
    known = {id(body): key for key, body in tables.items()}
    hashes = {}
    for name, table in draft.tables.items():
        key = known.get(id(table.body)) or fingerprint(table.body)
        hashes[name] = key
        tables.setdefault(key, table.body)
    return hashes
