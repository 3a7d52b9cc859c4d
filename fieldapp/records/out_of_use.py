"""What took an item out of use, as paper tells it: since when and why."""

from collections.abc import Mapping

from fieldapp.core.entries import Entry
from fieldapp.core.register import takes_out
from fieldapp.records.acts import local
from fieldapp.records.opened import Opened


def out_told(
    opened: Opened, told: Mapping[str, Entry], item: str, relied: Entry | None = None
) -> str:
    """Tell since when and why an item is out of use; empty where it never was.

    told: registrations by id; relied: that which a reading named, if it named one. Out
    as the reading knew it is told although it was put back.
    """
    known = opened.evidence.standing.get("items", {}).get(item, {})
    taken = (each for each in (relied, told.get(known.get("entry", ""))) if each)
    out = next((each for each in taken if takes_out(each)), None)
    if out is None:
        return ""
    since, why = local(opened, out.at, out.zone), out.about.get("text")
    return f"since {since}: “{why}”" if why else f"since {since}"
