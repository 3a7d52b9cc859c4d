"""What each subject still lacks, for whoever answers for the record: told before it is
too late, in the order of the work, in the fold's own words.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.entries import EntryError, read_entry
from fieldapp.core.verdict import UNDECIDED
from fieldapp.lookups import Folded
from fieldapp.lookups.photos import missing_photos
from fieldapp.records.hours import phones_off
from fieldapp.records.marks import verdict_mark
from fieldapp.records.points import left_open
from fieldapp.store.ledger import all_apart
from fieldapp.web.desk import Desk
from fieldapp.web.display import mark, when
from fieldapp.web.flags import flags_told, received_of, to_be_signed
from fieldapp.web.joint_page import SETTLED
from fieldapp.web.joint_parts import point_status, shown_status
from fieldapp.web.stages import PASSED, still_wanted

AHEAD = ("open", "closed")
Row = dict[str, Any]


def missing_page(here: Desk) -> Row:
    """Give the subjects that were begun and lack something, and how many do not."""
    begun = [found for found in here.folded if found.entries]
    rows = [_row(here, found) for found in begun]
    lacking = [row for row in rows if row["lacks"]]
    return {
        "rows": lacking,
        "whole": len(rows) - len(lacking),
        "not_begun": len(here.folded) - len(begun),
    }


def set_apart(here: Desk) -> list[Row]:
    """Give what is in quarantine: what it says it is, why, who brought it and when."""
    return [
        {
            "id": each.id,
            "what": _claim(here, each.body),
            "reason": each.reason,
            "pusher": each.pusher,
            "received": each.received,
        }
        for each in all_apart(here.reader.store)
    ]


def _claim(here: Desk, body: str) -> str:
    try:
        entry = read_entry(body.encode("utf-8"))
    except EntryError:
        return "cannot be read"
    subject = f" on {here.names.subject(entry.subject)}" if entry.subject else ""
    kind = entry.kind.replace("_", " ")
    return f"{kind}{subject}, in the name of {here.names.person(entry.person)}"


def _row(here: Desk, found: Folded) -> Row:
    return {
        "id": found.sheet.subject,
        "title": found.sheet.raw["title"],
        "verdict": verdict_mark(found.state),
        "lacks": lacks_of(here, found),
        "flags": _flags(here, found),
    }


def lacks_of(here: Desk, found: Folded) -> list[Row]:
    """Give all a subject lacks, with who may give it where the plan says so."""
    return [
        *_work(here, found),
        *_faults(here, found),
        *_spoken(here, found),
        *_conditions(here, found),
        *_photos(here, found),
        *_arriving(found),
    ]


def _work(here: Desk, found: Folded) -> Iterator[Row]:
    state, sheet, words = found.state, found.sheet.raw, here.words(found)
    ahead: dict[str, str] = {}
    for name in sheet["flow"]:
        step, point = state["steps"].get(name), state["points"].get(name)
        if step and step["status"] in AHEAD:
            ahead[name] = sheet["steps"][name]["title"]
        elif step and step["status"] not in SETTLED:
            many = step["missing"] and step["lines"]
            more = f", {step['missing']} to record" if many else ""
            word = mark(shown_status(step), "step")["word"]
            title, who = sheet["steps"][name]["title"], _who(here, found, name)
            yield {"what": title, "text": f"{word}{more}", "who": who}
        if point and sheet["points"][name]["class"] == "surveillance":
            # Seen in passing or not: a record is complete without it.
            continue
        shut = point and point["status"] not in PASSED
        status = point_status(found, name) if shut else ""
        if status == "waiting":
            ahead[name] = sheet["points"][name]["title"]
        elif shut:
            title = sheet["points"][name]["title"]
            text = mark(status, "point")["word"]
            why = words.say_all(point["refusals"])
            who = _who(here, found, name)
            yield {"what": title, "text": text, "why": why, "who": who}
    if ahead:
        who = _who(here, found, next(iter(ahead)))
        yield {"what": "Not begun yet", "ahead": list(ahead.values()), "who": who}


def _who(here: Desk, found: Folded, name: str) -> str:
    """Say who is to record a step, or to sign a point, where the plan names any."""
    sheet = found.sheet.raw
    if name in sheet["points"]:
        signers = here.names.signers(still_wanted(found, name))
        return f"to be signed by {signers}" if signers else ""
    roles = sheet["steps"][name].get("by") or sheet.get("record", ())
    told = " or ".join(here.names.roles.get(each, each) for each in roles)
    return f"to be recorded by {told}" if told else ""


def _faults(here: Desk, found: Folded) -> Iterator[Row]:
    """Yield what stands undecided or unrepaired, said alike once, with a count."""
    told: dict[tuple[str, str, str], int] = {}
    words = here.words(found)
    for fault in found.state["nonconformances"]:
        repairing = fault.get("verdict") == "repair" and fault["status"] != "closed"
        if fault["status"] in UNDECIDED or repairing:
            status = "repair not closed" if repairing else fault["status"]
            wanted = "closed" if repairing else "decided"
            key = (words.fault(fault), f"nonconformance {status}", wanted)
            told[key] = told.get(key, 0) + 1
    who = here.names.signers(found.sheet.raw["dispose"], " or ")
    for (what, text, wanted), times in told.items():
        often = f"{text}, {times} times" if times > 1 else text
        by = f"to be {wanted} by {who}" if who else ""
        yield {"what": what, "text": often, "who": by}


def _conditions(here: Desk, found: Folded) -> Iterator[Row]:
    for name, point in found.state["points"].items():
        for each in point.get("conditions", ()):
            if each["open"]:
                title = found.sheet.raw["points"][name]["title"]
                yield {"what": title, "text": f"condition open: {each['text']}"}
    # They bind the new attempt no more; that nobody closed them is told all the same.
    points = found.sheet.raw["points"]
    for entry in left_open(found.state, found.entries):
        said = "; ".join(each["text"] for each in entry.about["conditions"])
        text = f"condition open when its attempt ended: {said}"
        yield {"what": points[entry.point]["title"], "text": text}


def _photos(here: Desk, found: Folded) -> Iterator[Row]:
    for photo in missing_photos(here.reader, found.entries):
        who = here.names.person(photo.entry.person)
        text = f"not arrived; taken by {who} on {photo.entry.device}"
        yield {"what": f"Photo {photo.hash[:10]}", "text": text}


def _arriving(found: Folded) -> Iterator[Row]:
    for entry in found.state["missing"]:
        text = "named by others and not arrived"
        yield {"what": f"Entry {entry[:10]}", "text": text}


def _spoken(here: Desk, found: Folded) -> Iterator[Row]:
    for said in to_be_signed(found):
        point = found.sheet.raw["points"][said.point or ""]
        who = here.names.person(said.about["said_by"])
        until = when(said.at + point["spoken_ms"], here.names.zone)
        yield {"what": point["title"], "text": f"spoken, {who} to sign it by {until}"}


def _flags(here: Desk, found: Folded) -> list[str]:
    told: dict[str, int] = {}
    if found.state["flags"]:
        for _, text in flags_told(found, here.words(found), here.now):
            told[text] = told.get(text, 0) + 1
    off = phones_off(found.entries, received_of(found))
    return [
        *(f"{text} ({n})" if n > 1 else text for text, n in told.items()),
        *(f"Phone {e.device}: {e.told} ({len(e.entries)})" for e in off),
    ]
