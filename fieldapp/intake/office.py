"""What the office itself puts into the ledger: people, sheets, the files' items.

These entries are signed with the site's own key and stand in the same ledger, in the
same chain, as everybody's. A code is spent and its key enrolled in one transaction.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.core.canonical import canonical
from fieldapp.intake.batch import judge_again
from fieldapp.intake.door import OFFICE, Door, append_own
from fieldapp.intake.lost import revoke_key
from fieldapp.intake.plan_rule import governed
from fieldapp.intake.plans import issue_sheets, issue_signed
from fieldapp.signatures import key_id, verify
from fieldapp.store.bodies import keep_body, set_site
from fieldapp.store.database import Store, writing
from fieldapp.store.devices import (
    Code,
    find_code,
    find_device,
    give_token,
    use_code,
)
from fieldapp.store.plans import (
    hold_plan,
    put_plan_in_force,
    put_sheets_in_force,
)
from fieldapp.store.room import keep_room
from fieldapp.store.roster import people_of


class EnrolmentRefused(Exception):
    """An enrolment that cannot be done: its code, the field, and what is allowed."""

    def __init__(self, code: str, field: str, allowed: str) -> None:
        self.code, self.field, self.allowed = code, field, allowed
        super().__init__(f"{field}: {allowed}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Enrolment:
    """A phone's wish to be a person's: the code, its key, and proof that it has it."""

    code: str
    device: str
    public: str
    proof: str

    def claim(self) -> bytes:
        """Give the bytes which the proof signs."""
        return f"enrol:{self.code}:{self.device}:{self.public}".encode()


def enrol(
    door: Door, wish: Enrolment, person: dict[str, Any], *, known: bool, now: int
) -> str | None:
    """Enrol a person's key on a device by an office code; gives the device's token.

    `person` is who the code was made for: `{id, name, roles, organisation}`. `known`
    says that the request carried the device's own token; then None is given and that
    token stays. Asking again with the same code and key is answered again, so that a
    lost answer costs nothing.
    Errors: `EnrolmentRefused`.
    """
    keep_room(door.store, 0)
    with writing(door.store):
        code = _usable_code(door.store, wish, now)
        known_as = find_device(door.store, wish.device)
        if known_as and known_as.revoked:
            raise EnrolmentRefused(
                "device_revoked", "device", "a phone that was not reported lost"
            )
        again = code.used is not None or _is_enrolled(door, wish, person["id"])
        if known_as and not known and not again:
            raise EnrolmentRefused(
                "device_known", "device", "a new id, or this device's own token"
            )
        if code.used is None:
            use_code(
                door.store, wish.code, device=wish.device, public=wish.public, now=now
            )
            append_own(door, "enrolled", _enrolled_about(wish, person), now)
            judge_again(door, now)
        return None if known else give_token(door.store, wish.device, now)


def issue(
    door: Door,
    *,
    site: str,
    document: bytes,
    sheets: dict[str, bytes],
    tables: Sequence[bytes],
    now: int,
    plan: bytes | None = None,
) -> list[str]:
    """Put a compiled site in force; gives the subjects whose sheet is new.

    A subject whose sheet has not changed gets no entry, nor does an item, so that
    loading the same files twice changes nothing. Nor does a subject that is begun. With
    a plan to be signed, by its own rule or the one in force, its sheets wait until it
    is. All or nothing.
    """
    keep_room(door.store, sum(map(len, [*sheets.values(), *tables])))
    with writing(door.store):
        set_site(door.store, site, document)
        for body in tables:
            keep_body(door.store, "table", body)
        hashes = {
            subject: keep_body(door.store, "sheet", body)
            for subject, body in sorted(sheets.items())
        }
        asked = governed(door.store, json.loads(plan) if plan else {})
        assert plan or not asked, "a plan to be signed must come as one"
        if "sign" in asked:
            hold_plan(door.store, canonical(asked))
            return issue_signed(door, now)
        hold_plan(door.store, None)
        put_plan_in_force(door.store, "")
        put_sheets_in_force(door.store, hashes)
        return issue_sheets(door, hashes, now)


def end_key(
    door: Door, *, person: str, key: str, reason: str, revoked: bool, now: int
) -> None:
    """Retire a person's key (its entries stand), or revoke it (phone lost)."""
    with writing(door.store):
        if revoked:
            revoke_key(door, person, key, reason, now)
            return
        about = {"person": person, "key": key, "reason": reason}
        append_own(door, "key_retired", about, now)


def _usable_code(store: Store, wish: Enrolment, now: int) -> Code:
    code = find_code(store, wish.code)
    if code is None or code.expires < now:
        raise EnrolmentRefused("code_unknown", "code", "a code that has not run out")
    if code.used and (code.device, code.public) != (wish.device, wish.public):
        raise EnrolmentRefused("code_used", "code", "a code that was not used yet")
    if OFFICE in (wish.device, code.person):
        raise EnrolmentRefused("reserved", "device", f"another name than {OFFICE}")
    if not verify(wish.public, wish.claim(), wish.proof):
        raise EnrolmentRefused("proof_wrong", "proof", "a signature with this key")
    return code


def _is_enrolled(door: Door, wish: Enrolment, person: str) -> bool:
    """Whether the person is on that device already, with whatever key.

    A phone whose token an office brought back does not know must get in again, or
    what it holds could never be delivered.
    """
    people = people_of(door.store, door.office.id)
    keys = people.get(person, {}).get("keys", {}).values()
    return any(key["device"] == wish.device for key in keys)


def _enrolled_about(wish: Enrolment, person: dict[str, Any]) -> dict[str, Any]:
    return {
        "person": person["id"],
        "name": person["name"],
        "roles": sorted(person["roles"]),
        "organisation": person["organisation"],
        "key": key_id(wish.public),
        "public": wish.public,
        "device": wish.device,
    }
