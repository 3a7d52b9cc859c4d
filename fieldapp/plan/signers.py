"""Reads who signs: roles with their organisations and deputies, and who signs the plan.

A role that nobody holds is a fault: a gate nobody can open is no gate.
"""

from itertools import product
from typing import Any, Protocol

from fieldapp.core.plan_signing import PARTS
from fieldapp.plan.site import Organisation, Person
from fieldapp.plan.toml_node import Node

MINUTE_MS = 60_000
DAY_MIN = 24 * 60
INDEPENDENT = ("organisation", "person")


class Staff(Protocol):
    """Who is on the site."""

    @property
    def people(self) -> tuple[Person, ...]:
        """Give everybody with their roles."""

    @property
    def organisations(self) -> tuple[Organisation, ...]:
        """Give the employers."""


def read_signers(node: Node, key: str, staff: Staff) -> list[dict[str, Any]]:
    """Read roles, each with the organisations it must belong to, if any are named."""
    found = []
    for place in node.items(key):
        signer = _signer(place, staff)
        deputies = [
            _deputy(each, staff) for each in place.items("deputies", need=False)
        ]
        if deputies:
            signer["deputies"] = deputies
        place.finish()
        found.append(signer)
    return found


def read_plain_signers(node: Node, key: str, staff: Staff) -> list[dict[str, Any]]:
    """Read roles that nobody stands in for: a decision waits as long as it must."""
    found = []
    for place in node.items(key):
        found.append(_signer(place, staff))
        place.finish()
    return found


def read_plan_signers(site: Node, staff: Staff) -> dict[str, Any] | None:
    """Read who signs the plan before its sheets are issued; None if nobody has to."""
    if "plan_signers" not in site:
        return None
    node = site.child("plan_signers")
    independent = node.one_of("independent", INDEPENDENT, INDEPENDENT[0])
    sign = {part: read_plain_signers(node, part, staff) for part in PARTS}
    if all(sign.values()) and not _possible(sign, independent, staff):
        node.fault("three people, who checks and approves independent of who prepares")
    node.finish()
    return {"sign": sign, "independent": independent}


def _possible(sign: dict[str, Any], independent: str, staff: Staff) -> bool:
    """Say whether three people of the site could sign at all."""
    mine = [
        [p for p in staff.people if any(_may(p, each) for each in sign[part])]
        for part in PARTS
    ]
    if not all(mine):
        # Told where the role stands.
        return True
    by_person = independent == "person"
    return any(
        len({one.id for one in three}) == len(three)
        and (by_person or prepared.organisation not in _employers(three[1:]))
        for three in product(*mine)
        for prepared in three[:1]
    )


def _employers(people: tuple[Person, ...]) -> set[str]:
    return {person.organisation for person in people}


def _may(person: Person, wanted: dict[str, Any]) -> bool:
    of = wanted.get("organisation", [person.organisation])
    return wanted["role"] in person.roles and person.organisation in of


def _deputy(node: Node, staff: Staff) -> dict[str, Any]:
    """A deputy may sign once the call has waited so long."""
    after_ms = node.whole("after_min", 0, 90 * DAY_MIN) * MINUTE_MS
    deputy = {**_signer(node, staff), "after_ms": after_ms}
    node.finish()
    return deputy


def _signer(node: Node, staff: Staff) -> dict[str, Any]:
    signer: dict[str, Any] = {"role": node.text("role")}
    if "organisation" in node:
        signer["organisation"] = _organisations(node, staff)
    if not any(_may(person, signer) for person in staff.people):
        allowed = "a role that a person of that organisation holds"
        node.child("role").lacks(allowed, "people.csv")
    return signer


def _organisations(node: Node, staff: Staff) -> list[str]:
    known = [each.id for each in staff.organisations]
    found = node.ids("organisation")
    for place in node.items("organisation"):
        if place.value not in known:
            allowed = "an organisation: " + ", ".join(known)
            place.lacks(allowed, "organisations.csv")
    return found
