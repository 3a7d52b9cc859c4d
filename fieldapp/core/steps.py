"""The state of a step in a scene: what is read, missing, failed, or disputed.

A reading that a `block` check refuses fails the step until it is read again or, once
others have built on it, until a disposition accepts it. A `nonconformance` check
never stops recording: it shuts a gate instead.
"""

from dataclasses import dataclass
from typing import NamedTuple

from fieldapp.core.check import Check
from fieldapp.core.dispositions import GATE, accepted, reading_fault_id, step_fault_id
from fieldapp.core.early import is_early, is_settled
from fieldapp.core.items import TWICE, Twice, item_failures, named_twice
from fieldapp.core.lasting import BACK, taken_back
from fieldapp.core.line import Line
from fieldapp.core.numbers import ceiling
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Step

MOST_MISSING = 10_000
"""More lines than this are told as so many: a count must be written exactly."""


class LineState(NamedTuple):
    """How one line stands: status ok, failed, partial, disputed, anyway, discarded."""

    line: Line
    status: str
    failed: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepState:
    """How a step stands: off, open, partial, failed, disputed or done.

    `twice`: the items it names at two places at once.
    """

    status: str
    lines: dict[str, LineState]
    missing: int
    failed: tuple[str, ...]
    cautions: tuple[str, ...]
    twice: tuple[Twice, ...] = ()


def step_state(scene: Scene, step: Step) -> StepState:
    """Work out how a step stands in a scene, once."""
    key = ("step", step.id)
    if key not in scene.memo:
        scene.memo[key] = _OPEN
        scene.memo[key] = _work_out(scene, step)
    found: StepState = scene.memo[key]
    return found


_OPEN = StepState(status="open", lines={}, missing=0, failed=(), cautions=())


def is_off(scene: Scene, step: Step) -> bool:
    """Say whether a step does not exist in this scene (a route not called for).

    What takes off again what was put on may be done before anybody orders it.
    """
    if step.again and scene.view.attempt_of(step.id) is None:
        return not (step.takes_off and scene.lines(step.id))
    return step.when is not None and step.when(scene, "") is not True


def _work_out(scene: Scene, step: Step) -> StepState:
    read = scene.lines(step.id)
    lines = _lines(scene, step, read)
    missing = _missing(scene, step, lines)
    failed, cautions = _failing(scene, step.step_checks, "")
    twice = named_twice(scene, step)
    failed += tuple(dict.fromkeys(f"{TWICE}:{each.field}" for each in twice))
    return StepState(
        status=_status(scene, step, lines, missing, (*failed, *twice)),
        lines=lines,
        missing=missing,
        failed=failed,
        cautions=cautions if read else (),
        twice=twice,
    )


def _lines(scene: Scene, step: Step, read: dict[str, Line]) -> dict[str, LineState]:
    left, plain = unsettled(scene, step, read), scene.case.plain
    if not left:
        return {name: plain[line.root] for name, line in read.items()}
    return {name: line_state(scene, step, line) for name, line in read.items()}


def unsettled(scene: Scene, step: Step, read: dict[str, Line]) -> list[Line]:
    """Give the lines of a step with something left to decide; settle the others.

    What was read once, asks no other line, passed no gate and fails no check stands
    alike in every scene that has it. In one loop, as a joint has hundreds.
    """
    plain = scene.case.plain
    lines = [e for e in read.values() if not (e.plain and e.root in plain)]
    if not step.only_lines or step.judged or scene.view.history.watches(step.id):
        return lines
    musts, prefix, left = [c.must for c in step.line_checks], f"{step.id}/", []
    for line in lines:
        passes = line.plain
        for must in musts if passes else ():
            if must(scene, prefix + line.id) is False:
                passes = False
        if not passes or (step.items and item_failures(scene, step, line)):
            left.append(line)
        else:
            status = _line_status(scene, step, line, (), False)
            state = tuple.__new__(LineState, (line, status, (), ()))
            _keep(scene, step, line, state)
    return left


def _keep(scene: Scene, step: Step, line: Line, state: LineState) -> None:
    scene.case.plain[line.root] = state
    if step.series:
        scene.case.quiet |= 1 << line.root


def _status(
    scene: Scene,
    step: Step,
    lines: dict[str, LineState],
    missing: int,
    failed: tuple[str | Twice, ...],
) -> str:
    if not lines:
        if is_off(scene, step):
            return "off"
        return "open" if missing else "done"
    states = [line.status for line in lines.values()]
    if step.series:
        states = states[-1:]
    if "disputed" in states:
        return "disputed"
    if "failed" in states or "anyway" in states or _blocking(scene, step, failed):
        return "failed"
    return "partial" if missing or "partial" in states else "done"


def _blocking(scene: Scene, step: Step, failed: tuple[str | Twice, ...]) -> bool:
    blocks = {check.id for check in step.checks if check.raises == "block"}
    named = [each for each in failed if each in blocks]
    if not step.raced:
        named += [each.check for each in failed if isinstance(each, Twice)]
    return any(
        not accepted(scene, step_fault_id(scene, step.id, each)) for each in named
    )


def line_state(scene: Scene, step: Step, line: Line) -> LineState:
    """Work out how one line stands in a scene, once."""
    known: LineState | None = scene.case.plain.get(line.root) if line.plain else None
    if known is not None:
        return known
    key = ("line", step.id, line.id)
    state: LineState | None = scene.memo.get(key)
    if state is None:
        state = scene.memo[key] = _line_state(scene, step, line)
    return state


def _line_state(scene: Scene, step: Step, line: Line) -> LineState:
    failed: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    if step.line_checks:
        failed, cautions = _failing(scene, step.line_checks, f"{step.id}/{line.id}")
    if step.items:
        failed += item_failures(scene, step, line)
    if not line.plain:
        back = dict.fromkeys(field for field, _ in taken_back(scene, step, line))
        failed += tuple(f"{BACK}:{field}" for field in back)
    history = scene.view.history
    watched = step.judged or history.watches(step.id)
    forbidden = watched and bool(scene.case.forbidden(step, line.root))
    status = _line_status(scene, step, line, failed, forbidden)
    state = tuple.__new__(LineState, (line, status, failed, cautions))
    if line.plain and step.only_lines and not failed and not forbidden:
        # Nothing is left to decide: it stands alike in every scene that has it.
        _keep(scene, step, line, state)
    return state


def _line_status(
    scene: Scene, step: Step, line: Line, failed: tuple[str, ...], forbidden: bool
) -> str:
    if not line.plain:
        if line.discarded:
            return "discarded"
        if line.disputed:
            return "disputed"
    if forbidden and _undecided(scene, GATE, line.root):
        return "anyway"
    for check in failed:
        if _fails(scene, step, line, check):
            return "failed"
    for name in step.needed_fields:
        if name not in line.values:
            return "partial"
    if step.photos and photos_of(scene, line) < step.photos:
        return "partial"
    return "ok"


def photos_of(scene: Scene, line: Line) -> int:
    """Give how many photos the readings and corrections of a line carry."""
    history = scene.view.history
    return len({p for place in line.asserted for p in history.entry(place).photos})


def _fails(scene: Scene, step: Step, line: Line, failed: str) -> bool:
    """Say whether a failure of a line fails its step as well."""
    if line_raises(scene, step, line, failed) != "block":
        return False
    check = next((each for each in step.checks if each.id == failed), None)
    if check is not None and check.raises != "block" and is_settled(scene, check, line):
        return False
    return _undecided(scene, failed, line.current)


def line_raises(scene: Scene, step: Step, line: Line, failed: str) -> str:
    """Say what a failure raises of this very line: before the race it only blocks."""
    for check in step.checks:
        if check.id == failed and is_early(scene, check, line):
            return "block"
    return raises_of(step, failed)


def raises_of(step: Step, failed: str) -> str:
    """Say what a failure of a line raises: block or nonconformance.

    An unfit item blocks before a gate and is a nonconformance in the race.
    """
    for check in step.checks:
        if check.id == failed:
            return check.raises
    return "nonconformance" if step.raced else "block"


def _undecided(scene: Scene, check: str, place: int) -> bool:
    fault_id = reading_fault_id(check, scene.view.history.entry(place).id)
    return not accepted(scene, fault_id)


def _missing(scene: Scene, step: Step, lines: dict[str, LineState]) -> int:
    read = {name for name, line in lines.items() if line.status != "discarded"}
    if step.least is not None:
        least = step.least(scene, "")
        if least is None or least[1] == 0:
            return 1
        return min(max(ceiling(least) - len(read), 0), MOST_MISSING)
    if step.lines:
        return sum(name not in read for name in step.needed_lines)
    return 0 if read else 1


def _failing(
    scene: Scene, checks: tuple[Check, ...], place: str
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Give the checks known to fail, and apart from them the cautions."""
    failed: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    for check in checks:
        if check.must(scene, place) is False:
            if check.raises == "caution":
                cautions += (check.id,)
            else:
                failed += (check.id,)
    return failed, cautions


def fails(scene: Scene, check: Check, place: str) -> bool:
    """Say whether a check is known to fail (unknown is not failing)."""
    return check.must(scene, place) is False
