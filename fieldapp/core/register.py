"""Equipment and material of the site: what stores registered, and what replaced it.

Order of arrival means nothing here either: a registration replaces the one it names.
Of two that do not know of each other the one that expires sooner stands. A
registration that replaces another and ends at the very moment it states takes the
item out of use: nothing is read on it from then on, and what was read before stays.
What it replaced says until when the item was good: it makes nothing good for longer.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.entries import LATEST_MS, Entry


def register(entries: Iterable[Entry]) -> dict[str, dict[str, Any]]:
    """Fold `registered` entries into `{item: {label, kind, numbers, entry, older}}`.

    `expires` (ms UTC) where it was given; `older` are the entries it replaced; `out`,
    why it was taken out of use, if it was.
    """
    found = by_item(entries)
    return {item: _stands(found[item]) for item in sorted(found)}


def by_item(entries: Iterable[Entry]) -> dict[str, dict[str, Entry]]:
    """Give the registrations among entries, by item and id."""
    found: dict[str, dict[str, Entry]] = {}
    for entry in entries:
        if entry.kind == "registered":
            found.setdefault(entry.about["item"], {})[entry.id] = entry
    return found


def takes_out(entry: Entry) -> bool:
    """Say whether a registration takes its item out of use; its text says why.

    A certificate typed from paper ends with a day, and never with the moment of typing.
    """
    return "replaces" in entry.about and entry.about.get("expires") == entry.at


def certificate_of(entry: Entry, known: Mapping[str, Entry]) -> Entry | None:
    """Give the certificate that a registration is, or that what it took out had.

    known: registrations by id; None where none of those it goes back to is there.
    """
    found: Entry | None = entry
    while found is not None and takes_out(found):
        found = known.get(found.about["replaces"])
    return found


def end_of(entry: Entry, known: Mapping[str, Entry]) -> int | None:
    """Give until when an item is good by a registration, ms UTC; None: no end.

    known: the item's registrations by id. What takes it out of use ends what it
    replaced, where that was not over before.
    """
    end: int | None = entry.about.get("expires")
    # No more than there are: where they replace one another in a circle, it ends.
    for _ in known:
        if end is None or not takes_out(entry):
            break
        before = known.get(entry.about["replaces"])
        if before is None:
            break
        entry, end = before, min(end, before.about.get("expires", end))
    return end


def numbers_of(entry: Entry) -> dict[str, int]:
    """Give the whole numbers a registration states."""
    return {n: v for n, v in entry.values.items() if isinstance(v, int)}


def _stands(known: dict[str, Entry]) -> dict[str, Any]:
    replaced = {entry.about.get("replaces") for entry in known.values()}
    heads = [entry for entry_id, entry in known.items() if entry_id not in replaced]
    entry = min(heads or known.values(), key=lambda each: _strictness(each, known))
    item = {
        "label": entry.about["label"],
        "kind": entry.about["kind"],
        "numbers": numbers_of(entry),
        "entry": entry.id,
        "older": sorted(entry_id for entry_id in known if entry_id != entry.id),
    }
    end = end_of(entry, known)
    if end is not None:
        item["expires"] = end
    if takes_out(entry):
        item["out"] = entry.about.get("text", "")
    return item


def _strictness(entry: Entry, known: Mapping[str, Entry]) -> tuple[int, str]:
    end = end_of(entry, known)
    return (LATEST_MS if end is None else end, entry.id)
