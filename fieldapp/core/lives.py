"""The clocks of a sheet in a scene: how much life is used, and the deadlines.

The earliest start wins: with several possible starts the one that leaves least time
counts, so no later batch, correction or second phone moves a clock later.
"""

from typing import Any, NamedTuple

from fieldapp.core.ahead import spans_behind
from fieldapp.core.clocks import (
    OVER_MS,
    Knot,
    Life,
    Moment,
    bound_of,
    elapsed_ms,
    run_life,
)
from fieldapp.core.line import Line
from fieldapp.core.numbers import Ratio, Value, compare
from fieldapp.core.scene import Scene
from fieldapp.core.temperatures import Temperatures
from fieldapp.core.unused import taken_off


class Running(NamedTuple):
    """One clock from one start: its life, how far it has run, ms, the share used.

    `start` is the place of what started it; None where another subject did.
    """

    start: int | None
    moment: Moment
    life: Life
    run_ms: int
    ended: bool
    used: Ratio


def clock_lines(scene: Scene, clock: dict[str, Any]) -> list[str]:
    """Give the lines that have a clock of their own, or one empty name for all."""
    if not clock.get("per_line"):
        return [""]
    return list(scene.lines(clock["start"]))


def run_clock(
    scene: Scene, clock: dict[str, Any], line: str, end: Moment | None = None
) -> Running | None:
    """Run a clock in a scene: the start that leaves least; None before any start.

    It runs to `end` if given, else to what ends the clock, else to the scene's now.
    """
    if _several(clock):
        return next(reversed(clock_runs(scene, clock, line, end)), None)
    if end is not None:
        return _worst_run(scene, clock, line, end)
    key = ("clock", clock["id"], line)
    if key not in scene.memo:
        finish = clock_end(scene, clock, line)
        scene.memo[key] = _run_to(scene, clock, line, finish)
    found: Running | None = scene.memo[key]
    return found


def clock_runs(
    scene: Scene, clock: dict[str, Any], line: str, end: Moment | None = None
) -> list[Running]:
    """Give every run of a clock: one, or one for each time another was ahead.

    A clock that is renewed has one for each reading of its start, up to the next.
    """
    if not _several(clock):
        run = run_clock(scene, clock, line, end)
        return [] if run is None else [run]
    if "other" not in clock:
        return _renewed(scene, clock, end)
    found = []
    for since, until in spans_behind(scene, clock):
        start = Moment(since, None, None, None)
        last = end or scene.at
        finish = last if until is None else Moment(until, None, None, None)
        run_ms = max(elapsed_ms(start, finish, use_by=True), 0)
        found.append(_plain_run(scene, clock, start, run_ms, ended=until is not None))
    return found


def _several(clock: dict[str, Any]) -> bool:
    return "other" in clock or bool(clock.get("renewed"))


def _renewed(scene: Scene, clock: dict[str, Any], end: Moment | None) -> list[Running]:
    """Run from each reading of the start to the next; none runs beyond the end.

    In the order of the times: one copied from paper lies before what was signed first.
    """
    finish = end or clock_end(scene, clock, "")
    lines = scene.lines(clock["start"]).values()
    starts = [(scene.view.moment(e), e.root) for e in lines if not e.discarded]
    starts.sort(key=_wall)
    found = []
    for place, (moment, root) in enumerate(starts):
        ends = [following for following, _ in starts[place + 1 : place + 2]]
        ends += [finish] if finish else []
        runs = [elapsed_ms(moment, each, use_by=True) for each in ends or [scene.at]]
        run_ms = max(min(runs), 0)
        found.append(
            _plain_run(scene, clock, moment, run_ms, start=root, ended=bool(ends))
        )
    return found


def _wall(start: tuple[Moment, int]) -> tuple[int, int]:
    """Give what starts are ordered by: unknown times first, then as they came."""
    moment, root = start
    known = bound_of(moment, 0)
    return (0 if known is None else known.at, root)


def _plain_run(
    scene: Scene,
    clock: dict[str, Any],
    moment: Moment,
    run_ms: int,
    *,
    start: int | None = None,
    ended: bool,
) -> Running:
    """Give a run by time alone, of which no reading changes the pace."""
    life = _life(scene, clock, [])
    return Running(start, moment, life, run_ms, ended, life.used(run_ms))


def _run_to(
    scene: Scene, clock: dict[str, Any], line: str, finish: Moment | None
) -> Running | None:
    """Run a clock once for all scenes that read the same lines up to its end."""
    if scene.changed or finish is None:
        return _worst_run(scene, clock, line, finish)
    memo = scene.case.runs
    key = (clock["id"], line, finish, *Temperatures.sources(scene, clock))
    if key not in memo:
        memo[key] = _worst_run(scene, clock, line, finish)
    found: Running | None = memo[key]
    return found


def _worst_run(
    scene: Scene, clock: dict[str, Any], line: str, finish: Moment | None
) -> Running | None:
    starts = scene.lines(clock["start"])
    if clock.get("per_line"):
        starts = {line: starts[line]} if line in starts else {}
    temps = Temperatures.of(scene, clock, line)
    runs = [
        _run_from(scene, clock, each, temps, finish)
        for each in _earliest(scene, starts)
    ]
    if not runs:
        return None
    worst = runs[0]
    for run in runs[1:]:
        order = compare(run.used, worst.used)
        if order > 0 or (order == 0 and run.run_ms > worst.run_ms):
            worst = run
    return worst


def ratios_of(scene: Scene, clock: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the ratios of a clock that count: all but those known not to be called for.

    What is not known yet is called for: nobody gains time by not having read.
    """
    tests = scene.view.sheet.ratio_tests
    return [
        each
        for each in clock["ratios"]
        if "when" not in each or tests[clock["id"], each["id"]](scene, "") is not False
    ]


def clock_end(scene: Scene, clock: dict[str, Any], line: str) -> Moment | None:
    """Give the moment a clock's end was reached: a milestone, or a step's line.

    A batch's own also ends when it is discarded; any, when all is taken off again.
    """
    until = clock["until"]
    began = scene.lines(clock["start"]).get(line)
    if clock.get("per_line") and began is not None and began.discarded:
        first = scene.view.discards_of(clock["start"], began.root)[0]
        return scene.view.history.moments[first]
    ref = {"step": until, "pick": "first"}
    ref |= {"line": line} if clock.get("per_line") else {}
    ref = {"milestone": until} if until in scene.view.sheet.milestones else ref
    return scene.moment(ref) or taken_off(scene, clock, line)


def deadline_ms(run: Running, ratio: dict[str, Any]) -> int:
    """Give when a ratio of the clock is used up, ms after its start."""
    found = run.life.deadline_ms(ratio["num"], ratio["den"])
    cap: int = ratio.get("cap_ms", OVER_MS)
    return min(found, cap)


def kept(run: Running, ratio: dict[str, Any]) -> bool:
    """Say whether the clock has run within a ratio (its limit included)."""
    within = compare(run.used, (ratio["num"], ratio["den"])) <= 0
    cap: int = ratio.get("cap_ms", OVER_MS)
    return within and run.run_ms <= cap


def _earliest(scene: Scene, starts: dict[str, Line]) -> list[Line]:
    """Leave out starts that cannot be the earliest: later on the same device."""
    if len(starts) < 2:
        return list(starts.values())
    kept_lines: list[Line] = []
    for line in sorted(starts.values(), key=lambda each: each.root):
        moment = scene.view.moment(line)
        if not any(_surely_later(scene.view.moment(k), moment) for k in kept_lines):
            kept_lines.append(line)
    return kept_lines


def _surely_later(first: Moment, other: Moment) -> bool:
    known = not other.unknown or other.between is not None
    same = first.session == other.session and known
    return same and elapsed_ms(first, other, use_by=False) >= 0


def _run_from(
    scene: Scene,
    clock: dict[str, Any],
    start: Line,
    temps: Temperatures,
    finish: Moment | None,
) -> Running:
    moment = scene.view.moment(start)
    run_ms = max(elapsed_ms(moment, finish or scene.at, use_by=True), 0)
    past = scene.view.history.graph.past[start.root]
    knots = [
        *_knots_before(moment, temps, past),
        *_knots_after(moment, temps, past, run_ms),
    ]
    life = _life(scene, clock, knots)
    return Running(
        start=start.root,
        moment=moment,
        life=life,
        run_ms=run_ms,
        ended=finish is not None,
        used=life.used(run_ms),
    )


def _life(scene: Scene, clock: dict[str, Any], knots: list[Knot]) -> Life:
    # A joint has a clock for each batch; all read the same few rates.
    rates = scene.case.runs.setdefault(("rates", clock["table"]), {})
    body, age_ms = scene.view.sheet.tables[clock["table"]], clock["age_ms"]
    # Sheets from before this was amended: spent since the reading before.
    late = scene.view.sheet.amended >= 2
    return run_life(body, knots, age_ms, rates, spent_when_read=late)


def _knots_before(start: Moment, temps: Temperatures, past: int) -> list[Knot]:
    """Give the last reading the start had in its past, by order: it stands before."""
    before = temps.mask & past
    if not before:
        return []
    read, temp = temps.found[before.bit_length() - 1]
    return [Knot(-max(elapsed_ms(read, start, use_by=True), 0), temp)]


def _knots_after(
    start: Moment, temps: Temperatures, past: int, run_ms: int
) -> list[Knot]:
    """Place the other readings up to the clock's end by use-by time from its start.

    Use-by time is never less than the wall's, so later walls need no look.
    """
    latest = None if start.unknown else start.at + run_ms
    knots = []
    for at, place in temps.by_wall:
        if latest is not None and at > latest:
            break
        if not past >> place & 1:
            read, temp = temps.found[place]
            after = max(elapsed_ms(start, read, use_by=True), 0)
            if after <= run_ms:
                knots.append((after, place, temp))
    return [Knot(after, temp) for after, _, temp in sorted(knots)]


def life_used(scene: Scene, clock: dict[str, Any], line: str, end: Any) -> Value:
    """Give the share of a clock's life used at a reference; None before its start."""
    moment = scene.moment(end)
    if moment is None:
        return None
    run = run_clock(scene, clock, line, moment)
    return None if run is None else run.used
