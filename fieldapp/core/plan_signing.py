"""Whether a plan is signed: prepared, checked and approved, by three people.

Each signature names the ones it rests on in `needs`, so that their order is proved by
hashes and no clock is asked. Who checks and who approves are independent of who
prepared: other people, and of another organisation unless the plan says otherwise.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.view import allowed

PARTS = ("prepared", "checked", "approved")
"""What a plan is signed as, in this order."""
SIGNED = "plan_signed"

Plan = Mapping[str, Any]
"""`hash` of the plan; `sign`: per part the roles (and organisations) that may;
`independent`: organisation or person."""
People = Mapping[str, Any]


def plan_signatures(
    plan: Plan, entries: Iterable[Entry], people: People
) -> dict[str, Entry]:
    """Give the signatures that stand, by part in order; whole when it has all parts.

    entries: of the site, in any order; people: the roster. Where several could stand
    those that lead furthest do, then those of the least ids.
    """
    told: dict[str, list[Entry]] = {}
    for entry in sorted(entries, key=lambda each: each.id):
        mine = entry.kind == SIGNED and entry.about["plan"] == plan["hash"]
        if mine and entry.unlocked == "pin":
            told.setdefault(entry.about["as"], []).append(entry)
    best: tuple[Entry, ...] = ()
    chains: list[tuple[Entry, ...]] = [()]
    for part in PARTS:
        chains = [
            (*chain, entry)
            for chain in chains
            for entry in told.get(part, ())
            if all(each.id in entry.needs for each in chain)
            and not _unfit(plan, chain, people, entry.person)
        ]
        best = chains[0] if chains else best
    return dict(zip(PARTS, best, strict=False))


def plan_refusals(
    plan: Plan, entries: Iterable[Entry], people: People, person: str
) -> list[Refusal]:
    """Give why a person may not sign what the plan waits for next; empty: they may."""
    signed = tuple(plan_signatures(plan, entries, people).values())
    if len(signed) == len(PARTS):
        return [refusal("plan_is_signed")]
    return _unfit(plan, signed, people, person)


def _unfit(
    plan: Plan, chain: tuple[Entry, ...], people: People, person: str
) -> list[Refusal]:
    part = PARTS[len(chain)]
    if not allowed({"people": people}, person, plan["sign"][part]):
        return [refusal("plan_role", part=part)]
    if any(entry.person == person for entry in chain):
        return [refusal("plan_same_person", part=part)]
    alone = plan["independent"] == "organisation" and chain
    if alone and _employer(people, person) == _employer(people, chain[0].person):
        return [refusal("plan_same_organisation", part=part)]
    return []


def _employer(people: People, person: str) -> str:
    employer: str = people[person]["organisation"]
    return employer
