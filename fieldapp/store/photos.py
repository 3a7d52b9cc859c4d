"""Photos as they came, kept by their SHA-256 and never changed or deleted.

They lie in the same database as the ledger, so that one copy of it is whole and what
was acknowledged is on disk. Nothing here judges a photo: that is intake's work.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from fieldapp.store.database import Store
from fieldapp.store.images import ImageFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoFacts:
    """What is known of a kept photo without its bytes; sides in pixels."""

    hash: str
    type: str
    width: int
    height: int
    device: str
    received: int


def keep_photo(
    store: Store,
    name: str,
    body: bytes,
    *,
    facts: ImageFacts,
    device: str,
    received: int,
) -> bool:
    """Keep a photo under its hash (inside `writing`); False if it was kept already."""
    if photos_kept(store, [name]):
        return False
    store.tables["photos"].insert(
        hash=name,
        type=facts.type,
        width=facts.width,
        height=facts.height,
        body=body,
        device=device,
        received=received,
    ).execute()
    return True


def find_photo(store: Store, name: str) -> tuple[PhotoFacts, bytes] | None:
    """Give a photo's facts and its bytes as they came, or None."""
    table = store.tables["photos"]
    row = table.select().where(table.hash == name).first()
    if row is None:
        return None
    return _facts(row), bytes(row["body"])


def photos_kept(store: Store, names: Iterable[str]) -> dict[str, PhotoFacts]:
    """Give, of these hashes, the photos that are here."""
    table = store.tables["photos"]
    columns = [getattr(table, name) for name in PhotoFacts.__slots__]
    query = table.select(*columns).where(table.hash.in_(sorted(set(names))))
    return {str(row["hash"]): _facts(row) for row in query}


def photo_count(store: Store, device: str) -> int:
    """Give how many photos one device brought."""
    table = store.tables["photos"]
    count: int = table.select(table.hash).where(table.device == device).count()
    return count


def _facts(row: dict[str, Any]) -> PhotoFacts:
    return PhotoFacts(**{name: row[name] for name in PhotoFacts.__slots__})
