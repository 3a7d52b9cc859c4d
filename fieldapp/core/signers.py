"""Who may sign a point: role and organisation, deputies in turn, not one's own work."""

from typing import Any

from fieldapp.core.clocks import Moment, elapsed_ms
from fieldapp.core.entries import Entry
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point
from fieldapp.core.view import allowed


def signer_refusals(scene: Scene, point: Point, person: str) -> list[Refusal]:
    """Give why a person may not release a point in a scene; empty when they may."""
    if not any(may_sign(scene, point, each, person) for each in point.releases):
        early = scene.view.sheet.amended and _is_deputy(scene, point, person)
        code = "deputy_early" if early else "wrong_role"
        return [refusal(code, point=point.id, person=person)]
    if point.independent and person in workers(scene, point):
        return [refusal("own_work", point=point.id, person=person)]
    if point.raw.get("other_organisation") and _same_organisation(scene, point, person):
        return [refusal("own_organisation", point=point.id, person=person)]
    return []


def may_sign(scene: Scene, point: Point, wanted: dict[str, Any], person: str) -> bool:
    """Say whether a person may give one wanted release: by role, or as a deputy.

    A deputy may sign once the point was called and the deputy's wait has run.
    """
    standing = scene.view.standing
    if allowed(standing, person, [wanted]):
        return True
    return any(
        allowed(standing, person, [deputy])
        and _waited(scene, point, deputy["after_ms"])
        for deputy in wanted.get("deputies", ())
    )


def given_by(scene: Scene, point: Point, wanted: dict[str, Any], place: int) -> bool:
    """Say whether a release is the one wanted, by who might give it at the time."""
    history = scene.view.history
    past = scene.case.scene(history.graph.past[place], history.moments[place])
    return may_sign(past, point, wanted, releaser(scene.view.history.entry(place)))


def releaser(entry: Entry) -> str:
    """Give who released: the signer, or who is named as having said it."""
    said_by: str = (entry.about or {}).get("said_by", entry.person)
    return said_by


def words_signed(scene: Scene, point: Point, place: int) -> list[int]:
    """Give the spoken releases that a release was the first signature under.

    Those its signer had said, and knew to be written down.
    """
    view, history = scene.view, scene.view.history
    entry = history.entry(place)
    if not point.raw.get("spoken_ms") or entry.unlocked != "pin":
        return []

    def known(kind: str) -> list[int]:
        every = view.among(history.by_point.get((point.id, kind)))
        mine = [p for p in every if history.entry(p).attempt == entry.attempt]
        return [
            p
            for p in mine
            if releaser(history.entry(p)) == entry.person and history.saw(place, p)
        ]

    before = [p for p in known("release") if history.entry(p).unlocked == "pin"]
    return [
        said
        for said in known("spoken")
        if not any(history.saw(other, said) for other in before)
    ]


def signed_in_time(scene: Scene, point: Point, place: int) -> bool:
    """Say whether who is named as having spoken signed it, by PIN, within its time.

    Sheets from before this was amended took any release of theirs, however late.
    """
    history, limit = scene.view.history, point.raw["spoken_ms"]
    spoken, moment = history.entry(place), history.moments[place]

    def good(other: int) -> bool:
        if scene.view.sheet.amended < 2:
            return True
        by_pin = history.entry(other).unlocked == "pin"
        run_ms = elapsed_ms(moment, history.moments[other], use_by=True)
        return by_pin and run_ms <= limit

    return any(
        history.saw(other, place)
        and history.entry(other).person == spoken.about["said_by"]
        and good(other)
        for other in on_point(scene, point, "release")
    )


def refuses(scene: Scene, point: Point, place: int) -> bool:
    """Say whether a refusal counts: by a role that may release the point."""
    person = scene.view.history.entry(place).person
    deputies = [d for each in point.releases for d in each.get("deputies", ())]
    return allowed(scene.view.standing, person, [*point.releases, *deputies])


def workers(scene: Scene, point: Point) -> set[str]:
    """Give who did the work a point covers: readings, corrections, declared crew.

    Who only brought a picture of it looked at it, and did no part of it.
    """
    view, history = scene.view, scene.view.history
    entries = history.graph.entries
    people = {
        entries[place].person
        for step in point.covers
        for line in scene.lines(step).values()
        for place in line.asserted
        if place not in history.added
    }
    for place in view.among(history.by_kind.get("crew")):
        people.update(history.entry(place).about["people"])
    return people


def on_point(scene: Scene, point: Point, kind: str) -> list[int]:
    """Give the entries of a kind on a point in its attempt, in order."""
    view = scene.view
    attempt = view.attempt_of(point.id)
    return [
        place
        for place in view.among(view.history.by_point.get((point.id, kind)))
        if view.history.entry(place).attempt == attempt
    ]


def notice_left_ms(scene: Scene, point: Point, act: Moment) -> int | None:
    """Give how much of a witness point's notice is still to run, ms; None: not given.

    Notice runs from the entry that says it was received, never from an unsent call.
    """
    given = on_point(scene, point, "notice")
    if not given:
        return None
    began = scene.view.history.moments[given[0]]
    notice: int = point.raw.get("notice_ms", 0)
    return max(notice - elapsed_ms(began, act, use_by=False), 0)


def without_release(scene: Scene, point: Point, act: Moment) -> list[Refusal]:
    """Give why a point not released is shut: a witness's notice may run out."""
    if point.raw["class"] != "witness":
        return [refusal("gate_shut", point=point.id)]
    left = notice_left_ms(scene, point, act)
    if left is None:
        return [refusal("notice_not_given", point=point.id)]
    return (
        [refusal("notice_running", point=point.id, until=act.at + left)] if left else []
    )


def calls_in_force(scene: Scene, point: Point) -> list[int]:
    """Give the calls that nobody has withdrawn, refused or fully answered, in order.

    A sheet from before this was amended counts every call of its attempt.
    """
    calls = on_point(scene, point, "called")
    if not scene.view.sheet.amended:
        return calls
    history = scene.view.history
    ends = on_point(scene, point, "call_withdrawn")
    ends += [p for p in on_point(scene, point, "refusal") if refuses(scene, point, p)]
    given = on_point(scene, point, "release") + on_point(scene, point, "spoken")
    return [
        call
        for call in calls
        if not any(history.saw(end, call) for end in ends)
        and len(
            {
                releaser(history.entry(p))
                for p in given
                if _answers(scene, point, call, p)
            }
        )
        < len(point.releases)
    ]


def _answers(scene: Scene, point: Point, call: int, place: int) -> bool:
    """Say whether a release that saw a call is of somebody who was to answer it."""
    history, standing = scene.view.history, scene.view.standing
    who = releaser(scene.view.history.entry(place))
    run = elapsed_ms(history.moments[call], history.moments[place], use_by=False)
    return history.saw(place, call) and any(
        allowed(standing, who, [wanted])
        or any(
            allowed(standing, who, [deputy]) and run >= deputy["after_ms"]
            for deputy in wanted.get("deputies", ())
        )
        for wanted in point.releases
    )


def _is_deputy(scene: Scene, point: Point, person: str) -> bool:
    deputies = [d for each in point.releases for d in each.get("deputies", ())]
    return allowed(scene.view.standing, person, deputies)


def _waited(scene: Scene, point: Point, after_ms: int) -> bool:
    called = calls_in_force(scene, point)
    moments = scene.view.history.moments
    return any(
        elapsed_ms(moments[place], scene.at, use_by=False) >= after_ms
        for place in called
    )


def _same_organisation(scene: Scene, point: Point, person: str) -> bool:
    people = scene.view.standing.get("people", {})
    mine = people.get(person, {}).get("organisation")
    return any(
        people.get(worker, {}).get("organisation") == mine
        for worker in workers(scene, point)
    )
