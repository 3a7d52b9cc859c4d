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
from fieldapp.web.clocks import clocks_told
from fieldapp.web.desk import Desk, titles_elsewhere
from fieldapp.web.display import DAY_MS
from fieldapp.web.flags import received_of, to_be_signed
from fieldapp.web.joint_page import next_of
from fieldapp.web.runs_on import runs_on, untimed
from fieldapp.web.stages import FINISHED, still_wanted

AHEAD_MS = 7 * DAY_MS
SOON_MS = 2 * DAY_MS
"""What ends sooner than this is shown in yellow."""
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
        "may_start": [row for each in here.folded for row in _may_start(each)],
        "called": _by_time(row for row in waits if row["what"] == "called"),
        "undecided": _told_once(row for row in waits if row["what"] == "fault"),
        "others": [row for row in first.values() if row["other"] not in first],
        "behind": len([row for row in first.values() if row["other"] in first]),
        "bites": [
            row | {"tone": _urgency(row["at"], here.now)}
            for row in _by_time(_bites(here, register))
        ],
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


def _may_start(found: Folded) -> Iterator[Row]:
    """Yield a subject that waits for no other and whose next step lacks nothing.

    A clock that runs shuts nothing; only a STOP does, and a wait before the next gate:
    what is read for it now would be too old. What failed comes before what is open.
    """
    state, sheet = found.state, found.sheet.raw
    if state["verdict"] in FINISHED or "stopped" in state or _others(found):
        return
    held = _held(sheet, state)
    for place, name in enumerate(sheet["flow"]):
        step, point = state["steps"].get(name), state["points"].get(name)
        if point and sheet["points"][name]["class"] == "surveillance":
            # Seen in passing or not: nothing waits for it.
            continue
        opened = point and point["status"] in ("released", "waived")
        if point and not opened:
            if point["status"] == "ready":
                yield _row(found, begun=bool(found.entries), next=sheet["points"][name])
            return
        if step and step["status"] in _TO_READ and not step["refusals"]:
            if _next_gate(sheet, state, place) in held:
                return
            again = step["status"] in ("failed", "disputed")
            begun = bool(found.entries)
            yield _row(found, begun=begun, next=sheet["steps"][name], again=again)
            return


_TO_READ = ("open", "partial", "failed", "disputed")


def _held(sheet: Row, state: Row) -> set[str]:
    """Give the gates before which a wait still runs."""
    return {
        gate
        for hold in sheet.get("holds", ())
        if state["holds"].get(hold["id"], {}).get("status") == "running"
        for gate in hold["before"]
    }


def _next_gate(sheet: Row, state: Row, place: int) -> str:
    """Give the gate that is next after a place of the flow; "" where none is left."""
    return next(
        (
            name
            for name in sheet["flow"][place:]
            if sheet["points"].get(name, {}).get("class") == "hold"
            and state["points"][name]["status"] not in ("released", "waived")
        ),
        "",
    )


def _others(found: Folded) -> list[dict[str, Any]]:
    return [
        refusal["facts"]
        for point in found.state["points"].values()
        for refusal in point["refusals"]
        if refusal["code"] == "other_subject" and point["status"] != "released"
    ]


def _waits(here: Desk, found: Folded) -> Iterator[Row]:
    if found.state["verdict"] in FINISHED:
        return
    yield from _calls(here, found)
    yield from _decisions(here, found)
    for facts in _others(found)[:1]:
        told = titles_elsewhere(here.reader, found.sheet.raw)
        milestone = told.get(facts["name"], facts["name"])
        yield _row(found, what="subject", other=facts["subject"], milestone=milestone)


def _calls(here: Desk, found: Folded) -> Iterator[Row]:
    by_id = {entry.id: entry for entry in found.entries}
    for name, point in found.state["points"].items():
        call = by_id.get(point.get("called", ""))
        if point["status"] == "called" and call is not None:
            yield _row(
                found,
                what="called",
                name=name,
                point=found.sheet.raw["points"][name]["title"],
                at=office_ms(call, received_of(found)),
                clock=off_told(call, received_of(found)),
                who=here.names.person(call.person),
                wanted=[here.names.role(w) for w in still_wanted(found, name)],
                deputies=[
                    {"at": call.at + each["after_ms"], "who": here.names.role(each)}
                    for wanted in still_wanted(found, name)
                    for each in wanted.get("deputies", ())
                ],
            )


def _decisions(here: Desk, found: Folded) -> Iterator[Row]:
    faults = [f for f in found.state["nonconformances"] if f["status"] in UNDECIDED]
    if not faults:
        return
    words, by_id = here.words(found), {entry.id: entry for entry in found.entries}
    received = received_of(found)
    for fault in faults:
        raised = by_id.get(fault.get("entry", ""))
        yield _row(
            found,
            what="fault",
            fault=fault["id"],
            words=words.fault(fault),
            status=fault["status"],
            at=office_ms(raised, received) if raised else here.now,
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


def _urgency(at: int, now: int) -> str:
    return "red" if at < now else "yellow" if at < now + SOON_MS else "grey"


def _bites(here: Desk, register: list[Registered]) -> Iterator[Row]:
    until = here.now + AHEAD_MS
    for found in here.folded:
        if found.state["verdict"] not in FINISHED:
            for row in (*_ends(here, found), *_deadlines(here, found)):
                # What is over stays until it is dealt with.
                past = row["at"] < here.now and not row.get("stays")
                if not past and row["at"] <= until:
                    yield row
    for item in register:
        # What ran out longer ago is history: no form offers it, the register keeps it.
        if item.expires is not None and abs(item.expires - here.now) <= AHEAD_MS:
            past = item.expires < here.now
            yield {
                "item": item.id,
                "title": item.label,
                "text": "has expired" if past else "expires",
                "at": item.expires,
            }


def _deadlines(here: Desk, found: Folded) -> Iterator[Row]:
    for each in runs_on(found.sheet.raw, found.state, here.now):
        if each["at"] is not None:
            text = f"Ended attempt: {each['title']}"
            yield _row(found, text=text, at=each["at"], stays=True)
    decided = {
        (fault.get("step"), fault.get("line", ""), fault.get("check"))
        for fault in found.state["nonconformances"]
        if fault["code"] == "clock_over" and fault["status"] not in UNDECIDED
    }
    for clock in clocks_told(found.sheet.raw, found.state):
        for each in clock["deadlines"] if clock["live"] else ():
            text = f"{clock['title']}: {each['title']}"
            dealt = (clock["start"], clock["line"], each["id"]) in decided
            stays = each["raises"] and not dealt
            yield _row(found, text=text, at=each["at"], stays=stays)


def _ends(here: Desk, found: Folded) -> Iterator[Row]:
    """Yield holds that end, releases that run out, notices, words to be signed."""
    sheet, state = found.sheet.raw, found.state
    for hold in sheet.get("holds", ()):
        running = state["holds"].get(hold["id"], {})
        if running.get("status") == "running":
            yield _row(found, text=f"{hold['title']} ends", at=running["until"])
    for name, point in state["points"].items():
        title = sheet["points"][name]["title"]
        behind = sheet["points"][name].get("shuts", ())
        # Once used it holds for what follows, whatever its hour.
        idle = not any(state["steps"][step]["lines"] for step in behind)
        if point["status"] == "released" and "until" in point and idle:
            yield _row(found, text=f"{title}: release ends", at=point["until"])
        if "notice_until" in point:
            yield _row(found, text=f"{title}: notice ends", at=point["notice_until"])
    for said in to_be_signed(found):
        point = sheet["points"][said.point or ""]
        who = here.names.person(said.about["said_by"])
        text = f"{point['title']}: {who} to sign what was spoken"
        yield _row(found, text=text, at=said.at + point["spoken_ms"], stays=True)
