"""Every nonconformance of the site with all that is known of it: what was read, who
proposed and decided what, which gates it shuts.

A disposition needs a person's own key, which lives on a phone: nothing is signed here.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.lookups import Folded
from fieldapp.records.found import found_told
from fieldapp.records.gates import shut_by
from fieldapp.records.hours import clocks_off
from fieldapp.records.nonconformances import late_told, source_told
from fieldapp.records.opened import Opened
from fieldapp.web.corrected import corrections_told
from fieldapp.web.desk import Desk
from fieldapp.web.flags import received_of
from fieldapp.web.joint_parts import place_of, values_told
from fieldapp.web.story import opened_of
from fieldapp.web.wording import Wording

GROUPS = {
    "open": "Open: nobody has proposed anything",
    "proposed": "Proposed: waits for a disposition",
    "disposed": "Decided",
    "closed": "Closed",
}
_BY_RULE = ("check_failed", "clock_over")
_ABOUT = ("proposal", "disposition", "closing")
Row = dict[str, Any]
Clocks = dict[str, str]
"""What is said of the clock of each entry that was off, by its id."""


def faults_page(here: Desk) -> list[Row]:
    """Give the groups by status, each with its nonconformances, newest first."""
    rows = [row for found in here.folded for row in faults_of(here, found)]
    return [
        {
            "status": status,
            "title": title,
            "rows": sorted(
                (row for row in rows if row["fault"]["status"] == status),
                key=lambda row: (-row["at"], row["fault"]["id"]),
            ),
        }
        for status, title in GROUPS.items()
    ]


def faults_of(here: Desk, found: Folded) -> Iterator[Row]:
    """Yield the nonconformances of a subject, by the template's names."""
    if not found.state["nonconformances"]:
        return
    words, by_id = here.words(found), {entry.id: entry for entry in found.entries}
    by_rule = any(f["code"] in _BY_RULE for f in found.state["nonconformances"])
    opened = opened_of(here.reader, found, here.now) if by_rule else None
    clocks = clocks_off(found.entries, received_of(found))
    for fault in found.state["nonconformances"]:
        raised = by_id.get(fault.get("entry", ""))
        shut, passed = shut_by(found.sheet.raw, found.state, fault)
        yield {
            "id": found.sheet.subject,
            "title": found.sheet.raw["title"],
            "fault": fault,
            "words": words.fault(fault),
            "place": place_of(found.sheet.raw, fault),
            "found": _found(opened, fault, raised) if opened else "",
            "at": raised.at if raised else 0,
            "raised": _evidence(found, here, raised, clocks) if raised else None,
            "corrected": corrections_told(here, fault, raised),
            "source": source_told(found.sheet.raw, fault),
            "shuts": [words.names["point"].get(p, p) for p in shut],
            "passed": [words.names["point"].get(p, p) for p in passed],
            "acts": [
                {**_act(here, words, e, fault), "clock": clocks.get(e.id, "")}
                for e in _acts(found, fault)
            ],
            "may_dispose": here.names.signers(found.sheet.raw["dispose"], " or "),
            "may_propose": here.names.signers(found.sheet.raw["propose"], " or "),
        }


def _found(opened: Opened, fault: Row, raised: Entry | None) -> str:
    """Say what a rule found: a figure and its limit, or a deadline and by how much."""
    if fault["code"] == "clock_over":
        return late_told(opened, fault, raised)
    return found_told(opened.scene, fault)


def _evidence(found: Folded, here: Desk, entry: Entry, clocks: Clocks) -> Row:
    step = found.sheet.raw["steps"].get(entry.step or "", {})
    return {
        "who": here.names.person(entry.person),
        "entry": entry,
        "clock": clocks.get(entry.id, ""),
        "values": list(
            values_told(step, entry.values, found.sheet.raw, found.register)
        ),
    }


def _acts(found: Folded, fault: Row) -> list[Entry]:
    """Give what was signed about it, and what decided it by deciding another."""
    return [
        entry
        for entry in found.entries
        if (entry.kind in _ABOUT and entry.about.get("target") == fault["id"])
        or entry.id == fault.get("disposition")
    ]


def _act(here: Desk, words: Wording, entry: Entry, fault: Row) -> Row:
    about = entry.about
    begins = about.get("from")
    decided = fault.get("disposition")
    return {
        "kind": entry.kind,
        "entry": entry,
        "who": here.names.person(entry.person),
        "verdict": about.get("verdict", "").replace("_", " "),
        "reason": about.get("reason") or about.get("text", ""),
        "begins": words.names["step"].get(begins, begins) if begins else "",
        "stands": entry.kind != "disposition" or entry.id == decided,
        "elsewhere": about.get("target") != fault["id"],
    }
