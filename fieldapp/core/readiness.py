"""What a point still rests on: steps, requirements, nonconformances, holds, others."""

from collections.abc import Iterable
from typing import Any

from fieldapp.core.bounds import over_at
from fieldapp.core.clocks import Moment, elapsed_ms
from fieldapp.core.conditions import open_conditions
from fieldapp.core.dispositions import step_fault_id
from fieldapp.core.faults import nonconformances
from fieldapp.core.heard import unheard
from fieldapp.core.items import TWICE, named_twice, out_untimed, ran_out
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene, milestones_of
from fieldapp.core.sheet import Point, Step
from fieldapp.core.steps import is_off, step_state


def unmet(scene: Scene, point: Point, needs: tuple[str, ...] | None) -> list[Refusal]:
    """Give everything a point still rests on in a scene; empty when it may be released.

    needs: the entries of other subjects a release named, or None when asking what
    holds now.
    """
    return [
        *_unmet_steps(scene, point),
        *(
            refusal("not_reached", name=name)
            for name in point.after
            if not scene.case.reached(scene, kind_of(scene, name), name)
        ),
        *(
            refusal("requirement", point=point.id, requirement=name)
            for name, must in point.requires
            if must(scene, "") is not True
        ),
        *(
            refusal("nonconformance", id=fault.id)
            for fault in nonconformances(scene)
            if point.id in fault.shuts
        ),
        *open_conditions(scene, point.id),
        *waiting(scene, point.holds, scene.at),
        *_unmet_subjects(scene, point, needs),
        *unheard(scene, point, needs),
        *_stopped(scene),
    ]


def kind_of(scene: Scene, name: str) -> str:
    """Say what a name in a `needs` or `after` list means."""
    sheet = scene.view.sheet
    if name in sheet.steps:
        return "step"
    return "point" if name in sheet.points else "milestone"


def stop_in_force(scene: Scene) -> int | None:
    """Give the newest STOP that no later made-safe has seen, or None."""
    view, history = scene.view, scene.view.history
    stops = view.among(history.by_kind.get("stopped"))
    safe = view.among(history.by_kind.get("made_safe"))
    live = [s for s in stops if not any(history.saw(m, s) for m in safe)]
    return live[-1] if live else None


def _unmet_steps(scene: Scene, point: Point) -> list[Refusal]:
    found = []
    for name in point.covers:
        step = scene.view.sheet.steps[name]
        status = step_state(scene, step).status
        if status not in ("done", "off"):
            found.append(refusal(f"step_{status}", step=name))
            found += _twice(scene, step)
        elif scene.view.sheet.amended and ran_out(scene, step):
            # Sheets from before this was amended asked only when it was read.
            found.append(refusal("item_ran_out", step=name))
        elif scene.view.sheet.amended and out_untimed(scene, step):
            found.append(refusal("item_out_untimed", step=name))
    return found


def _twice(scene: Scene, step: Step) -> list[Refusal]:
    """Tell an item at two places until it is told as a nonconformance."""
    raised = {fault.id for fault in nonconformances(scene)}
    return [
        refusal(TWICE, step=step.id, item=each.item, lines=",".join(each.lines))
        for each in named_twice(scene, step)
        if step_fault_id(scene, step.id, each.check) not in raised
    ]


def waiting(scene: Scene, holds: Iterable[dict[str, Any]], at: Moment) -> list[Refusal]:
    """Give the times that must still pass at a moment before what they hold back."""
    found = []
    for hold in holds:
        if is_off(scene, scene.view.sheet.steps[hold["after"]]):
            continue
        began = scene.moment({"step": hold["after"]})
        if began is None:
            found.append(refusal("hold_not_begun", hold=hold["id"]))
        elif elapsed_ms(began, at, use_by=False) < hold["ms"]:
            until = over_at(began, at, hold["ms"])
            found.append(
                refusal("hold_untimed", hold=hold["id"])
                if until is None
                else refusal("hold_running", hold=hold["id"], until=until)
            )
    return found


def _unmet_subjects(
    scene: Scene, point: Point, needs: tuple[str, ...] | None
) -> list[Refusal]:
    found = []
    for other in point.prerequisites:
        subject, name = other["subject"], other["milestone"]
        entry_id = milestones_of(scene.view.standing, subject).get(name)
        if entry_id is None or (needs is not None and entry_id not in needs):
            found.append(refusal("other_subject", subject=subject, name=name))
    return found


def _stopped(scene: Scene) -> list[Refusal]:
    place = stop_in_force(scene)
    if place is None:
        return []
    reason = scene.view.history.entry(place).about["reason"]
    return [refusal("stopped", reason=reason)]
