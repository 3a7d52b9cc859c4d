"""People, their keys and the sheets issued, folded from the site-level entries.

Only what the site's own key signed counts. What is kept in the store's cache is named
by the ledger's head, so that a rolled-back write can never leave a wrong answer.
"""

from collections.abc import Iterable, Set
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.roster import ROSTER_KINDS, roster
from fieldapp.store.database import Store
from fieldapp.store.ledger import Row, heads_at, rows_of_site, site_head
from fieldapp.store.struck import bodies_of_site, struck_ids

_KINDS = (*sorted(ROSTER_KINDS), "sheet_issued")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Entries read so far, the row of the last one, and what was struck then."""

    struck: frozenset[str]
    last: Row | None = None
    entries: tuple[Entry, ...] = ()


def people_of(store: Store, office_key: str) -> dict[str, dict[str, Any]]:
    """Give the roster as `core.roster` folds it: people with roles and keys."""
    people: dict[str, dict[str, Any]] = _site_facts(store, office_key)[0]
    return people


def people_without(
    store: Store, office_key: str, fallen: Set[str]
) -> dict[str, dict[str, Any]]:
    """Give the roster of everything but these entries, whatever is struck by now."""
    bodies = bodies_of_site(store, sorted(ROSTER_KINDS))
    entries = (
        read_entry(body.encode("utf-8")) for id_, body in bodies if id_ not in fallen
    )
    return roster(entries, office_key)


def sheets_issued(store: Store, office_key: str) -> dict[str, tuple[str, ...]]:
    """Give, per subject, the hashes of its sheets in the order they were issued."""
    sheets: dict[str, tuple[str, ...]] = _site_facts(store, office_key)[1]
    return sheets


def names_of_revoked(store: Store, office_key: str) -> dict[str, frozenset[str]]:
    """Give, by revoked key, what its revocations name of what was there before them.

    Empty for a key whose revocations, of an earlier version, named nothing.
    """
    names: dict[str, frozenset[str]] = _site_facts(store, office_key)[2]
    return names


def _site_facts(store: Store, office_key: str) -> tuple[Any, Any, Any]:
    struck = struck_ids(store)
    named = (site_head(store), office_key, struck)
    kept = store.cache.get("site_facts")
    if kept and kept[0] == named:
        return kept[1], kept[2], kept[3]
    entries = _site_entries(store, struck)
    facts = (
        roster(entries, office_key),
        _sheets(entries, office_key),
        _names_of_revoked(entries, office_key),
    )
    store.cache["site_facts"] = (named, *facts)
    return facts


def _site_entries(store: Store, struck: frozenset[str]) -> tuple[Entry, ...]:
    """Give the entries these facts rest on; only what is new of them is read."""
    kept: Kept = store.cache.get("site_entries") or Kept(struck=struck)
    if kept.struck != struck or (
        kept.last and heads_at(store, [kept.last.place]) != [kept.last.head]
    ):
        kept = Kept(struck=struck)
    rows = rows_of_site(store, _KINDS, after=kept.last.place if kept.last else 0)
    if rows:
        new = (read_entry(row.body.encode("utf-8")) for row in rows)
        kept = Kept(struck=struck, last=rows[-1], entries=(*kept.entries, *new))
        store.cache["site_entries"] = kept
    return kept.entries


def _names_of_revoked(
    entries: Iterable[Entry], office_key: str
) -> dict[str, frozenset[str]]:
    names: dict[str, frozenset[str]] = {}
    for entry in entries:
        if entry.kind == "key_revoked" and entry.key == office_key:
            before = names.get(entry.about["key"], frozenset())
            names[entry.about["key"]] = before | frozenset(entry.needs)
    return names


def _sheets(entries: Iterable[Entry], office_key: str) -> dict[str, tuple[str, ...]]:
    sheets: dict[str, tuple[str, ...]] = {}
    for entry in entries:
        if entry.kind == "sheet_issued" and entry.key == office_key:
            earlier = sheets.get(entry.about["subject"], ())
            sheets[entry.about["subject"]] = (*earlier, entry.about["sheet"])
    return sheets
