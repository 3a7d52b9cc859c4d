"""A point laid out as plain data: its status, and everything it rests on."""

from typing import Any

from fieldapp.core import gates
from fieldapp.core.clocks import bound_ms
from fieldapp.core.conditions import Condition, conditions
from fieldapp.core.heard import last_heard
from fieldapp.core.lapses import lapse
from fieldapp.core.readiness import unmet
from fieldapp.core.refusals import Refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point
from fieldapp.core.signers import (
    calls_in_force,
    given_by,
    notice_left_ms,
    on_point,
    refuses,
)

State = dict[str, Any]


def point_state(scene: Scene, point: Point) -> State:
    """Give a point's status, what it rests on, its releases and conditions."""
    refusals = unmet(scene, point, None)
    standing = gates.standing_releases(scene, point)
    state: State = {"refusals": refusals}
    found = [_condition(scene, each) for each in conditions(scene, point)]
    if found:
        state["conditions"] = found
    heard = last_heard(scene, point, None) if "heard" in point.raw else None
    if heard is not None:
        state["heard"] = heard.at
    history = scene.view.history
    signed = {
        history.entry(said).id: history.entry(place).id
        for place in on_point(scene, point, "release")
        for said in gates.signed_words(scene, point, place)
    }
    if signed:
        state["signed"] = signed
    released = [history.entry(place).id for place in standing if place is not None]
    if released:
        state["release"] = released
    state["status"] = _point_status(scene, point, standing, refusals, state)
    return state


def _condition(scene: Scene, condition: Condition) -> State:
    return {
        "release": scene.view.history.entry(condition.release).id,
        "number": condition.number,
        "text": condition.text,
        "before": condition.before,
        "open": 1 if condition.closed_by is None else 0,
    }


def _point_status(
    scene: Scene,
    point: Point,
    standing: list[int | None],
    refusals: list[Refusal],
    state: State,
) -> str:
    given = [place for place in standing if place is not None]
    if standing and len(given) == len(standing):
        ends = [end for place in given if (end := _ends(scene, point, place))]
        if ends:
            state["until"] = min(ends)
        late = any(gates.expired(scene, point, place, scene.at) for place in given)
        return "expired" if late and not gates.used(scene, point) else "released"
    if gates.used(scene, point):
        return "released"
    return _unreleased(scene, point, refusals, state)


def _ends(scene: Scene, point: Point, place: int) -> int | None:
    history = scene.view.history
    life = gates.life_ms(point, history.entry(place), history.moments[place])
    return None if life is None else bound_ms(history.moments[place], 0) + life


def _unreleased(
    scene: Scene, point: Point, refusals: list[Refusal], state: State
) -> str:
    history = scene.view.history
    newest: dict[str, int] = {}
    for kind in ("called", "call_withdrawn", "refusal"):
        places = on_point(scene, point, kind)
        if kind == "refusal":
            places = [p for p in places if refuses(scene, point, p)]
        newest[kind] = places[-1] if places else -1
    valid = [
        place
        for place in gates.releases(scene, point)
        if not gates.births(scene, point, place)
    ]
    if newest["refusal"] > newest["called"] and not _overcome(
        scene, point, valid, newest["refusal"]
    ):
        state["refused_by"] = history.entry(newest["refusal"]).id
        return "refused"
    calls = calls_in_force(scene, point)
    if calls and newest["called"] > newest["call_withdrawn"]:
        state["called"] = history.entry(calls[-1]).id
    left = notice_left_ms(scene, point, scene.at)
    if point.raw["class"] == "witness" and left is not None:
        state["notice_until"] = scene.at.at + left
        if left == 0:
            return "waived"
    lapsed_by = lapse(scene, point, valid[-1]) if valid else None
    if lapsed_by is not None:
        state["lapsed_by"] = lapsed_by
        return "lapsed"
    if "called" in state:
        return "called"
    return "waiting" if refusals else "ready"


def _overcome(scene: Scene, point: Point, valid: list[int], refusal: int) -> bool:
    """Say whether all who are to release did so after a refusal: then it may lapse.

    Sheets from before this was amended went back to the refusal.
    """
    if scene.view.sheet.amended < 2:
        return False
    seen = [place for place in valid if scene.view.history.saw(place, refusal)]
    return all(
        any(given_by(scene, point, wanted, place) for place in seen)
        for wanted in point.releases
    )
