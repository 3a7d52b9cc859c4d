"""What a day at the desk begins with: what runs, what may start, who waits for whom,
and what will bite within the week.

Only gathered here: every state, time and refusal is the fold's own.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fieldapp.core.verdict import UNDECIDED
from fieldapp.lookups import Folded
from fieldapp.lookups.natural import natural
from fieldapp.lookups.register import Registered
from fieldapp.records.hours import off_told, office_ms
from fieldapp.web.answers import answers
from fieldapp.web.arms import next_on_arms
from fieldapp.web.bites import bites
from fieldapp.web.clocks import clocks_told
from fieldapp.web.desk import Desk, titles_elsewhere
from fieldapp.web.flags import received_of
from fieldapp.web.held_up import waits_first
from fieldapp.web.joint_page import next_of
from fieldapp.web.may_start import may_start, others
from fieldapp.web.runs_on import runs_on, untimed
from fieldapp.web.stages import FINISHED, still_wanted
from fieldapp.web.undecided import waits_since

Row = dict[str, Any]
Part = Mapping[str, Any]


def today_page(here: Desk, site: Part, register: list[Registered]) -> Row:
    """Give the lists of the day, by the template's names."""
    running = [_running(here, each) for each in here.folded if _runs(each)]
    waits = [row for each in here.folded for row in _waits(here, each)]
    first = {row["id"]: row for row in waits if row["what"] == "subject"}
    shown = {
        "arms": next_on_arms(here, site),
        "conditions": [row for each in here.folded for row in _conditions(here, each)],
        "running": sorted(running, key=lambda row: row["urgent"]),
        "may_start": [row for each in here.folded for row in may_start(each)],
        "called": _by_time(row for row in waits if row["what"] == "called"),
        "refused": _by_time(row for row in waits if row["what"] == "refused"),
        "undecided": _told_once(row for row in waits if row["what"] == "fault"),
        "others": [row for row in first.values() if row["other"] not in first],
        "behind": len([row for row in first.values() if row["other"] in first]),
        "bites": bites(here, register),
    }
    return shown | {"answers": answers(shown)}


def _by_time(rows: Iterator[Row]) -> list[Row]:
    return sorted(rows, key=lambda row: (row["at"], natural(row["title"])))


def _told_once(rows: Iterator[Row]) -> list[Row]:
    """Tell what is said alike of one subject once, from its oldest on, with a count."""
    told: dict[tuple[str, ...], Row] = {}
    for row in _by_time(rows):
        key = (row["id"], row["words"], row["status"])
        told.setdefault(key, {**row, "times": 0})["times"] += 1
    return list(told.values())


def _row(found: Folded, **more: Any) -> Row:
    return {"id": found.sheet.subject, "title": found.sheet.raw["title"], **more}


def _runs(found: Folded) -> bool:
    state = found.state
    live = any(not clock["ended"] for clock in state["clocks"].values())
    more = "stopped" in state or state.get("outlasting")
    waits = untimed(found.sheet.raw, state)
    return bool(state["verdict"] not in FINISHED and (live or more or waits))


def _running(here: Desk, found: Folded) -> Row:
    sheet, state = found.sheet.raw, found.state
    told = [c for c in clocks_told(sheet, state) if c["live"]]
    after = runs_on(sheet, state, here.now)
    ends = [d["at"] for clock in told for d in clock["deadlines"]]
    ends += [each["at"] or here.now for each in after]
    waits = untimed(sheet, state)
    return _row(
        found,
        clocks=told,
        runs_on=after,
        untimed=waits,
        lines=len(told) + len(after) + len(waits),
        stopped=found.state.get("stopped"),
        next=next_of(found),
        urgent=min(ends, default=0),
    )


def _waits(here: Desk, found: Folded) -> Iterator[Row]:
    if found.state["verdict"] in FINISHED:
        return
    yield from _calls(here, found)
    yield from _refusals(here, found)
    yield from _decisions(here, found)
    for facts in others(found)[:1]:
        told = titles_elsewhere(here.reader, found.sheet.raw)
        milestone = told.get(facts["name"], facts["name"])
        yield _row(found, what="subject", other=facts["subject"], milestone=milestone)


def _calls(here: Desk, found: Folded) -> Iterator[Row]:
    by_id, received = {e.id: e for e in found.entries}, received_of(found)
    for name, point in found.state["points"].items():
        call = by_id.get(point.get("called", ""))
        if point["status"] == "called" and call is not None:
            yield _row(
                found,
                what="called",
                name=name,
                point=found.sheet.raw["points"][name]["title"],
                at=office_ms(call, received),
                clock=off_told(call, received),
                first=waits_first(here, found, name),
                who=here.names.person(call.person),
                wanted=[here.names.role(w) for w in still_wanted(found, name)],
                deputies=[
                    {"at": call.at + each["after_ms"], "who": here.names.role(each)}
                    for wanted in still_wanted(found, name)
                    for each in wanted.get("deputies", ())
                ],
            )


def _refusals(here: Desk, found: Folded) -> Iterator[Row]:
    """Yield the gates somebody refused: they wait for those who mend and call again."""
    by_id, sheet = {entry.id: entry for entry in found.entries}, found.sheet.raw
    for name, point in found.state["points"].items():
        refusal = by_id.get(point.get("refused_by", ""))
        if point["status"] == "refused" and refusal is not None:
            yield _row(
                found,
                what="refused",
                name=name,
                point=sheet["points"][name]["title"],
                at=office_ms(refusal, received_of(found)),
                who=here.names.person(refusal.person),
                reason=refusal.about.get("reason", ""),
                mends=" or ".join(
                    here.names.roles.get(role, role) for role in sheet["record"]
                ),
                signs=" and ".join(
                    here.names.role(each) for each in sheet["points"][name]["releases"]
                ),
            )


def _decisions(here: Desk, found: Folded) -> Iterator[Row]:
    faults = [f for f in found.state["nonconformances"] if f["status"] in UNDECIDED]
    if not faults:
        return
    words, by_id = here.words(found), {entry.id: entry for entry in found.entries}
    for fault in faults:
        raised = by_id.get(fault.get("entry", ""))
        yield _row(
            found,
            what="fault",
            fault=fault["id"],
            words=words.fault(fault),
            status=fault["status"],
            at=waits_since(here, found, fault, raised),
            wanted=here.names.signers(found.sheet.raw["dispose"], " or "),
        )


def _conditions(here: Desk, found: Folded) -> Iterator[Row]:
    """Yield what releases left open, with the part each must be closed before."""
    if found.state["verdict"] in FINISHED:
        return
    titles = {**found.sheet.raw["steps"], **found.sheet.raw["points"]}
    for name, point in found.state["points"].items():
        for each in point.get("conditions", ()):
            if each["open"]:
                before = titles.get(each["before"], {}).get("title", each["before"])
                yield _row(
                    found,
                    point=found.sheet.raw["points"][name]["title"],
                    text=each["text"],
                    before=before,
                )
