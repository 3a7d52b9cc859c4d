"""Calls of the vectors that ask a story: the scene of its entries at a minute."""

from collections.abc import Callable
from typing import Any

from fieldapp.core import (
    ahead,
    bounds,
    conditions,
    dispositions,
    faults,
    flags,
    fold,
    gates,
    heard,
    items,
    lives,
    pace,
    points,
    readiness,
    rules,
    signers,
    steps,
    verdict,
    view,
)
from fieldapp.core.canonical import canonical
from fieldapp.core.history import read_history
from tests.core.vector_attempts import ATTEMPTS
from tests.core.vector_calls import plain, shown_ratio
from tests.core.vector_earlier import EARLIER
from tests.core.vector_stories import Told


def _faults(t: Told) -> list[dict[str, Any]]:
    return [
        {
            "code": f.code,
            "step": plain(f.step),
            "line": f.line,
            "check": plain(f.check),
            "entry": t.label(f.place),
            "shuts": list(f.shuts),
            "status": f.disposal.status,
        }
        for f in sorted(
            faults.nonconformances(t.scene),
            key=lambda f: (f.code, str(f.check), f.line),
        )
    ]


def _all_faults(t: Told) -> list[dict[str, Any]]:
    found = verdict.all_faults(t.scene)
    found.sort(key=lambda f: (f["code"], f.get("check", ""), f.get("line", "")))
    return [{k: v for k, v in each.items() if k != "id"} for each in found]


def _disposal(t: Told) -> dict[str, Any]:
    found = dispositions.disposal(t.scene, t.fault())
    return {
        "status": found.status,
        "verdict": plain(found.verdict),
        "place": t.label(found.place),
        "blocks": found.blocks,
    }


def _history(t: Told) -> dict[str, Any]:
    history = read_history(t.sheet, t.entries)
    unknown = [place for place, m in enumerate(history.moments) if m.unknown]
    return {
        "uncounted": [[code, t.label(place)] for code, place in history.uncounted],
        "time_unknown": [t.label(place) for place in unknown],
    }


def _picked(t: Told) -> list[Any]:
    state = fold.fold(t.sheet, t.entries, t.standing, {"at": t.scene.at.at})
    assert canonical(state) == canonical(fold.state_of(t.scene))
    return [_at(state, path.split("/")) for path in t.given["pick"]]


def _at(state: Any, path: list[str]) -> Any:
    for name in path:
        state = state.get(name)
        if state is None:
            return "missing"
    return state


def _conditions(t: Told) -> list[dict[str, Any]]:
    return [
        {
            "release": t.label(c.release),
            "number": c.number,
            "text": c.text,
            "before": c.before,
            "closed_by": t.label(c.closed_by),
        }
        for c in conditions.conditions(t.scene, t.point())
    ]


def _run(t: Told) -> Any:
    run = t.run()
    return "missing" if run is None else _run_out(t, run)


def _run_out(t: Told, run: lives.Running) -> dict[str, Any]:
    return {
        "start": t.label(run.start),
        "run_ms": run.run_ms,
        "ended": run.ended,
        "used": shown_ratio(run.used),
    }


def _clock_end(t: Told) -> Any:
    found = lives.clock_end(t.scene, t.clock(), t.given.get("line", ""))
    return "missing" if found is None else found.at


def _step_state(t: Told) -> dict[str, Any]:
    found = steps.step_state(t.scene, t.step())
    return {
        "status": found.status,
        "missing": found.missing,
        "failed": list(found.failed),
        "cautions": list(found.cautions),
        "lines": {name: line.status for name, line in found.lines.items()},
    }


def _unsettled(t: Told) -> list[list[str]]:
    read = t.scene.lines(t.step().id)
    asked = [steps.unsettled(t.scene, t.step(), read) for _ in range(2)]
    return [[line.id for line in left] for left in asked]


def _line_state(t: Told) -> dict[str, Any]:
    found = steps.line_state(t.scene, t.step(), t.line())
    return {
        "status": found.status,
        "failed": list(found.failed),
        "cautions": list(found.cautions),
    }


def _fails(t: Told) -> bool:
    check = next(c for c in t.step().checks if c.id == t.given["check"])
    return steps.fails(t.scene, check, t.given["place"])


def _strictest(t: Told) -> str:
    places = [t.place(label) for label in t.given["entries"]]
    return t.label(view.strictest(t.scene.view, places))


def _needs(t: Told) -> tuple[str, ...] | None:
    return tuple(t.given["needs"]) if "needs" in t.given else None


def _last_heard(t: Told) -> Any:
    found = heard.last_heard(t.scene, t.point(), _needs(t))
    if found is None:
        return "missing"
    return {"at": found.at, "age_ms": found.age_ms, "entry": plain(found.entry)}


SCENES: dict[str, Callable[[Told], Any]] = {
    **ATTEMPTS,
    **EARLIER,
    "ahead.moments_of": lambda t: ahead.moments_of(t.scene, t.given["steps"]),
    "ahead.spans_behind": lambda t: plain(ahead.spans_behind(t.scene, t.clock())),
    "bounds.between": lambda t: [
        "missing" if each is None else each.at // 60_000
        for each in bounds.between(
            t.scene.view.history.graph, t.scene.view.history.moments, t.place()
        )
    ],
    "conditions.conditions": _conditions,
    "conditions.open_conditions": lambda t: conditions.open_conditions(
        t.scene, t.given["name"]
    ),
    "dispositions.step_fault_id": lambda t: dispositions.step_fault_id(
        t.scene, t.given["step"], t.given["check"]
    ),
    "dispositions.clock_fault_id": lambda t: dispositions.clock_fault_id(
        t.scene, t.given.get("attempt"), t.given["clock"], t.given["ratio"]
    ),
    "dispositions.disposal": _disposal,
    "dispositions.accepted": lambda t: dispositions.accepted(t.scene, t.fault()),
    "faults.nonconformances": _faults,
    "flags.flags": lambda t: flags.flags(t.scene),
    "fold.fold": _picked,
    "fold.present": lambda t: t.scene.at.at,
    "fold.state_of": lambda t: sorted(fold.state_of(t.scene)),
    "fold.record_refusals": lambda t: fold.record_refusals(t.scene, t.step()),
    "gates.births": lambda t: gates.births(t.scene, t.point(), t.place()),
    "gates.stands": lambda t: gates.stands(t.scene, t.point(), t.place()),
    "gates.releases": lambda t: t.labels(gates.releases(t.scene, t.point())),
    "gates.releaser": lambda t: signers.releaser(t.entry()),
    "gates.standing_releases": lambda t: t.labels(
        gates.standing_releases(t.scene, t.point())
    ),
    "gates.life_ms": lambda t: plain(gates.life_ms(t.point(), t.entry(), t.moment())),
    "gates.refuses": lambda t: signers.refuses(t.scene, t.point(), t.place()),
    "gates.expired": lambda t: gates.expired(t.scene, t.point(), t.place(), t.act()),
    "gates.forbidden": lambda t: gates.forbidden(t.scene, t.step(), t.place()),
    "gates.gate_refusals": lambda t: gates.gate_refusals(t.scene, t.step(), t.act()),
    "gates.passed": lambda t: gates.passed(t.scene, t.point()),
    "gates.waived": lambda t: gates.waived(t.scene, t.point()),
    "gates.used": lambda t: gates.used(t.scene, t.point()),
    "heard.last_heard": _last_heard,
    "heard.unheard": lambda t: heard.unheard(t.scene, t.point(), _needs(t)),
    "history.read_history": _history,
    "items.item_failures": lambda t: list(
        items.item_failures(t.scene, t.step(), t.line())
    ),
    "items.named_twice": lambda t: [
        {
            **each._asdict(),
            "lines": list(each.lines),
            "places": [t.label(place) for place in each.places],
        }
        for each in items.named_twice(t.scene, t.step())
    ],
    "items.looked_at": lambda t: items.looked_at(
        t.scene, t.step().fields["jack"], t.place()
    ),
    "items.ran_out": lambda t: items.ran_out(t.scene, t.step()),
    "items.out_untimed": lambda t: items.out_untimed(t.scene, t.step()),
    "items.relied_on_corrected": lambda t: [
        {**each._asdict(), "line": each.line.id, "steps": list(each.steps)}
        for each in items.relied_on_corrected(t.scene)
    ],
    "items.find_item": lambda t: plain(items.find_item(t.scene, t.given["name"])),
    "lives.clock_lines": lambda t: lives.clock_lines(t.scene, t.clock()),
    "lives.run_clock": _run,
    "lives.clock_runs": lambda t: [
        _run_out(t, run) for run in lives.clock_runs(t.scene, t.clock(), "")
    ],
    "lives.ratios_of": lambda t: [
        each["id"] for each in lives.ratios_of(t.scene, t.clock())
    ],
    "lives.clock_end": _clock_end,
    "lives.deadline_ms": lambda t: lives.deadline_ms(t.run(), t.ratio()),
    "lives.kept": lambda t: lives.kept(t.run(), t.ratio()),
    "lives.life_used": lambda t: shown_ratio(
        lives.life_used(t.scene, t.clock(), "", t.given["ref"])
    ),
    "pace.guessed": lambda t: pace.guessed(t.scene, t.clock()),
    "pace.remaining_ms": lambda t: plain(pace.remaining_ms(t.scene, t.clock())),
    "pace.sure_ms": lambda t: pace.sure_ms(t.scene, t.clock()),
    "pace.line_ms": lambda t: pace.line_ms(t.scene, t.step()),
    "points.point_state": lambda t: points.point_state(t.scene, t.point()),
    "readiness.unmet": lambda t: readiness.unmet(t.scene, t.point(), None),
    "readiness.waiting": lambda t: readiness.waiting(t.scene, t.step().holds, t.act()),
    "readiness.kind_of": lambda t: readiness.kind_of(t.scene, t.given["name"]),
    "readiness.stop_in_force": lambda t: t.label(readiness.stop_in_force(t.scene)),
    "rules.release_refusals": lambda t: rules.release_refusals(
        t.scene, t.given["point"], t.given["person"]
    ),
    "rules.relied_on": lambda t: rules.relied_on(t.scene, t.given["point"]),
    "signers.signer_refusals": lambda t: signers.signer_refusals(
        t.scene, t.point(), t.given["person"]
    ),
    "signers.releaser": lambda t: signers.releaser(t.entry()),
    "signers.refuses": lambda t: signers.refuses(t.scene, t.point(), t.place()),
    "signers.given_by": lambda t: signers.given_by(
        t.scene, t.point(), t.given["wanted"], t.place()
    ),
    "signers.calls_in_force": lambda t: t.labels(
        signers.calls_in_force(t.scene, t.point())
    ),
    "signers.may_sign": lambda t: signers.may_sign(
        t.scene, t.point(), t.given["wanted"], t.given["person"]
    ),
    "signers.workers": lambda t: sorted(signers.workers(t.scene, t.point())),
    "signers.on_point": lambda t: t.labels(
        signers.on_point(t.scene, t.point(), t.given["kind"])
    ),
    "signers.notice_left_ms": lambda t: plain(signers.notice_left_ms(*t.asked())),
    "signers.without_release": lambda t: signers.without_release(*t.asked()),
    "steps.step_state": _step_state,
    "steps.is_off": lambda t: steps.is_off(t.scene, t.step()),
    "steps.line_state": _line_state,
    "steps.unsettled": _unsettled,
    "steps.photos_of": lambda t: steps.photos_of(t.scene, t.line()),
    "steps.raises_of": lambda t: steps.raises_of(t.step(), t.given["failed"]),
    "steps.fails": _fails,
    "verdict.all_faults": _all_faults,
    "verdict.verdict": lambda t: verdict.verdict(t.scene, verdict.all_faults(t.scene)),
    "view.may_dispose": lambda t: view.may_dispose(t.scene.view, t.place()),
    "view.strictest": _strictest,
}
