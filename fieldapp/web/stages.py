"""How far a subject is, in few words: what a box of the elevation and a row show.

Read off the sheet alone: the first hold point of the flow, the milestone that other
subjects of its kind wait for, the verdict. The words are the plan's own titles.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fieldapp.core.verdict import UNDECIDED
from fieldapp.lookups import Folded
from fieldapp.records.hours import office_ms
from fieldapp.web.clocks import clocks_told
from fieldapp.web.display import lasting, mark
from fieldapp.web.flags import received_of

AHEAD, BEGUN, PAST, CARRIES, WHOLE = range(5)
FINISHED = ("complete", "concession", "rejected")
PASSED = ("released", "waived")
Row = dict[str, Any]


def awaited_milestones(sites: Iterable[Folded]) -> dict[str, str]:
    """Give, by kind, the milestone that subjects of that kind await of one another
    before they begin: what their first hold point asks, else the first they name.
    """
    return {kind: named[0] for kind, named in all_awaited(sites).items()}


def all_awaited(sites: Iterable[Folded]) -> dict[str, tuple[str, ...]]:
    """Give, by kind, every milestone that its subjects await of one another, those
    asked before their first hold point first.
    """
    told = list(sites)
    kinds = {each.sheet.subject: each.sheet.raw["kind"] for each in told}
    found: dict[str, dict[str, None]] = {}
    later: dict[str, dict[str, None]] = {}
    for each in told:
        raw, gate = each.sheet.raw, first_gate(each.sheet.raw)
        for waited in raw.get("prerequisites", ()):
            if kinds.get(waited["subject"]) == raw["kind"]:
                where = found if gate in waited["before"] else later
                where.setdefault(raw["kind"], {})[waited["milestone"]] = None
    return {
        kind: tuple({**found.get(kind, {}), **later.get(kind, {})})
        for kind in {**found, **later}
    }


def stage(found: Folded, awaited: str | None) -> Row:
    """Give how far a subject is: a level from 0 to 4, and its word.

    0 not begun, 1 begun, 2 past its first hold point, 3 others may build on it (the
    `awaited` milestone is reached), 4 finished.
    """
    sheet, state = found.sheet.raw, found.state
    if state["verdict"] in FINISHED:
        return {"level": WHOLE, "word": mark(state["verdict"], "verdict")["word"]}
    if awaited and reached(state, awaited):
        return {"level": CARRIES, "word": title_of(sheet, awaited)}
    gate = first_gate(sheet)
    if gate and state["points"][gate]["status"] in PASSED:
        return {"level": PAST, "word": f"past {title_of(sheet, gate)}"}
    if found.entries:
        return {"level": BEGUN, "word": "begun"}
    return {"level": AHEAD, "word": "not begun"}


def live_mark(found: Folded, how_far: Row, now: int) -> dict[str, str]:
    """Give tone, icon and word of a subject now: what is worst or most urgent first.

    `live` is what a call-out beside a picture says, empty for what rests.
    """
    state = found.state
    if state.get("stopped"):
        return _marked("red", "■", "stopped", "stopped")
    if any(each["status"] in UNDECIDED for each in state["nonconformances"]):
        return _marked("red", "✕", "nonconformance open", "to be decided")
    if how_far["level"] == WHOLE:
        return mark(state["verdict"], "verdict") | {"live": ""}
    no = next((n for n, p in state["points"].items() if p["status"] == "refused"), None)
    if no:
        title = title_of(found.sheet.raw, no)
        return _marked("red", "✕", f"refused: {title}", "refused")
    running = _running(found)
    if running:
        return running
    since = called_since(found)
    if since is not None:
        wait = f"called {lasting(now - since)} ago"
        return _marked("blue", "☎", wait, wait)
    if how_far["level"] == AHEAD:
        return _marked("grey", "○", "not begun", "")
    return _marked("blue", "◐", how_far["word"], "")


def called_since(found: Folded) -> int | None:
    """Give the moment of the oldest call that still waits, ms UTC, or None."""
    by_id = {entry.id: entry for entry in found.entries}
    calls = [
        office_ms(by_id[point["called"]], received_of(found))
        for point in found.state["points"].values()
        if point["status"] == "called" and point.get("called") in by_id
    ]
    return min(calls, default=None)


def still_wanted(found: Folded, point: str) -> list[Row]:
    """Give the releases a point lists that nobody has given yet."""
    by_id = {entry.id: entry for entry in found.entries}
    people = found.standing["people"]
    given: set[str] = set()
    for each in found.state["points"][point].get("release", ()):
        entry = by_id[each]
        signer = entry.about.get("said_by", entry.person)
        given |= set(people.get(signer, {}).get("roles", ()))
    wanted: list[Row] = found.sheet.raw["points"][point]["releases"]
    return [each for each in wanted if not _roles(each) & given]


def _roles(wanted: Mapping[str, Any]) -> set[str]:
    return {wanted["role"], *(each["role"] for each in wanted.get("deputies", ()))}


def first_gate(sheet: Mapping[str, Any]) -> str | None:
    """Give the first hold point of the flow, or None."""
    points = sheet["points"]
    return next(
        (name for name in sheet["flow"] if name in points
         and points[name]["class"] == "hold"),
        None,
    )  # fmt: skip


def reached(state: Mapping[str, Any], name: str) -> bool:
    """Say whether a milestone, step or point is behind a subject."""
    if name in state["points"]:
        return state["points"][name]["status"] in PASSED
    if name in state["steps"]:
        return bool(state["steps"][name]["status"] == "done")
    return name in state["milestones"]


def title_of(sheet: Mapping[str, Any], name: str) -> str:
    """Give what a sheet calls a step, point or milestone."""
    parts = {**sheet["steps"], **sheet["points"]}
    if name in parts:
        return str(parts[name]["title"])
    titles = {each["id"]: each["title"] for each in sheet.get("milestones", ())}
    return str(titles.get(name, name))


def _running(found: Folded) -> dict[str, str] | None:
    live = [c for c in clocks_told(found.sheet.raw, found.state) if c["live"]]
    watched = [(d["left"], c) for c in live for d in c["deadlines"] if d["raises"]]
    if not watched:
        return None
    left, clock = min(watched, key=lambda each: each[0])
    if left < 0:
        late = f"{lasting(left)} over"
        return _marked("red", "◷", f"{clock['title']}: {late}", late)
    told = f"{lasting(left)} left"
    return _marked("blue", "◷", f"{clock['title']}: {told}", told)


def _marked(tone: str, icon: str, word: str, live: str) -> dict[str, str]:
    return {"tone": tone, "icon": icon, "word": word, "live": live}
