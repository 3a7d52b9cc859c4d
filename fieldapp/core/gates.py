"""Gates: which releases stand, and what a gate forbade.

A gate is judged on an entry's own past, what its author had seen, never on arrival.
A release lapses by what its signer had not seen, and it expires for an act by use-by
time. `now` only decides what is offered; lapsing reopens only what comes after.
"""

from fieldapp.core.bounds import surely_after, surely_before, untimed
from fieldapp.core.clocks import (
    DAY_MS,
    MINUTE_MS,
    Moment,
    bound_ms,
    elapsed_ms,
    moment_of,
)
from fieldapp.core.conditions import open_conditions
from fieldapp.core.entries import Entry
from fieldapp.core.faults import OVER, UNSIGNED, nonconformances
from fieldapp.core.lapses import lapse, lapsing
from fieldapp.core.readiness import kind_of, unmet, waiting
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point, Step
from fieldapp.core.shutting import went_through
from fieldapp.core.signers import (
    given_by,
    notice_left_ms,
    on_point,
    releaser,
    signer_refusals,
    without_release,
    words_signed,
)
from fieldapp.core.unused import taken_off


def births(scene: Scene, point: Point, place: int) -> list[Refusal]:
    """Give why a release did not count when it was made; empty when it did."""
    history = scene.view.history
    memo = scene.case.births
    if place not in memo:
        memo[place] = [refusal("not_reached", name=point.id)]
        past = scene.case.scene(history.graph.past[place], history.moments[place])
        memo[place] = [
            *_wrong_signer(past, point, place),
            *unmet(past, point, history.entry(place).needs),
        ]
    found: list[Refusal] = memo[place]
    return found


def stands(scene: Scene, point: Point, place: int) -> bool:
    """Say whether a release counts and has not lapsed in a scene."""
    key = ("stands", point.id, place)
    if key not in scene.memo:
        # A reading judged by this very release is judged as if it stood.
        scene.memo[key] = True
        scene.memo[key] = (
            not births(scene, point, place) and lapse(scene, point, place) is None
        )
    return bool(scene.memo[key])


def releases(scene: Scene, point: Point) -> list[int]:
    """Give the releases of a point in its attempt, in order, standing or not.

    A release spoken and read back is one too, where the plan allows it.
    """
    found = on_point(scene, point, "release")
    if not point.raw.get("spoken_ms"):
        return found
    own = [place for place in found if not signed_words(scene, point, place)]
    return sorted(own + on_point(scene, point, "spoken"))


def signed_words(scene: Scene, point: Point, place: int) -> list[int]:
    """Give the spoken releases that a release only signs: it is none of its own.

    What was said counts from when it was said, and is judged by what was known then.
    Only where it is over may who said it have released anew; where that would not have
    counted, it was a signature all the same. Sheets from before this was amended took
    each as a release on what was known when it was signed.
    """
    if scene.view.sheet.amended < 2:
        return []
    said = words_signed(scene, point, place)
    said = [each for each in said if not births(scene, point, each)]
    if not said or births(scene, point, place):
        return said
    history, act = scene.view.history, scene.view.history.moments[place]
    past = scene.case.scene(history.graph.past[place], act)
    holds = any(
        stands(past, point, each) and not expired(past, point, each, act)
        for each in said
    )
    return said if holds else []


def standing_releases(scene: Scene, point: Point) -> list[int | None]:
    """Give, for each release the point lists, the newest that stands (or None)."""
    good = [place for place in releases(scene, point) if stands(scene, point, place)]
    found: list[int | None] = []
    for wanted in point.releases:
        mine = [place for place in good if given_by(scene, point, wanted, place)]
        found.append(mine[-1] if mine else None)
    return found


def life_ms(point: Point, release: Entry, moment: Moment) -> int | None:
    """Give how long a release lasts, ms: its life, or up to the end of the shift.

    A shift ends at a minute of the day on the clock of the release's own zone; where
    there are several, at the next.
    """
    lives = [] if point.life_ms is None else [point.life_ms]
    until = point.raw.get("until_minute", [])
    into_day = (bound_ms(moment, 0) + release.zone * MINUTE_MS) % DAY_MS
    ends = until if isinstance(until, list) else [until]
    lives += [(end * MINUTE_MS - into_day) % DAY_MS for end in ends]
    return min(lives, default=None)


def expired(scene: Scene, point: Point, place: int, act: Moment) -> bool:
    """Say whether a release has expired for an act at a moment."""
    history = scene.view.history
    moment = history.moments[place]
    life = life_ms(point, history.entry(place), moment)
    return life is not None and elapsed_ms(moment, act, use_by=True) > life


def forbidden(scene: Scene, step: Step, place: int) -> list[Refusal]:
    """Give why a gate forbade an act when it was made; empty when it was free.

    scene: any scene; the act is judged in its own past, by the sheet it was made under.
    """
    history = scene.view.history
    memo = scene.case.acts
    if place not in memo:
        memo[place] = []
        case = scene.case.under(place)
        past = case.scene(history.graph.past[place], history.moments[place])
        named = past.view.sheet.steps.get(step.id, step)
        memo[place] = _act_refusals(past, named, place)
    found: list[Refusal] = memo[place]
    return found


def gate_refusals(scene: Scene, step: Step, act: Moment) -> list[Refusal]:
    """Give why gates before a step are shut in a scene for an act at a moment."""
    found = [
        each
        for name in step.gates
        for each in _gate(scene, scene.view.sheet.points[name], act)
    ]
    # What it waits for and has not begun is told by what it needs.
    held = [hold for hold in step.holds if scene.lines(hold["after"])]
    return found + open_conditions(scene, step.id) + waiting(scene, held, act)


def _gate(scene: Scene, point: Point, act: Moment) -> list[Refusal]:
    standing = standing_releases(scene, point)
    given = [place for place in standing if place is not None]
    if len(given) < len(standing) or not standing:
        return without_release(scene, point, act)
    late = [place for place in given if expired(scene, point, place, act)]
    moments = scene.view.history.moments
    if any(untimed(moments[place], act) for place in late):
        return [refusal("gate_untimed", point=point.id)]
    return (
        [refusal("gate_expired", point=point.id)]
        if late
        else _news(scene, point, given)
    )


def _news(scene: Scene, point: Point, given: list[int]) -> list[Refusal]:
    """Give the nonconformances that shut a released gate nothing went through yet.

    Its signers did not know of them; what is half done is not held up in the middle,
    and a time that runs out meanwhile waits for the next gate. Sheets from before this
    was amended let all of them wait.
    """
    if scene.view.sheet.amended < 2 or went_through(scene, point.id):
        return []
    graph, unseen = scene.view.history.graph, scene.view.mask
    for place in given:
        unseen &= ~(graph.past[place] | 1 << place)
    if not unseen and scene.view.mask != graph.everything:
        return []
    found = [f for f in nonconformances(scene) if f.code not in (OVER, UNSIGNED)]
    return [refusal("nonconformance", id=f.id) for f in found if point.id in f.shuts]


def passed(scene: Scene, point: Point) -> bool:
    """Say whether a point is behind us: released, or used by an act it allowed."""
    key = ("passed", point.id)
    if key not in scene.memo:
        scene.memo[key] = False
        standing = standing_releases(scene, point)
        released = bool(standing) and None not in standing
        scene.memo[key] = released or waived(scene, point) or used(scene, point)
    return bool(scene.memo[key])


def waived(scene: Scene, point: Point) -> bool:
    """Say whether a witness point's notice has run out unattended."""
    witness = point.raw["class"] == "witness"
    return witness and notice_left_ms(scene, point, scene.at) == 0


def used(scene: Scene, point: Point) -> bool:
    """Say whether an act was done through this point's open gate.

    Of a step that only its first act passes the gate for, that one is asked. Sheets
    from before this was amended asked all, and what follows is never forbidden.
    """
    amended = scene.view.sheet.amended >= 2
    for name in point.shuts:
        step = scene.view.sheet.steps[name]
        roots = sorted(line.root for line in scene.lines(name).values())
        asked = roots[:1] if amended and step.first else roots
        if any(not forbidden(scene, step, root) for root in asked):
            return True
    return False


def _wrong_signer(scene: Scene, point: Point, place: int) -> list[Refusal]:
    entry = scene.view.history.entry(place)
    if entry.kind == "spoken":
        if entry.about["heard_by"] in (entry.person, entry.about["said_by"]):
            return [refusal("not_heard", point=point.id)]
    elif entry.unlocked != "pin":
        return [refusal("pin_needed", point=point.id)]
    return signer_refusals(scene, point, releaser(entry))


def _act_refusals(past: Scene, step: Step, place: int) -> list[Refusal]:
    entry = past.view.history.entry(place)
    if step.first and past.view.has_lines(step.id, entry.attempt):
        # What was taken off again passed its gate; more of it wants the gate anew.
        current = entry.attempt == past.view.attempt_of(step.id)
        if not (current and taken_off(past, {"start": step.id}, "")):
            return []
    act = past.view.history.moments[place]
    found = gate_refusals(past, step, act) + _without_standing(past, step, entry, act)
    if step.gated:
        found += [
            refusal("not_reached", name=name)
            for name in step.needs
            if not past.case.reached(past, kind_of(past, name), name)
        ]
    if not found and entry.kind == "anyway":
        found = [refusal("said_anyway")]
    return found


def _without_standing(
    past: Scene, step: Step, entry: Entry, act: Moment
) -> list[Refusal]:
    """Give why gates were shut if a typed time lies where no release of one stood.

    Before the first was given, or between one that was over and the next. Sheets from
    before this was amended took a release as given before what is copied.
    """
    if entry.at_by != "typed" or past.view.sheet.amended < 2:
        return []
    found = []
    for point in (past.view.sheet.points[name] for name in step.gates):
        if None not in standing_releases(past, point):
            given = [
                place
                for place in releases(past, point)
                if not births(past, point, place) and _stood(past, point, place, act)
            ]
            if not all(
                any(given_by(past, point, wanted, place) for place in given)
                for wanted in point.releases
            ):
                found += without_release(past, point, act)
    return found


def _stood(past: Scene, point: Point, place: int, act: Moment) -> bool:
    """Say whether a release may have stood at a typed time: given by then, not over."""
    history = past.view.history
    given = history.moments[place]
    life = life_ms(point, history.entry(place), given)
    if surely_before(act, given):
        return False
    if life is not None and surely_after(act, given, life):
        return False
    return not any(
        surely_after(act, moment_of(history.entry(each), history.entry(each).made))
        for each in lapsing(past, point, place)
        if not history.moments[each].unknown
    )
