"""The rule of who signs a plan governs its own change.

A plan that comes with another rule than the one in force, or with none, is signed as
the rule in force asks: that rule stands in the plan that waits, where every phone reads
it, and the new one beside it as `rule`. Where those who signed do not satisfy the new
one as well, it is agreed, and the plan waits once more, for whom the new one asks.
"""

from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.core.entries import Entry
from fieldapp.core.plan_signing import PARTS, People, plan_signatures
from fieldapp.store.database import Store
from fieldapp.store.plans import (
    RULE,
    agree_rule,
    find_plan,
    hold_plan,
    plan_in_force,
    rule_in_force,
    rule_of,
)

Plan = dict[str, Any]


def governed(store: Store, plan: Plan) -> Plan:
    """Give a plan as it has to be signed; without `sign` nobody has to."""
    rule, own = rule_in_force(store), rule_of(plan)
    if rule in ({}, own):
        in_force = find_plan(store, plan_in_force(store))
        # What changed the rule is in force: the same files are the same plan.
        if in_force and _ruled(in_force) == plan:
            return {key: in_force[key] for key in in_force if key != "hash"}
        return plan
    return {**plan, **rule, "rule": own}


def signed_by_both(store: Store, plan: Plan, told: list[Entry], people: People) -> bool:
    """Say whether a plan signed as the old rule asks is signed as its own asks too.

    If not, the new rule is agreed and the plan waits for it (inside `writing`).
    """
    new = rule_of(plan)
    if "rule" not in plan or not new:
        return True
    if len(plan_signatures({**plan, **new}, told, people)) == len(PARTS):
        return True
    agree_rule(store, plan["hash"])
    hold_plan(store, canonical(_ruled(plan)))
    return False


def _ruled(plan: Plan) -> Plan:
    """Give a plan as its files say it: with the rule that holds once it is in force."""
    left = ("hash", "rule", *RULE)
    return {key: plan[key] for key in plan if key not in left} | rule_of(plan)
