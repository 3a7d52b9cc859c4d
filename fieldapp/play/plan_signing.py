"""Signs a plan that waits, with keys made up for the play: prepared, checked, approved.

Through the real door, by people whom the plan names, so that what is played begins as
a real site does. Never for a real site's plan.
"""

from collections.abc import Iterator
from itertools import product
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.plan_signing import PARTS, SIGNED
from fieldapp.core.view import allowed
from fieldapp.lookups import people_of_plan
from fieldapp.play.world import PlayFault, World
from fieldapp.store.plans import find_plan, plan_waiting


def sign_waiting_plan(world: World, now: int) -> Iterator[str]:
    """Sign the plan that waits, if one does; gives who signed as what."""
    store = world.door.store
    waiting = plan_waiting(store)
    plan = find_plan(store, waiting) if waiting else None
    if plan is None:
        return
    named: list[Entry] = []
    for part, person in zip(PARTS, _three(plan, people_of_plan(store)), strict=True):
        # A phone of its own for each plan: whoever plays again knows no older keys.
        phone = world.phone(f"plan-{waiting[:12]}-{person['id']}", now=now)
        world.enrol(phone, person["id"], now)
        named.append(
            phone.write(
                SIGNED,
                person=person["id"],
                now=now,
                about={"plan": plan["hash"], "as": part},
                needs=sorted(entry.id for entry in named),
            )
        )
        world.sync(phone, now)
        yield f"the plan, {part} by {person['name']} (with a key made for this play)"
    count = len(plan["sheets"])
    yield f"the plan is signed: {count} sheet{'s' * (count != 1)} in force"


def _three(
    plan: dict[str, Any], people: list[dict[str, Any]]
) -> tuple[dict[str, Any], ...]:
    roster = {"people": {each["id"]: each for each in people}}
    mine = [
        [each for each in people if allowed(roster, each["id"], plan["sign"][part])]
        for part in PARTS
    ]
    for three in product(*mine):
        apart = len({each["id"] for each in three}) == len(PARTS)
        others = {each["organisation"] for each in three[1:]}
        mixed = plan["independent"] == "organisation"
        if apart and not (mixed and three[0]["organisation"] in others):
            return three
    raise PlayFault("plan_signers: nobody of the plan could sign it")
