"""Issues the sheets of a plan: at once, or when its three signatures stand.

A plan that waits touches nothing: sheets in hand stay as they are, and the items its
files name are registered with its sheets, not before. Nor does a revision touch a
sheet in hand: a subject about which anything is recorded keeps its sheet until somebody
orders otherwise by naming it.
"""

import json
from collections.abc import Iterable, Mapping

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.plan_signing import PARTS, SIGNED, plan_signatures
from fieldapp.intake.door import Door, append_own
from fieldapp.intake.items import items_of_sheets, wanted_registrations
from fieldapp.intake.plan_rule import signed_by_both
from fieldapp.store.bodies import find_body
from fieldapp.store.database import Store, writing
from fieldapp.store.ledger import last_places, rows_of_site
from fieldapp.store.plans import (
    find_plan,
    plan_waiting,
    put_plan_in_force,
    sheets_in_force,
)
from fieldapp.store.register import items_registered, registrations
from fieldapp.store.roster import people_of, sheets_issued


def issue_signed(door: Door, now: int) -> list[str]:
    """Issue the plan that waits if it is signed; gives the subjects with new sheets.

    Inside `writing`, so that the signature that was missing and the sheets it lets out
    are on disk together.
    """
    waiting = plan_waiting(door.store)
    plan = find_plan(door.store, waiting) if waiting else None
    if plan is None:
        return []
    people = people_of(door.store, door.office.id)
    told = signatures_told(door.store)
    if len(plan_signatures(plan, told, people)) < len(PARTS):
        return []
    if not signed_by_both(door.store, plan, told, people):
        return issue_signed(door, now)
    put_plan_in_force(door.store, waiting)
    return issue_sheets(door, plan["sheets"], now)


def signatures_told(store: Store) -> list[Entry]:
    """Give every signature under any plan, counted or not."""
    return [read_entry(r.body.encode("utf-8")) for r in rows_of_site(store, (SIGNED,))]


def issue_sheets(door: Door, sheets: Mapping[str, str], now: int) -> list[str]:
    """Issue what is new of sheets (hash by subject) that are kept, and their items.

    A subject that has a sheet and an entry in the ledger, counted or not, is begun and
    keeps what it has.
    """
    issued = sheets_issued(door.store, door.office.id)
    begun = last_places(door.store).keys() & issued.keys()
    new = _issue(door, {s: h for s, h in sheets.items() if s not in begun}, now)
    _register_items(door, sheets, now)
    return new


def issue_ordered(door: Door, subjects: Iterable[str], now: int) -> list[str]:
    """Give these subjects, begun or not, the sheets in force; gives those it is new to.

    All or none. Errors: `KeyError` with a subject that has no sheet in force.
    """
    with writing(door.store):
        sheets = sheets_in_force(door.store)
        return _issue(door, {each: sheets[each] for each in subjects}, now)


def _issue(door: Door, sheets: Mapping[str, str], now: int) -> list[str]:
    issued = sheets_issued(door.store, door.office.id)
    new = [s for s in sorted(sheets) if issued.get(s, ("",))[-1] != sheets[s]]
    for subject in new:
        about = {"subject": subject, "sheet": sheets[subject]}
        append_own(door, "sheet_issued", about, now)
    return new


def _register_items(door: Door, sheets: Mapping[str, str], now: int) -> None:
    bodies = [find_body(door.store, "sheet", sheets[name]) for name in sorted(sheets)]
    items = items_of_sheets(json.loads(body) for body in bodies if body)
    known = registrations(door.store)
    wanted = wanted_registrations(
        items,
        [entry for entry in known if entry.key == door.office.id],
        items_registered(door.store, door.office.id),
    )
    for about, numbers in wanted:
        append_own(door, "registered", about, now, values=numbers)
