"""Nonconformances of a subject: raised by hand, or derived from what was recorded.

Derived ones come from readings, from acts a gate forbade, and from clocks. A reading
retaken in time by its author leaves none; after that a correction cannot launder a
failure: the old reading is still judged, and only a disposition clears it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from fieldapp.core.check import Check
from fieldapp.core.clocks import elapsed_ms
from fieldapp.core.dispositions import (
    GATE,
    clock_fault_id,
    computed_id,
    disposal,
    reading_fault_id,
    step_fault_id,
)
from fieldapp.core.earlier import Failure, failures_gone, gone, superseded
from fieldapp.core.fault import Fault
from fieldapp.core.items import CORRECTED, TWICE, named_twice, relied_on_corrected
from fieldapp.core.line import Line
from fieldapp.core.lives import Running, clock_lines, clock_runs, kept, ratios_of
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step
from fieldapp.core.shutting import shutting
from fieldapp.core.signers import on_point, signed_in_time
from fieldapp.core.steps import fails, line_raises, line_state, unsettled
from fieldapp.core.unused import thrown_away
from fieldapp.core.view import View

OVER = "clock_over"
UNSIGNED = "spoken_unsigned"


def nonconformances(scene: Scene) -> tuple[Fault, ...]:
    """Give every nonconformance of the current attempt's work, sorted by id."""
    if "faults" not in scene.memo:
        scene.memo["faults"] = ()
        found = {fault.id: shutting(scene, fault) for fault in _every(scene)}
        scene.memo["faults"] = tuple(found[key] for key in sorted(found))
    faults: tuple[Fault, ...] = scene.memo["faults"]
    return faults


def _every(scene: Scene) -> Iterator[Fault]:
    for step in scene.view.sheet.steps.values():
        yield from _of_step(scene, step)
    yield from _of_certificates(scene)
    yield from _of_clocks(scene)
    yield from _unsigned(scene)
    yield from _by_hand(scene)


def _of_step(scene: Scene, step: Step) -> Iterator[Fault]:
    read = scene.lines(step.id)
    if not read:
        return
    watched = step.judged or scene.view.history.watches(step.id)
    for line in unsettled(scene, step, read):
        if watched:
            yield from _of_gate(scene, step, line, line.asserted)
        if line_state(scene, step, line).failed:
            yield from _of_current(scene, step, line)
        if len(line.asserted) > 1:
            yield from _of_failures(scene, step, line, superseded(scene, step, line))
        yield from _of_gone(scene, step, line)
    for check in step.step_checks:
        if (
            check.raises != "caution"
            and fails(scene, check, "")
            and _raises(scene, check, read)
        ):
            fault_id = step_fault_id(scene, step.id, check.id)
            yield _fault(scene, step, check.id, fault_id=fault_id)
    yield from _of_twice(scene, step)


def _of_twice(scene: Scene, step: Step) -> Iterator[Fault]:
    """Raise one for each item at two places: in the race, and where it is built on."""
    history, mask = scene.view.history, scene.view.mask
    for each in named_twice(scene, step):
        if step.raced or any(history.locked(p, mask) for p in each.places):
            fault_id = step_fault_id(scene, step.id, each.check)
            found = _fault(scene, step, f"{TWICE}:{each.field}", fault_id=fault_id)
            place = max(each.places)
            yield replace(found, place=place, item=each.item, lines=each.lines)


def _of_gate(
    scene: Scene, step: Step, line: Line, places: Iterable[int]
) -> Iterator[Fault]:
    history = scene.view.history
    for root in places:
        entry = history.entry(root)
        if entry.kind != "correction" and scene.case.forbidden(step, root):
            yield Fault(
                id=reading_fault_id(GATE, entry.id),
                code="gate_shut",
                step=step.id,
                line=line.id,
                place=root,
                check=GATE,
                blocks=scene.view.sheet.next_gate(step.id),
                disposal=disposal(scene, reading_fault_id(GATE, entry.id)),
            )


def _of_current(scene: Scene, step: Step, line: Line) -> Iterator[Fault]:
    if line.disputed or line.discarded:
        return
    failed = line_state(scene, step, line).failed
    history = scene.view.history
    locked = not step.series and history.locked(line.current, scene.view.mask)
    entry_id = history.entry(line.current).id
    for check in failed:
        if locked or line_raises(scene, step, line, check) == "nonconformance":
            yield _fault(
                scene,
                step,
                check,
                fault_id=reading_fault_id(check, entry_id),
                line=line.id,
                place=line.current,
            )


def _of_failures(
    scene: Scene, step: Step, line: Line, found: Iterable[Failure]
) -> Iterator[Fault]:
    for check, place in found:
        entry_id = scene.view.history.entry(place).id
        fault_id = reading_fault_id(check, entry_id)
        yield _fault(scene, step, check, fault_id=fault_id, line=line.id, place=place)


def _of_gone(scene: Scene, step: Step, line: Line) -> Iterator[Fault]:
    """Raise again what a line had raised that was discarded since."""
    found = gone(scene, step, line)
    if found is not None:
        yield from _of_failures(scene, step, line, failures_gone(scene, step, found))
        yield from _of_gate(scene, step, line, found.line.asserted)


def _raises(scene: Scene, check: Check, read: dict[str, Line]) -> bool:
    if check.raises == "nonconformance":
        return True
    mask = scene.view.mask
    return any(scene.view.history.locked(line.current, mask) for line in read.values())


def _fault(
    scene: Scene,
    step: Step,
    check: str,
    *,
    fault_id: str,
    line: str = "",
    place: int | None = None,
) -> Fault:
    code, _, of_item = check.partition(":")
    named = next((c.blocks for c in step.checks if c.id == check), ())
    return Fault(
        id=fault_id,
        code=code if of_item else "check_failed",
        step=step.id,
        line=line,
        place=place,
        check=of_item or check,
        blocks=named or scene.view.sheet.next_gate(step.id),
        disposal=disposal(scene, fault_id),
    )


def _of_certificates(scene: Scene) -> Iterator[Fault]:
    """Raise one for each certificate corrected since, however many lines relied on it.

    It shuts the next gate of each step that did; those passed stay passed.
    """
    sheet = scene.view.sheet
    for each in relied_on_corrected(scene):
        fault_id = computed_id("item", sheet.subject, each.item, each.older)
        gates = [gate for step in each.steps for gate in sheet.next_gate(step)]
        yield Fault(
            id=fault_id,
            code=CORRECTED,
            step=each.step,
            line=each.line.id,
            place=each.line.root,
            check=each.field,
            blocks=tuple(dict.fromkeys(gates)),
            disposal=disposal(scene, fault_id),
        )


def _of_clocks(scene: Scene) -> Iterator[Fault]:
    for clock_id, clock in scene.view.sheet.clocks.items():
        counted = ratios_of(scene, clock)
        watched = [r for r in counted if r.get("raises") == "nonconformance"]
        for line in clock_lines(scene, clock) if watched else ():
            for run in clock_runs(scene, clock, line):
                over = [each for each in watched if not kept(run, each)]
                found = [_over(scene, clock_id, line, run, each) for each in over]
                if thrown_away(scene, clock, line):
                    # What was decided of it stays.
                    found = [each for each in found if each.disposal.place is not None]
                yield from found


def _over(
    scene: Scene, clock_id: str, line: str, run: Running, ratio: dict[str, Any]
) -> Fault:
    sheet = scene.view.sheet
    start = sheet.clocks[clock_id]["start"]
    attempt = scene.view.attempt_of(start)
    fault_id = clock_fault_id(scene, attempt, f"{clock_id}/{line}", ratio["id"])
    return Fault(
        id=fault_id,
        code=OVER,
        step=start,
        line=line,
        place=run.start,
        check=ratio["id"],
        running=not run.ended,
        blocks=tuple(ratio.get("blocks", ())) or sheet.next_gate(start),
        disposal=disposal(scene, fault_id),
    )


def _unsigned(scene: Scene) -> Iterator[Fault]:
    """Raise a spoken release not signed by its giver in time."""
    history = scene.view.history
    for point in scene.view.sheet.points.values():
        limit = point.raw.get("spoken_ms", 0)
        for place in on_point(scene, point, "spoken") if limit else ():
            said = history.entry(place)
            late = elapsed_ms(history.moments[place], scene.at, use_by=True) > limit
            if late and not signed_in_time(scene, point, place):
                fault_id = reading_fault_id(UNSIGNED, said.id)
                yield Fault(
                    id=fault_id,
                    code=UNSIGNED,
                    place=place,
                    blocks=scene.view.sheet.next_gate(point.id),
                    disposal=disposal(scene, fault_id),
                )


def _attempts_meant(view: View, step: str | None) -> list[str | None]:
    """Give the attempts of which what is reported by hand still counts.

    Rework redoes steps: what was reported of none of them is not decided by it. Sheets
    from before this was amended took it as decided.
    """
    if step is None and view.sheet.amended >= 2:
        return [attempt for attempt, _ in view.attempts()]
    return [view.attempt_of(step or view.sheet.raw["flow"][-1])]


def _by_hand(scene: Scene) -> Iterator[Fault]:
    view = scene.view
    for place in view.among(view.history.by_kind.get("nonconformance")):
        entry = view.history.entry(place)
        step = entry.about.get("step")
        known = step if step in view.sheet.steps else None
        holds = tuple(
            name for name, p in view.sheet.points.items() if p.raw["class"] == "hold"
        )
        if entry.attempt not in _attempts_meant(view, known):
            continue
        yield Fault(
            id=entry.id,
            code="by_hand",
            derived=False,
            step=known,
            place=place,
            blocks=view.sheet.next_gate(known) if known else holds,
            disposal=disposal(scene, entry.id),
        )
