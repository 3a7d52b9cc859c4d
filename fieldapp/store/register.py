"""The site's register of equipment and material, folded from the ledger.

A registration counts when the site's own key signed it (what the site's files name)
or somebody whose role the site allows to register; any other is kept and shown, and
never counts. The phone applies the same rule to the same entries.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.certificates import certified
from fieldapp.core.entries import Entry, read_entry
from fieldapp.store.bodies import current_site
from fieldapp.store.database import Store
from fieldapp.store.ledger import rows_of_site, site_head
from fieldapp.store.roster import people_of

KIND = "registered"
DEFAULT_ROLES = ("stores",)
"""Who may register where the site's files name nobody under `register`."""
Items = dict[str, dict[str, Any]]


def roles_that_register(store: Store) -> tuple[str, ...]:
    """Give the roles that may register items, as the site in force names them."""
    body = current_site(store)
    named = json.loads(body).get("register") if body else None
    return tuple(named) if named else DEFAULT_ROLES


def registrations(store: Store) -> list[Entry]:
    """Give every registration in the ledger's order, counted or not."""
    return [read_entry(r.body.encode("utf-8")) for r in rows_of_site(store, (KIND,))]


def counted(
    entries: Iterable[Entry],
    people: Mapping[str, Mapping[str, Any]],
    roles: Iterable[str],
    office_key: str,
) -> list[Entry]:
    """Keep the registrations of the site's key and of people with one of the roles."""
    wanted = set(roles)
    return [
        entry
        for entry in entries
        if entry.kind == KIND
        and (
            entry.key == office_key
            or wanted & set(people.get(entry.person, {}).get("roles", ()))
        )
    ]


def items_registered(store: Store, office_key: str) -> Items:
    """Give the register as it stands; kept until a site-level entry comes."""
    roles = roles_that_register(store)
    named = (site_head(store), office_key, roles)
    kept = store.cache.get("register")
    if kept is None or kept[0] != named:
        people = people_of(store, office_key)
        good = counted(registrations(store), people, roles, office_key)
        kept = (named, certified(good))
        store.cache["register"] = kept
    return dict(kept[1])
