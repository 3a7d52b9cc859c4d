"""Frozen documents kept by their hash: sheets, tables, and the site as compiled.

A body is never changed; a revision is another body with another hash.
"""

from fieldapp.core.canonical import sha256_hex
from fieldapp.store.database import Store, read_meta, write_meta


def keep_body(store: Store, kind: str, body: bytes) -> str:
    """Keep canonical bytes under their hash (inside `writing`); gives the hash."""
    found = sha256_hex(body)
    table = store.tables["bodies"]
    if find_body(store, kind, found) is None:
        table.insert(hash=found, kind=kind, body=body.decode("utf-8")).execute()
    return found


def find_body(store: Store, kind: str, body_hash: str) -> bytes | None:
    """Give the bytes of a sheet, table or site by its hash, or None."""
    table = store.tables["bodies"]
    which = (table.hash == body_hash) & (table.kind == kind)
    row = table.select(table.body).where(which).first()
    return row["body"].encode("utf-8") if row else None


def set_site(store: Store, site: str, body: bytes) -> None:
    """Make a compiled site the one in force (inside `writing`)."""
    write_meta(store, "site", site)
    write_meta(store, "site_body", keep_body(store, "site", body))


def current_site(store: Store) -> bytes | None:
    """Give the canonical bytes of the site in force, or None before the first load."""
    body_hash = read_meta(store, "site_body")
    return find_body(store, "site", body_hash) if body_hash else None
