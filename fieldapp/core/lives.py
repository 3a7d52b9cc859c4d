"""The clocks of a sheet in a scene: how much life is used, and the deadlines.

The earliest start wins: with several possible starts the one that leaves least time
counts, so no later batch, correction or second phone moves a clock later.
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.core.ahead import spans_behind
from fieldapp.core.clocks import OVER_MS, Knot, Life, Moment, elapsed_ms, run_life
from fieldapp.core.numbers import Ratio, Value, compare
from fieldapp.core.scene import Scene
from fieldapp.core.view import Line, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """One clock from one start: its life, how far it has run, ms, the share used.

    `start` is the place of what started it; None where another subject did.
    """

    start: int | None
    moment: Moment
    life: Life
    run_ms: int
    ended: bool
    used: Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Temperatures:
    """What drives a clock: by place the moment and the hottest reading there.

    `mask` of the places; `by_wall`: (wall ms, place) in order, unknown times first.
    """

    mask: int
    found: dict[int, tuple[Moment, int]]
    by_wall: list[tuple[int, int]]


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
    if "other" in clock:
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
    """Give every run of a clock: one, or one for each time another was ahead."""
    if "other" not in clock:
        run = run_clock(scene, clock, line, end)
        return [] if run is None else [run]
    life = run_life(scene.view.sheet.tables[clock["table"]], [], clock["age_ms"])
    found = []
    for since, until in spans_behind(scene, clock):
        start = Moment(since, None, None, None)
        last = end or scene.at
        finish = last if until is None else Moment(until, None, None, None)
        run_ms = max(elapsed_ms(start, finish, use_by=True), 0)
        found.append(
            Running(
                start=None,
                moment=start,
                life=life,
                run_ms=run_ms,
                ended=until is not None,
                used=life.used(run_ms),
            )
        )
    return found


def _run_to(
    scene: Scene, clock: dict[str, Any], line: str, finish: Moment | None
) -> Running | None:
    """Run a clock once for all scenes that read the same lines up to its end."""
    if scene.changed or finish is None:
        return _worst_run(scene, clock, line, finish)
    memo = scene.case.runs
    key = (clock["id"], line, finish, *_sources(scene, clock))
    if key not in memo:
        memo[key] = _worst_run(scene, clock, line, finish)
    found: Running | None = memo[key]
    return found


def _sources(scene: Scene, clock: dict[str, Any]) -> list[Source]:
    steps = (clock["start"], *(each["step"] for each in clock["temps"]))
    return [scene.view.source(step) for step in steps]


def _worst_run(
    scene: Scene, clock: dict[str, Any], line: str, finish: Moment | None
) -> Running | None:
    starts = scene.lines(clock["start"])
    if clock.get("per_line"):
        starts = {line: starts[line]} if line in starts else {}
    temps = _temperatures(scene, clock, line)
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


def clock_end(scene: Scene, clock: dict[str, Any], line: str) -> Moment | None:
    """Give the moment a clock's end was reached: a milestone, or a step's line.

    A batch's own clock also ends when the batch is discarded.
    """
    until = clock["until"]
    began = scene.lines(clock["start"]).get(line)
    if clock.get("per_line") and began is not None and began.discarded:
        first = scene.view.discards_of(clock["start"], began.root)[0]
        return scene.view.history.moments[first]
    if until in scene.view.sheet.milestones:
        return scene.moment({"milestone": until})
    ref = {"step": until, "pick": "first"}
    if clock.get("per_line"):
        ref["line"] = line
    return scene.moment(ref)


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
    kept_lines: list[Line] = []
    for line in sorted(starts.values(), key=lambda each: each.root):
        moment = scene.view.moment(line)
        if not any(_surely_later(scene.view.moment(k), moment) for k in kept_lines):
            kept_lines.append(line)
    return kept_lines


def _surely_later(first: Moment, other: Moment) -> bool:
    same = first.session == other.session and not other.unknown
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
    table = scene.view.sheet.tables[clock["table"]]
    life = run_life(table, knots, clock["age_ms"])
    return Running(
        start=start.root,
        moment=moment,
        life=life,
        run_ms=run_ms,
        ended=finish is not None,
        used=life.used(run_ms),
    )


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


def _temperatures(scene: Scene, clock: dict[str, Any], line: str) -> Temperatures:
    """Give the temperature readings that drive a clock."""
    own_line = any(each["step"] == clock["start"] for each in clock["temps"])
    if scene.changed or own_line:
        memo, key = scene.memo, ("temps", clock["id"], line)
    else:
        # Scenes and clocks that read the same lines share them.
        fields = [each["field"] for each in clock["temps"]]
        memo, key = scene.case.runs, ("temps", *_sources(scene, clock)[1:], *fields)
    if key not in memo:
        memo[key] = _read_temperatures(scene, clock, line)
    found: Temperatures = memo[key]
    return found


def _read_temperatures(scene: Scene, clock: dict[str, Any], line: str) -> Temperatures:
    found: dict[int, tuple[Moment, int]] = {}
    for source in clock["temps"]:
        own = not clock.get("per_line") or source["step"] != clock["start"]
        for name, each in scene.lines(source["step"]).items():
            value = each.values.get(source["field"])
            if isinstance(value, int) and not each.disputed and (own or name == line):
                before = found.get(each.root)
                hottest = value if before is None else max(value, before[1])
                found[each.root] = (scene.view.moment(each), hottest)
    walls = [(0 if m.unknown else m.at, place) for place, (m, _) in found.items()]
    return Temperatures(
        mask=sum(1 << place for place in found), found=found, by_wall=sorted(walls)
    )


def life_used(scene: Scene, clock: dict[str, Any], line: str, end: Any) -> Value:
    """Give the share of a clock's life used at a reference; None before its start."""
    moment = scene.moment(end)
    if moment is None:
        return None
    run = run_clock(scene, clock, line, moment)
    return None if run is None else run.used
