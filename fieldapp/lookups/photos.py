"""The photos that entries name: which are here, and which are still to come.

For pages and for the evidence of a record: a photo that has not arrived is named by
its hash and by who took it, never passed over.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.core.entries import Entry
from fieldapp.lookups.reading import Reader
from fieldapp.store.images import JPEG_QUALITY, plain_copy
from fieldapp.store.photos import PhotoFacts, find_photo, photos_kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo some entry names; `kept` is None while it has not arrived.

    `unseen`: ids of releases whose signer says not to have seen it.
    """

    hash: str
    entry: Entry
    kept: PhotoFacts | None
    unseen: tuple[str, ...]


def photos_of(reader: Reader, entries: Iterable[Entry]) -> list[Photo]:
    """Give every photo that entries name, each once, with the first that names it."""
    told = list(entries)
    first: dict[str, Entry] = {}
    for entry in told:
        for name in entry.photos:
            first.setdefault(name, entry)
    kept = photos_kept(reader.store, first)
    return [
        Photo(
            hash=name,
            entry=entry,
            kept=kept.get(name),
            unseen=tuple(e.id for e in told if name in e.about.get("unseen", ())),
        )
        for name, entry in first.items()
    ]


def missing_photos(reader: Reader, entries: Iterable[Entry]) -> list[Photo]:
    """Give the photos that entries name and that have not arrived."""
    return [photo for photo in photos_of(reader, entries) if photo.kept is None]


def photo_as_it_came(reader: Reader, name: str) -> tuple[PhotoFacts, bytes] | None:
    """Give a photo's facts and the very bytes that were hashed, or None."""
    return find_photo(reader.store, name)


def photo_to_show(
    reader: Reader, name: str, longest_px: int, quality: int = JPEG_QUALITY
) -> bytes | None:
    """Give a photo drawn anew as JPEG without anything but the picture, or None."""
    found = find_photo(reader.store, name)
    return plain_copy(found[1], longest_px, quality) if found else None
