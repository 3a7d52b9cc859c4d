"""What the site's files say of items, as registrations of the site's own key.

Only what a step may choose is an item of the site; what a sheet keeps for its own
places (a bar's position) is not. Files loaded again register only what has changed,
naming the registration it replaces, so that whoever relied on it is told.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from fieldapp.core.entries import LONGEST_TEXT, Entry

Sheet = Mapping[str, Any]
Item = Mapping[str, Any]


def items_of_sheets(sheets: Iterable[Sheet]) -> dict[str, Item]:
    """Give the items that steps may choose and that all sheets tell alike, by id.

    A sheet that reads no force by a jack says nothing of its certificate: of numbers
    only those are held together that are told.
    """
    told: dict[str, list[Item]] = {}
    for sheet in sheets:
        kinds = kinds_chosen(sheet)
        for name, item in sheet.get("items", {}).items():
            if item["kind"] in kinds:
                told.setdefault(name, []).append(item)
    fullest = {
        name: max(items, key=lambda item: bool(item.get("numbers")))
        for name, items in sorted(told.items())
    }
    return {
        name: item
        for name, item in fullest.items()
        if all(_without(each, item) == item for each in told[name])
    }


def _without(item: Item, other: Item) -> Item:
    """Give an item with the other's numbers where it has none itself."""
    said = item.get("numbers") or not other.get("numbers")
    return item if said else {**item, "numbers": other["numbers"]}


def kinds_chosen(sheet: Sheet) -> set[str]:
    """Give the kinds of item that some field of a sheet chooses from."""
    return {
        field["items"]
        for step in sheet["steps"].values()
        for field in step.get("fields", ())
        if field["kind"] == "item"
    }


def wanted_registrations(
    items: Mapping[str, Item],
    by_office: Iterable[Entry],
    standing: Mapping[str, Mapping[str, Any]],
) -> Iterator[tuple[dict[str, Any], dict[str, int]]]:
    """Give what the office must register: the `about` and the numbers of each.

    by_office: its registrations so far; standing: the register as it stands. What
    stores took out of use, files do not bring back.
    """
    last = {entry.about["item"]: entry for entry in by_office}
    for name, item in items.items():
        about, numbers = _about(name, item), dict(item.get("numbers", {}))
        before = last.get(name)
        if before is None and name not in standing:
            yield about, numbers
        elif "out" in standing.get(name, {}):
            continue
        elif before is not None and _told(before) != (about, numbers):
            changed = {
                "replaces": standing[name]["entry"],
                "reason": "The site's files have changed",
            }
            yield about | changed, numbers


def _about(name: str, item: Item) -> dict[str, Any]:
    about = {"item": name, "kind": item["kind"], "label": item["label"]}
    if "expires" in item:
        about["expires"] = item["expires"]
    facts = "; ".join(f"{f['label']}: {f['value']}" for f in item.get("facts", ()))
    return about | ({"text": facts[:LONGEST_TEXT]} if facts else {})


def _told(entry: Entry) -> tuple[dict[str, Any], dict[str, Any]]:
    kept = {k: v for k, v in entry.about.items() if k not in ("replaces", "reason")}
    return kept, dict(entry.values)
