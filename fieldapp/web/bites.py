"""What will bite within the week: deadlines, holds, releases, words to be signed, items
that expire. What harms stands before what can be had again by asking.

Only gathered here: every time is the fold's own.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.verdict import UNDECIDED
from fieldapp.lookups import Folded
from fieldapp.lookups.natural import natural
from fieldapp.lookups.register import Registered
from fieldapp.records.gates import shut_since
from fieldapp.web.aged import met_until
from fieldapp.web.clocks import clocks_told
from fieldapp.web.desk import Desk
from fieldapp.web.display import DAY_MS, MINUTE_MS
from fieldapp.web.flags import to_be_signed
from fieldapp.web.runs_on import runs_on
from fieldapp.web.stages import FINISHED

AHEAD_MS = 7 * DAY_MS
SOON_MS = 2 * DAY_MS
"""What ends sooner than this is shown in yellow."""
Row = dict[str, Any]


def bites(here: Desk, register: list[Registered]) -> list[Row]:
    """Give every time of the week that bites, the soonest first.

    `harms`: something is lost by then, where a release can be given anew; `today`: it
    is over or will be before the day is, and cannot be had again by reading anew.
    """
    rows = sorted(
        _bites(here, register), key=lambda row: (row["at"], natural(row["title"]))
    )
    ends = _day_ends(here.now, here.names.zone)
    return [
        row
        | {
            "tone": _urgency(row["at"], here.now),
            "harms": bool(row.get("harms")),
            "today": row["at"] < ends and not row.get("anew"),
        }
        for row in rows
    ]


def _day_ends(now: int, zone_minutes: int) -> int:
    """Give the next midnight of the site's clock, ms UTC."""
    shift = zone_minutes * MINUTE_MS
    return ((now + shift) // DAY_MS + 1) * DAY_MS - shift


def _row(found: Folded, **more: Any) -> Row:
    return {"id": found.sheet.subject, "title": found.sheet.raw["title"], **more}


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
        end = _end_of(here, item)
        if end is not None and abs(end - here.now) <= AHEAD_MS:
            text = "has expired" if end < here.now else "expires"
            yield {
                "harms": True,
                "item": item.id,
                "title": item.label,
                "text": text,
                "at": end,
            }


def _end_of(here: Desk, item: Registered) -> int | None:
    """Give when an item expires; what is out of use or only planned does not."""
    idle = item.out is not None or item.kind in here.names.planned
    return None if idle else item.expires


def _deadlines(here: Desk, found: Folded) -> Iterator[Row]:
    for each in runs_on(found.sheet.raw, found.state, here.now):
        if each["at"] is not None:
            text = f"Ended attempt: {each['title']}"
            yield _row(found, text=text, at=each["at"], stays=True, harms=True)
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
            yield _row(found, text=text, at=each["at"], stays=stays, harms=True)


def _readings_end(here: Desk, found: Folded, name: str) -> Iterator[Row]:
    """Yield when today a called point's reading grows too old to be signed on."""
    point, until = found.sheet.raw["points"][name], met_until(found, name, here.now)
    for each in point.get("requires", ()):
        end = until.get(each["id"])
        if end is not None and end < _day_ends(here.now, here.names.zone):
            text = f"{point['title']}, not signed: ends “{each['text']}”"
            yield _row(found, text=text, at=end, anew=True)


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
            shut = shut_since(sheet, state, name)
            news = ", shut by a nonconformance" if shut else ""
            text = f"{title}: release ends{news}"
            yield _row(found, text=text, at=point["until"])
        if point["status"] == "called":
            yield from _readings_end(here, found, name)
        if "notice_until" in point:
            yield _row(found, text=f"{title}: notice ends", at=point["notice_until"])
    for said in to_be_signed(found):
        point = sheet["points"][said.point or ""]
        who = here.names.person(said.about["said_by"])
        text = f"{point['title']}: {who} to sign what was spoken"
        end = said.at + point["spoken_ms"]
        yield _row(found, text=text, at=end, stays=True, harms=True)
