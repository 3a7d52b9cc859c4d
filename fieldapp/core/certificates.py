"""Which certificate of an item a subject's readings are judged by.

A reading names the registration it relied on. What is registered later does not judge
it again: a renewed calibration leaves finished work as it is, and a corrected one
(replaced with a reason) raises a nonconformance that says so, no more.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.register import by_item, end_of, numbers_of, register

Items = dict[str, dict[str, Any]]


def certified(entries: Iterable[Entry]) -> Items:
    """Fold registrations that count as `register` does, with all their certificates.

    `certificates`: for each registration of the item, by entry id, `numbers` and where
    it ends `expires`; `older` keeps only what was replaced with a reason.
    """
    told = [entry for entry in entries if entry.kind == "registered"]
    items = register(told)
    corrected = {e.about.get("replaces") for e in told if e.about.get("reason")}
    for name, known in by_item(told).items():
        item = items[name]
        item["certificates"] = {n: _certificate(e, known) for n, e in known.items()}
        item["older"] = [each for each in item["older"] if each in corrected]
    return items


def items_relied_on(
    items: Mapping[str, Mapping[str, Any]], entries: Iterable[Entry]
) -> Items:
    """Give the items that readings name, with the certificate they relied on.

    items: as `certified` gives them. Where readings of one subject relied on several,
    the last one's stands for all.
    """
    found: Items = {}
    for entry in sorted(entries, key=lambda each: (each.at, each.id)):
        for name in entry.values.values():
            if isinstance(name, str) and name in items:
                known = found.setdefault(name, dict(items[name]))
                _rely(known, entry)
    return {name: found[name] for name in sorted(found)}


def _rely(item: dict[str, Any], entry: Entry) -> None:
    relied = sorted(item["certificates"].keys() & set(entry.needs))
    if relied:
        certificate = item["certificates"][relied[0]]
        item.pop("expires", None)
        item.update(certificate)


def _certificate(entry: Entry, known: Mapping[str, Entry]) -> dict[str, Any]:
    end = end_of(entry, known)
    return {"numbers": numbers_of(entry), **({} if end is None else {"expires": end})}
