"""Photographs on paper: a small copy of each, with who took it, where, and its hash.

One that an entry names and that has not arrived keeps its place and says so. The hash
is of the photograph as it was taken; what is printed is a copy drawn anew.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from fieldapp.core.entries import Entry
from fieldapp.records.acts import place_of, signer, when
from fieldapp.records.figures import short
from fieldapp.records.opened import Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoPart:
    """A photograph as printed; `unseen`: releases whose signer had not seen it.

    also: the other places that this very file was given for.
    """

    hash: str
    here: bool
    alt: str
    caption: str
    taken: str
    unseen: tuple[str, ...]
    also: tuple[str, ...]


def photo_parts(opened: Opened) -> Iterator[PhotoPart]:
    """Tell every photograph that entries name, each once, in the ledger's order."""
    given: dict[str, list[Entry]] = {}
    for entry in opened.entries:
        for name in entry.photos:
            given.setdefault(name, []).append(entry)
    for name, entries in given.items():
        yield _part(opened, name, entries)


def _caption(opened: Opened, entry: Entry) -> str:
    return place_of(opened, entry) or opened.words.kind(entry.kind)


def _part(opened: Opened, name: str, entries: list[Entry]) -> PhotoPart:
    entry = entries[0]
    caption = _caption(opened, entry)
    places = dict.fromkeys(_caption(opened, each) for each in entries)
    who = signer(opened, entry).name
    taken = f"{when(opened, entry)}, {who}, {short(entry.id)}"
    return PhotoPart(
        hash=name,
        here=name in opened.evidence.photos,
        alt=f"Photograph: {caption}, {taken}",
        caption=caption,
        taken=taken,
        also=tuple(each for each in places if each != caption),
        unseen=tuple(_unseen(opened, name)),
    )


def _unseen(opened: Opened, name: str) -> Iterator[str]:
    for entry in opened.entries:
        if name in entry.about.get("unseen", ()):
            person = opened.words.fact("person", entry.person)
            yield f"not seen by {person} on releasing, {short(entry.id)}"
