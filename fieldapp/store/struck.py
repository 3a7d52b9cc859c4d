"""What revocations need to know of the ledger, and what it holds of a lost phone's.

An entry that came in while a restored office did not know of its key's revocation is
struck: it stays where it is, in the chain and in every pull, and is not believed. What
is struck is worked out from the ledger and never evidence.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from fieldapp.store.database import Store, write_rows


def believed(store: Store) -> Any:
    """Give the condition under which a row of the ledger is believed."""
    struck = store.tables["struck"]
    return store.tables["ledger"].id.not_in(struck.select(struck.id))


def struck_ids(store: Store) -> frozenset[str]:
    """Give the ids of the entries in the ledger that are not believed."""
    rows = store.database.execute_sql("SELECT id FROM struck").fetchall()
    return frozenset(entry_id for (entry_id,) in rows)


def strike(store: Store, ids: frozenset[str]) -> bool:
    """Let these entries be the ones not believed (inside `writing`); was it news?"""
    if ids == struck_ids(store):
        return False
    store.tables["struck"].delete().execute()
    write_rows(store, "struck", [(each,) for each in sorted(ids)])
    # What was folded may rest on them.
    store.cache.clear()
    return True


def bodies_before(store: Store, place: int) -> Iterator[tuple[str, str]]:
    """Give id and body of all rows before a place."""
    param = store.database.param
    asked = f"SELECT id, body FROM ledger WHERE place < {param}"  # noqa: S608
    yield from store.database.execute_sql(asked, (place,))


def bodies_of_site(store: Store, kinds: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Give id and body of the site-level rows of some kinds, struck ones too."""
    params = (*kinds,)
    marks = ",".join([store.database.param] * len(params))
    which = f"subject IS NULL AND kind IN ({marks}) ORDER BY place"
    asked = f"SELECT id, body FROM ledger WHERE {which}"  # noqa: S608
    yield from store.database.execute_sql(asked, params)


def bodies_of_device(store: Store, device: str, place: int = 0) -> dict[str, str]:
    """Give the bodies, by id, of a device's rows after a place, in its own order."""
    param = store.database.param
    which = f"device = {param} AND place > {param} ORDER BY seq, id"
    asked = f"SELECT id, body FROM ledger WHERE {which}"  # noqa: S608
    return dict(store.database.execute_sql(asked, (device, place)).fetchall())
