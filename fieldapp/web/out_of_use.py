"""What lines name and stores took out of use: it was fit when it was recorded, and may
stand in the joint broken. Said to whoever signs, never judged.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from fieldapp.core.entries import read_entry
from fieldapp.lookups import Folded
from fieldapp.records.hours import off_told
from fieldapp.store.ledger import rows_of_site
from fieldapp.web.desk import Desk

Row = dict[str, Any]


def out_of_use(here: Desk, found: Folded, steps: Iterable[str]) -> list[Row]:
    """Give each item that lines of some steps name and that is out of use, by label."""
    names = set(_named(found, steps))
    known = {name: found.register[name] for name in names & found.register.keys()}
    out = {item["entry"]: name for name, item in known.items() if "out" in item}
    rows = rows_of_site(here.reader.store, ("registered",)) if out else []
    told = [
        {
            "id": out[row.id],
            "label": known[out[row.id]]["label"],
            "entry": (entry := read_entry(row.body.encode("utf-8"))),
            "clock": off_told(entry, {row.id: row.received}),
            "who": here.names.person(entry.person),
            "text": known[out[row.id]]["out"],
        }
        for row in rows
        if row.id in out
    ]
    return sorted(told, key=lambda row: str(row["label"]))


def _named(found: Folded, steps: Iterable[str]) -> Iterator[str]:
    for step in steps:
        fields = found.sheet.steps[step].items if step in found.sheet.steps else ()
        for line in found.state["steps"].get(step, {}).get("lines", {}).values():
            if line["status"] != "discarded":
                said = (line["values"].get(field) for field, _ in fields)
                yield from (name for name in said if isinstance(name, str))
