"""From entries to state: pure, total, the same bytes in Python and JavaScript.

`fold` takes everything as arguments and changes nothing. The state is plain data
(maps, lists, whole numbers, text) that screens, queues, pictures and paper read.
"""

from collections.abc import Iterable
from typing import Any

from fieldapp.core import gates
from fieldapp.core.bounds import over_at
from fieldapp.core.case import Folding
from fieldapp.core.clocks import bound_ms, elapsed_ms, moment_now
from fieldapp.core.entries import Entry
from fieldapp.core.flags import flags
from fieldapp.core.history import read_history
from fieldapp.core.kernel import Evaluate
from fieldapp.core.lives import (
    clock_lines,
    deadline_ms,
    kept,
    ratios_of,
    run_clock,
)
from fieldapp.core.numbers import rounded
from fieldapp.core.outlasting import outlasting
from fieldapp.core.pace import guessed, remaining_ms, sure_ms
from fieldapp.core.points import point_state
from fieldapp.core.readiness import kind_of, stop_in_force
from fieldapp.core.refusals import refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Sheet, Step
from fieldapp.core.steps import StepState, is_off, step_state
from fieldapp.core.stops import stops
from fieldapp.core.unused import taken_off, thrown_away
from fieldapp.core.verdict import all_faults, verdict

State = dict[str, Any]


def fold(
    sheet: Sheet,
    entries: Iterable[Entry],
    standing: dict[str, Any],
    now: dict[str, Any],
) -> State:
    """Fold a subject's entries into its state.

    sheet: prepared; entries: any order, repeats allowed, other subjects ignored;
    standing: `people`, `subjects`, `items`; now: `at` in ms UTC, and where known
    `device`, `session`, `mono`, `offset`. Unknown kinds are kept and flagged.
    """
    return state_of(present(sheet, entries, standing, now))


def present(
    sheet: Sheet,
    entries: Iterable[Entry],
    standing: dict[str, Any],
    now: dict[str, Any],
) -> Scene:
    """Give the scene of everything known, now: what rules are asked of."""
    history = read_history(sheet, entries)
    folding = Folding(sheet=sheet, history=history, standing=standing)
    return folding.scene(history.graph.everything, moment_now(now))


def state_of(scene: Scene) -> State:
    """Lay a scene out as plain data."""
    sheet, history = scene.view.sheet, scene.view.history
    faults = all_faults(scene)
    state: State = {
        "subject": sheet.subject,
        "sheet": sheet.hash,
        "attempts": len(scene.view.attempts()),
        "heads": list(history.graph.heads),
        "missing": list(history.graph.missing),
        "steps": {i: _step(scene, step) for i, step in sheet.steps.items()},
        "points": {i: point_state(scene, point) for i, point in sheet.points.items()},
        "milestones": _milestones(scene),
        "clocks": _clocks(scene),
        "holds": _holds(scene),
        "nonconformances": faults,
        "flags": flags(scene),
        "values": _shown(scene, sheet.values.items(), ""),
        "verdict": verdict(scene, faults),
    }
    attempt = scene.view.attempts()[-1][0]
    if attempt is not None:
        state["attempt"] = attempt
    left = outlasting(scene)
    if left:
        state["outlasting"] = left
    # Of sheets from before this was amended nobody asked.
    pulled = stops(scene) if sheet.amended >= 2 else []
    if pulled:
        state["stops"] = pulled
    stop = stop_in_force(scene)
    if stop is not None:
        entry = history.entry(stop)
        state["stopped"] = {
            "entry": entry.id,
            "reason": entry.about["reason"],
            "at": entry.at,
        }
    return state


def _step(scene: Scene, step: Step) -> State:
    found = step_state(scene, step)
    status, refusals = found.status, record_refusals(scene, step)
    if status == "open" and refusals:
        status = "closed"
    state: State = {
        "status": status,
        "refusals": refusals,
        "missing": found.missing,
        "failed": list(found.failed),
        "cautions": list(found.cautions),
        "lines": _lines(scene, step, found),
        "shows": _step_shows(scene, step, found),
    }
    if found.twice:
        state["twice"] = [
            {"item": each.item, "field": each.field, "lines": ",".join(each.lines)}
            for each in found.twice
        ]
    return state


def record_refusals(scene: Scene, step: Step) -> list[dict[str, Any]]:
    """Give why a step cannot be recorded as done now; raced steps always can."""
    clock = {"start": step.id}
    if step.first and scene.lines(step.id) and not taken_off(scene, clock, ""):
        return []
    found = gates.gate_refusals(scene, step, scene.at)
    if step.gated:
        found += [
            refusal("not_reached", name=name)
            for name in step.needs
            if not scene.case.reached(scene, kind_of(scene, name), name)
        ]
    return found


def _lines(scene: Scene, step: Step, found: StepState) -> State:
    # In one loop, as a joint has hundreds.
    view, history, shows = scene.view, scene.view.history, step.line_shows
    entries, moments, lines = history.graph.entries, history.moments, {}
    for line_id, (line, status, failed, cautions) in found.lines.items():
        name, place, current, values, _, _, asserted, plain = line
        root = entries[place]
        moment = moments[place] if plain else view.moment(line)
        lines[line_id] = {
            "entry": root.id if plain else entries[current].id,
            "at": bound_ms(moment, 0) if moment.unknown else moment.at,
            "person": root.person,
            "values": values,
            "status": status,
            "failed": [*failed] if failed else [],
            "cautions": [*cautions] if cautions else [],
            "entries": [root.id] if plain else [entries[p].id for p in asserted],
            "shows": _shown(scene, shows, f"{step.id}/{name}") if shows else {},
        }
    return lines


def _step_shows(scene: Scene, step: Step, found: StepState) -> dict[str, int]:
    return _shown(scene, step.step_shows, "") if found.lines else {}


def _shown(scene: Scene, shows: Iterable[tuple[str, Evaluate]], line: str) -> State:
    """Round computed figures for display; leave out what is missing or too large."""
    found = {}
    for name, body in shows:
        value = body(scene, line)
        whole = None if value is None or value[1] == 0 else rounded(value)
        if whole is not None:
            found[name] = whole
    return found


def _milestones(scene: Scene) -> State:
    found, history = {}, scene.view.history
    for name in scene.view.sheet.milestones:
        place = scene.case.milestone(scene, name)
        if place is not None:
            at = bound_ms(history.moments[place], 0)
            found[name] = {"entry": history.entry(place).id, "at": at}
    return found


def _clocks(scene: Scene) -> State:
    found = {}
    for clock_id, clock in scene.view.sheet.clocks.items():
        for line in clock_lines(scene, clock):
            state = _clock(scene, clock, line)
            if state is not None:
                found[f"{clock_id}/{line}" if line else clock_id] = state
    return found


def _clock(scene: Scene, clock: dict[str, Any], line: str) -> State | None:
    run = run_clock(scene, clock, line)
    if run is None:
        return None
    ratios = ratios_of(scene, clock)
    watched = [each for each in ratios if each.get("raises")]
    within = all(kept(run, each) for each in watched)
    within = within or thrown_away(scene, clock, line)
    top, bottom = run.used
    start = bound_ms(run.moment, 0)
    state: State = {
        "status": ("met" if run.ended else "running") if within else "over",
        "ended": 1 if run.ended else 0,
        "start": start,
        "run_ms": run.run_ms,
        "used_ppm": rounded((1_000_000 * top, bottom)) or 0,
        "deadlines": {each["id"]: start + deadline_ms(run, each) for each in ratios},
        "left": {each["id"]: deadline_ms(run, each) - run.run_ms for each in ratios},
    }
    if run.life.alarm is not None:
        state["alarm"] = run.life.alarm
    left = None if run.ended else remaining_ms(scene, clock)
    if left is not None:
        state["expected"] = scene.at.at + left
        if guessed(scene, clock):
            state["guessed"] = 1
            state["surely"] = scene.at.at + sure_ms(scene, clock)
    return state


def _holds(scene: Scene) -> State:
    found: State = {}
    for hold in scene.view.sheet.raw.get("holds", ()):
        if is_off(scene, scene.view.sheet.steps[hold["after"]]):
            continue
        began = scene.moment({"step": hold["after"]})
        if began is not None:
            left = hold["ms"] - elapsed_ms(began, scene.at, use_by=False)
            until = over_at(began, scene.at, hold["ms"])
            if until is None:
                found[hold["id"]] = {"status": "untimed"}
                continue
            status = "running" if left > 0 else "over"
            found[hold["id"]] = {"until": until, "status": status}
    return found
