"""Hold, witness and review points: what each rests on, and every act at it in full.

Each act is told with its meaning under the name and class of its point, so that a
signature can be read years later without the program.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.core.clocks import elapsed_ms
from fieldapp.core.entries import Entry
from fieldapp.core.gates import forbidden, stands
from fieldapp.core.sheet import Point
from fieldapp.core.signers import calls_in_force, releaser
from fieldapp.core.view import allowed
from fieldapp.records import gates
from fieldapp.records.acts import Act, act, local, when
from fieldapp.records.figures import short, span
from fieldapp.records.marks import Mark, mark
from fieldapp.records.opened import Opened

KINDS = ("called", "call_withdrawn", "notice", "release", "spoken", "refusal",
         "condition_closed")  # fmt: skip
_MEANINGS = {
    "called": "called",
    "call_withdrawn": "withdrew the call",
    "notice": "received notice",
    "release": "released",
    "spoken": "wrote down a spoken release",
    "refusal": "refused",
    "condition_closed": "closed a condition",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PointAct:
    """An act at a point: its meaning, whether it stands, and the entry itself."""

    meaning: str
    stands: str
    act: Act
    by_pin: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """An open item a release named, and the step or point it must be closed before."""

    text: str
    before: str
    entry: str
    state: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class PointPart:
    """A point as printed; `rests` are (text, source)."""

    id: str
    title: str
    sort: str
    mark: Mark
    rests: tuple[tuple[str, str], ...]
    until: str
    signers: str
    conditions: tuple[Condition, ...]
    acts: tuple[PointAct, ...]


def point_parts(opened: Opened) -> Iterator[PointPart]:
    """Tell every point of the sheet, in the order of the work."""
    for name in opened.raw["flow"]:
        if name in opened.raw["points"]:
            yield _point_part(opened, name, opened.state["points"][name])


def _point_part(opened: Opened, name: str, now: dict[str, Any]) -> PointPart:
    point = opened.raw["points"][name]
    until = now.get("until")
    return PointPart(
        id=name,
        title=str(point["title"]),
        sort=f"{point['class']} point",
        mark=mark(point_status(opened, name), "point"),
        rests=tuple(
            (str(each["text"]), str(each.get("source", "")))
            for each in point.get("requires", ())
        ),
        until="" if until is None else local(opened, until, opened.zone),
        signers="; ".join(_signers(opened, point)),
        conditions=tuple(_conditions(opened, now)),
        acts=tuple(
            _point_act(opened, entry, now)
            for entry in opened.entries
            if entry.point == name and entry.kind in KINDS
        ),
    )


def point_status(opened: Opened, name: str) -> str:
    """Give how a point of a record stands."""
    attempt_of = opened.scene.view.attempt_of
    return gates.point_status(
        opened.raw, opened.state, opened.entries, name, attempt_of
    )


def lapsed_after_use(opened: Opened) -> frozenset[str]:
    """Give the releases that lapsed only after what they allowed was done.

    That is a fact to be told, and nothing irregular: what was done through such a
    release stays done.
    """
    history, sheet = opened.scene.view.history, opened.sheet
    return frozenset(
        each["entry"]
        for each in opened.state["flags"]
        if each["code"] == "release_lapsed"
        and (point := sheet.points.get(opened.by_id[each["entry"]].point or ""))
        and _used(opened, point, history.graph.index[each["entry"]])
    )


def _used(opened: Opened, point: Point, release: int) -> bool:
    """Say whether an act was done through a point's open gate by a release that stood.

    One that had lapsed by then opened nothing, though the act saw it: another did.
    """
    scene, steps = opened.scene, opened.sheet.steps
    history = scene.view.history
    return any(
        history.saw(line.root, release)
        and not forbidden(scene, steps[step], line.root)
        and stands(
            scene.case.scene(history.graph.past[line.root], history.moments[line.root]),
            point,
            release,
        )
        for step in point.shuts
        for line in scene.view.lines_in(step, history.entry(release).attempt).values()
    )


def _signers(opened: Opened, point: dict[str, Any]) -> Iterator[str]:
    for each in point.get("releases", ()):
        role = opened.words.fact("role", each["role"])
        bodies = [
            opened.words.fact("organisation", body)
            for body in each.get("organisation", ())
        ]
        yield f"{role} ({' or '.join(bodies)})" if bodies else role


def open_conditions(opened: Opened) -> int:
    """Count the conditions of releases that are not closed."""
    points = opened.state["points"].values()
    return sum(each["open"] for now in points for each in now.get("conditions", ()))


def left_open(state: Mapping[str, Any], entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Give releases of ended attempts with a condition that nobody ever closed.

    The work is released anew and they bind it no more; that they were left is told.
    """
    points = state["points"]
    told = {c["release"] for now in points.values() for c in now.get("conditions", ())}
    closed = {
        (each.about["target"], each.about["condition"])
        for each in entries
        if each.kind == "condition_closed"
    }
    return tuple(
        each
        for each in entries
        if each.kind == "release" and each.point in points and each.id not in told
        for count in [len(each.about.get("conditions", ()))]
        if any((each.id, number) not in closed for number in range(count))
    )


def _conditions(opened: Opened, now: dict[str, Any]) -> Iterator[Condition]:
    for each in now.get("conditions", ()):
        yield Condition(
            text=str(each["text"]),
            before=opened.words.fact("name", each["before"]),
            entry=short(each["release"]),
            state=mark("open" if each["open"] else "closed", "condition"),
        )


def _point_act(opened: Opened, entry: Entry, now: dict[str, Any]) -> PointAct:
    return PointAct(
        meaning=_meaning(entry, now) + _as_deputy(opened, entry),
        stands=_stands(opened, entry, now),
        act=act(opened, entry),
        by_pin=entry.unlocked == "pin",
    )


def _as_deputy(opened: Opened, entry: Entry) -> str:
    """Say in whose place a deputy released: who was called, when, and did not come."""
    person = releaser(entry) if entry.kind in gates.GIVING else ""
    standing = opened.scene.view.standing
    wanted = opened.part(entry.point or "").get("releases", ())
    if not person or any(allowed(standing, person, [each]) for each in wanted):
        return ""
    absent = [
        opened.words.fact("role", each["role"])
        for each in wanted
        if allowed(standing, person, list(each.get("deputies", ())))
    ]
    call = _call_waited_on(opened, entry) if absent else None
    if call is None:
        return ""
    moments, index = opened.scene.view.history.moments, _index(opened)
    ran = elapsed_ms(moments[index[call.id]], moments[index[entry.id]], use_by=False)
    called = local(opened, call.at, opened.zone)
    return f" as deputy: {absent[0]}, called {called}, had not come after {span(ran)}"


def _call_waited_on(opened: Opened, entry: Entry) -> Entry | None:
    """Give the longest waiting call in force when a release was given, as it knew.

    One withdrawn, refused or answered by then is nobody's wait.
    """
    view, place = opened.scene.view, _index(opened)[entry.id]
    history, point = view.history, opened.sheet.points[entry.point or ""]
    past = opened.scene.case.scene(history.graph.past[place], history.moments[place])
    calls = calls_in_force(past, point)
    return history.entry(calls[0]) if calls else None


def _index(opened: Opened) -> dict[str, int]:
    return opened.scene.view.history.graph.index


def _meaning(entry: Entry, now: dict[str, Any]) -> str:
    """Say what an act at a point meant; a signature under what was said is no other."""
    if entry.id in now.get("signed", {}).values():
        return "signed what was spoken"
    return _MEANINGS[entry.kind]


def _stands(opened: Opened, entry: Entry, now: dict[str, Any]) -> str:
    """Say whether a release counts, and a spoken one whether it was signed."""
    if entry.kind not in gates.GIVING or entry.id in now.get("signed", {}).values():
        return ""
    told = _counts(opened, entry, now)
    # Records of sheets from before this was amended stay as they are.
    if entry.kind != "spoken" or opened.raw.get("amended", 0) < 2:
        return told
    signature = opened.by_id.get(now.get("signed", {}).get(entry.id, ""))
    if signature is None:
        return f"{told}, not signed"
    name = opened.words.fact("person", signature.person)
    return f"{told}, signed {when(opened, signature)} by {name}"


def _counts(opened: Opened, entry: Entry, now: dict[str, Any]) -> str:
    if entry.attempt != opened.scene.view.attempt_of(entry.point or ""):
        return "of an earlier attempt"
    if entry.id in now.get("release", ()):
        return "expired" if now["status"] == "expired" else "stands"
    codes = {f["code"] for f in opened.state["flags"] if f["entry"] == entry.id}
    if "release_void" in codes:
        return "did not count"
    if "release_lapsed" in codes:
        return "lapsed"
    return "superseded"
