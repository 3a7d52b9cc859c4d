"""Which plan and sheets are in force, which plan waits; bodies by their hash.

A sheet in force is the one a subject not begun is given; one begun may still be on the
sheet it began with.
"""

import json
from collections.abc import Mapping
from typing import Any

from fieldapp.store.bodies import find_body, keep_body
from fieldapp.store.database import Store, read_meta, write_meta

KIND = "plan"
RULE = ("sign", "independent")
"""What a plan says of who signs it."""
_WAITING, _IN_FORCE = "plan_waiting", "plan_in_force"
_SHEETS = "sheets_in_force"
_AGREED = "plan_rule_agreed"
Plan = dict[str, Any]


def hold_plan(store: Store, body: bytes | None) -> None:
    """Let a plan wait for its signatures (inside `writing`); None: none waits."""
    found = keep_body(store, KIND, body) if body else ""
    write_meta(store, _WAITING, "" if found == plan_in_force(store) else found)


def put_plan_in_force(store: Store, plan_hash: str) -> None:
    """Note that a plan's sheets are issued, or "" for one that asks no signature."""
    write_meta(store, _IN_FORCE, plan_hash)
    write_meta(store, _AGREED, "")
    if plan_hash:
        write_meta(store, _WAITING, "")


def put_sheets_in_force(store: Store, sheets: Mapping[str, str]) -> None:
    """Note the sheets (hash by subject) of a plan that asks no signature."""
    write_meta(store, _SHEETS, json.dumps(sheets, sort_keys=True))


def sheets_in_force(store: Store) -> dict[str, str]:
    """Give the hash of every subject's sheet as the plan in force has it.

    Empty for a site that was last loaded before these were noted.
    """
    plan = find_plan(store, plan_in_force(store))
    sheets: dict[str, str] = (
        plan["sheets"] if plan else json.loads(read_meta(store, _SHEETS) or "{}")
    )
    return sheets


def plan_waiting(store: Store) -> str:
    """Give the hash of the plan that waits, or ""."""
    return read_meta(store, _WAITING) or ""


def plan_in_force(store: Store) -> str:
    """Give the hash of the signed plan in force, or ""."""
    return read_meta(store, _IN_FORCE) or ""


def agree_rule(store: Store, plan_hash: str) -> None:
    """Note that a plan's `rule` is agreed, before its sheets are (inside `writing`)."""
    write_meta(store, _AGREED, plan_hash)


def rule_in_force(store: Store) -> Plan:
    """Give `sign` and `independent` as in force; empty: nobody has to sign a plan."""
    agreed = find_plan(store, read_meta(store, _AGREED) or "")
    plan = agreed or find_plan(store, plan_in_force(store))
    return rule_of(plan) if plan else {}


def rule_of(plan: Plan) -> Plan:
    """Give who signs once a plan is in force: as it says, or as it is signed."""
    rule: Plan = plan.get("rule", {key: plan[key] for key in RULE if key in plan})
    return rule


def find_plan(store: Store, plan_hash: str) -> Plan | None:
    """Give a plan with its own hash: what `core.plan_signing` asks of one."""
    body = find_body(store, KIND, plan_hash)
    return {**json.loads(body), "hash": plan_hash} if body else None
