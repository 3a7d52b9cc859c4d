"""The revisions of a subject's sheet: an entry is judged by the one it names."""

from collections.abc import Callable, Mapping
from typing import Any

from fieldapp.core.sheet import Sheet, part_hashes, prepare

Revisions = Callable[[str], Sheet | None]
"""Gives a revision of a subject's sheet by its hash, made ready, if it is here."""


def revisions_of(
    sheets: Mapping[str, dict[str, Any]], tables: Mapping[str, Any]
) -> Revisions:
    """Give a subject's sheets (by hash), each made ready when it is first asked for.

    One whose tables are not all here is as good as not here.
    """
    made: dict[str, Sheet] = {}

    def find(key: str) -> Sheet | None:
        raw = sheets.get(key)
        if raw and key not in made and tables.keys() >= set(raw["tables"].values()):
            others = (each for each in sheets if each != key)
            older = {name: part_hashes(sheets[name]) for name in others}
            made[key] = prepare(raw, dict(tables), older, key, find)
        return made.get(key)

    return find
