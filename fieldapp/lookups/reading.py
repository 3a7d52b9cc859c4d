"""What stands in the store, read and made ready: the site, its people, its sheets.

The lowest part of the door out: nothing is folded here.
"""

import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.revisions import Revisions
from fieldapp.core.sheet import Sheet, part_hashes, prepare
from fieldapp.store.bodies import current_site, find_body
from fieldapp.store.database import Store
from fieldapp.store.roster import people_of, sheets_issued

ENTRIES_KEPT = 20_000
SHEETS_KEPT = 500
_REACHED = re.compile(rb'"subject":"([^"]+)","word":"reached"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """Where to read: the database, and the site's own key (its id, and base64url)."""

    store: Store
    office_key: str
    office_public: str


def site_picture(store: Store) -> dict[str, Any] | None:
    """Give the site as compiled, or None before the first load."""
    body = current_site(store)
    picture: dict[str, Any] | None = json.loads(body) if body else None
    return picture


def person_of_plan(store: Store, person: str) -> dict[str, Any] | None:
    """Give a person the plan names: `{id, name, roles, organisation}`, or None."""
    return next((p for p in people_of_plan(store) if p["id"] == person), None)


def people_of_plan(store: Store) -> list[dict[str, Any]]:
    """Give everybody the plan names, in its order."""
    picture = site_picture(store)
    people: list[dict[str, Any]] = picture["people"] if picture else []
    return people


def roster_of(reader: Reader) -> dict[str, dict[str, Any]]:
    """Give the enrolled people with their roles and keys."""
    return people_of(reader.store, reader.office_key)


def subjects_issued(reader: Reader) -> list[str]:
    """Give every subject that has a sheet, by id."""
    return sorted(sheets_issued(reader.store, reader.office_key))


def sheet_of(reader: Reader, subject: str) -> Sheet | None:
    """Give a subject's sheet in force, ready to fold, or None."""
    hashes = sheets_issued(reader.store, reader.office_key).get(subject)
    if not hashes:
        return None
    prepared = reader.store.cache.setdefault("sheets", {})
    if hashes not in prepared:
        if len(prepared) >= SHEETS_KEPT:
            prepared.clear()
        prepared[hashes] = _prepared(reader.store, hashes)
    sheet: Sheet = prepared[hashes]
    return sheet


@lru_cache(maxsize=ENTRIES_KEPT)
def entry_of_body(body: str) -> Entry:
    """Give the entry a stored body holds."""
    return read_entry(body.encode("utf-8"))


def others_of(reader: Reader, sheet: Sheet) -> tuple[str, ...]:
    """Give the subjects that a sheet waits for, by id; each sheet is read once."""
    kept: dict[str, tuple[str, ...]] = reader.store.cache.setdefault("others", {})
    if sheet.hash not in kept:
        body = find_body(reader.store, "sheet", sheet.hash)
        assert body is not None, f"sheet {sheet.hash} was issued and is not kept"
        # Walking the sheet took fifty times as long. In canonical bytes the keys are
        # sorted, and no text can hold the pattern: its quotes would be escaped.
        reached = {each.decode("utf-8") for each in _REACHED.findall(body)}
        awaited = {each["subject"] for each in sheet.raw.get("prerequisites", ())}
        kept[sheet.hash] = tuple(sorted(reached | awaited))
    return kept[sheet.hash]


def heard_by(sheet: Sheet) -> tuple[str, ...]:
    """Give the subjects of which a sheet asks how lately they were heard, sorted."""
    points = sheet.points.values()
    asked = [point.raw["heard"] for point in points if "heard" in point.raw]
    return tuple(sorted({name for each in asked for name in each["subjects"]}))


class _Older(Mapping[str, dict[str, str]]):
    """The `part_hashes` of a subject's earlier sheets, each read when it is asked for.

    Only an entry made under an earlier sheet asks; most subjects have none.
    """

    def __init__(self, store: Store, hashes: Iterable[str]) -> None:
        self._store, self._hashes = store, frozenset(hashes)

    def __getitem__(self, key: str) -> dict[str, str]:
        if key not in self._hashes:
            raise KeyError(key)
        kept: dict[str, dict[str, str]] = self._store.cache.setdefault("parts", {})
        if key not in kept:
            kept[key] = part_hashes(_document(self._store, "sheet", key))
        return kept[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._hashes)

    def __len__(self) -> int:
        return len(self._hashes)


def _prepared(store: Store, hashes: tuple[str, ...]) -> Sheet:
    """Give the newest of a subject's sheets; the others wait until one is asked for."""
    made: dict[str, Sheet] = {}

    def find(key: str) -> Sheet | None:
        if key in hashes and key not in made:
            made[key] = _ready(store, hashes, key, find)
        return made.get(key)

    return _ready(store, hashes, hashes[-1], find)


def _ready(store: Store, hashes: tuple[str, ...], key: str, before: Revisions) -> Sheet:
    raw = _document(store, "sheet", key)
    tables = {name: _table(store, name) for name in raw["tables"].values()}
    older = _Older(store, (each for each in hashes if each != key))
    return prepare(raw, tables, older, key, before)


def _table(store: Store, key: str) -> dict[str, Any]:
    """Give a table, one for all the sheets that name it."""
    kept: dict[str, dict[str, Any]] = store.cache.setdefault("tables", {})
    if key not in kept:
        kept[key] = _document(store, "table", key)
    return kept[key]


def _document(store: Store, kind: str, body_hash: str) -> dict[str, Any]:
    body = find_body(store, kind, body_hash)
    assert body is not None, f"{kind} {body_hash} was issued and is not kept"
    document: dict[str, Any] = json.loads(body)
    return document
