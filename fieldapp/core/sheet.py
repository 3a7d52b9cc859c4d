"""A sheet made ready: its expressions turned into functions, its order looked up.

A sheet is what the plan compiled for one subject and froze. Preparing reads it once;
folding then only asks. An unsound sheet raises here and never half works.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import fingerprint
from fieldapp.core.check import Check
from fieldapp.core.kernel import Evaluate, Kernel, Test

RULES = 1
"""The rules version this interpreter speaks."""
LATE_MS = 15 * 60 * 1000
"""An entry signed this long after what it states is listed as late."""
Shows = tuple[tuple[str, Evaluate], ...]


class UnsoundSheet(ValueError):
    """A sheet that cannot be used: says which part and why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step ready to be folded.

    `judged`: a gate may forbid it; `only_lines`: each line check asks its line alone;
    `takes_off`: the steps whose work this one takes off again before more is put on.
    """

    id: str
    raw: dict[str, Any]
    gated: bool
    raced: bool
    series: bool
    again: bool
    takes_off: tuple[str, ...]
    first: bool
    lines: tuple[str, ...]
    known_lines: frozenset[str]
    needed_lines: tuple[str, ...]
    needed_fields: tuple[str, ...]
    fields: dict[str, dict[str, Any]]
    least: Evaluate | None
    when: Test | None
    needs: tuple[str, ...]
    checks: tuple[Check, ...]
    line_shows: Shows
    step_shows: Shows
    gates: tuple[str, ...]
    items: tuple[tuple[str, str], ...]
    photos: int
    line_checks: tuple[Check, ...]
    step_checks: tuple[Check, ...]
    judged: bool
    only_lines: bool
    holds: tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A hold, witness, review or surveillance point ready to be judged."""

    id: str
    raw: dict[str, Any]
    covers: tuple[str, ...]
    shuts: tuple[str, ...]
    after: tuple[str, ...]
    requires: tuple[tuple[str, Test], ...]
    releases: tuple[dict[str, Any], ...]
    lapses: frozenset[str]
    independent: bool
    life_ms: int | None
    holds: tuple[dict[str, Any], ...]
    prerequisites: tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Milestone:
    """A milestone: the step it is reached on, its test, the steps it is read from.

    `reads` is None where the test asks more than lines; `needed`: of each of these
    (step and lines, None for all) a line must be read before the test can hold.
    """

    step: str
    when: Test
    reads: tuple[str, ...] | None
    needed: tuple[tuple[str, list[str] | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet with everything the fold asks of it looked up."""

    raw: dict[str, Any]
    hash: str
    subject: str
    amended: int
    """Which mended readings of the rules it asks for (decision 55)."""
    flow: dict[str, int]
    steps: dict[str, Step]
    points: dict[str, Point]
    milestones: dict[str, Milestone]
    clocks: dict[str, dict[str, Any]]
    ratio_tests: dict[tuple[str, str], Test]
    tables: dict[str, Any]
    values: dict[str, Evaluate]
    older: Mapping[str, dict[str, str]]
    before: Callable[[str], "Sheet | None"]
    part_keys: dict[str, str] = field(default_factory=dict)
    """Hashes of steps and points, each worked out when an older entry asks for it."""

    def counts(self, sheet_hash: str | None, name: str) -> bool:
        """Say whether an entry made under a sheet counts for a step or point here."""
        if sheet_hash == self.hash:
            return True
        part = self.steps.get(name) or self.points.get(name)
        before = self.older.get(sheet_hash or "", {}).get(name)
        if part is None or before is None:
            return False
        if name not in self.part_keys:
            self.part_keys[name] = fingerprint(part.raw)
        return before == self.part_keys[name]

    def next_gate(self, name: str) -> tuple[str, ...]:
        """Give the first hold point that comes after a step or point in the flow."""
        place = self.flow.get(name, -1)
        for other, index in self.flow.items():
            point = self.points.get(other)
            if index > place and point is not None and point.raw["class"] == "hold":
                return (other,)
        return ()


def part_hashes(sheet: dict[str, Any]) -> dict[str, str]:
    """Give the hash of every step's and point's definition, for later revisions."""
    parts = {**sheet["steps"], **sheet["points"]}
    return {name: fingerprint(part) for name, part in parts.items()}


def prepare(
    sheet: dict[str, Any],
    tables: dict[str, Any],
    older: Mapping[str, dict[str, str]] | None = None,
    key: str = "",
    before: Callable[[str], Sheet | None] = lambda _: None,
) -> Sheet:
    """Make a sheet ready to fold. Errors: `UnsoundSheet`, `UnknownWord`.

    sheet: the frozen sheet; tables: table bodies by hash; older: for each earlier
    revision's hash its `part_hashes`; key: the sheet's own hash, where it is known;
    before: gives the subject's other revisions, where they are here.
    """
    if sheet.get("format") != 1 or sheet.get("rules") != RULES:
        raise UnsoundSheet(f"format or rules version not known: {sheet.get('rules')}")
    missing = [name for name, key in sheet["tables"].items() if key not in tables]
    if missing:
        raise UnsoundSheet(f"tables have not arrived: {', '.join(sorted(missing))}")
    bodies = {name: tables[key] for name, key in sheet["tables"].items()}
    kernel = Kernel(sheet, bodies)
    flow = {name: place for place, name in enumerate(sheet["flow"])}
    unknown = set(flow) ^ (set(sheet["steps"]) | set(sheet["points"]))
    if unknown:
        raise UnsoundSheet(f"flow and parts differ: {', '.join(sorted(unknown))}")
    return Sheet(
        raw=sheet,
        hash=key or fingerprint(sheet),
        amended=sheet.get("amended", 0),
        subject=sheet["subject"],
        flow=flow,
        steps={i: _step(kernel, sheet, i) for i in flow if i in sheet["steps"]},
        points={i: _point(kernel, sheet, i) for i in flow if i in sheet["points"]},
        milestones={
            each["id"]: _milestone(kernel, sheet, each)
            for each in sheet.get("milestones", ())
        },
        clocks={each["id"]: each for each in sheet.get("clocks", ())},
        ratio_tests={
            (clock["id"], each["id"]): kernel.condition(each["when"])
            for clock in sheet.get("clocks", ())
            for each in clock["ratios"]
            if "when" in each
        },
        tables=bodies,
        values={
            name: kernel.value(name)
            for name in sorted(sheet.get("values", {}))
            if not kernel.asks.by_line(name)
        },
        older=older or {},
        before=before,
    )


def _milestone(kernel: Kernel, sheet: dict[str, Any], raw: dict[str, Any]) -> Milestone:
    when, asked = kernel.condition(raw["when"]), kernel.asks.steps(raw["when"])
    known = asked is not None and asked <= sheet["steps"].keys()
    return Milestone(
        step=raw["step"],
        when=when,
        needed=tuple(
            (word["step"], kernel.chosen_lines(word))
            for word in kernel.asks.needed(raw["when"])
            if word["step"] in sheet["steps"]
        ),
        reads=tuple(sorted(asked | {raw["step"]})) if asked and known else None,
    )


def _step(kernel: Kernel, sheet: dict[str, Any], step_id: str) -> Step:
    raw = sheet["steps"][step_id]
    lines, fields = raw.get("lines", ()), raw.get("fields", ())
    checks = Check.every(kernel, raw)
    shut_by = (k for k, p in sheet["points"].items() if step_id in p.get("shuts", ()))
    gates = tuple(sorted(shut_by, key=sheet["flow"].index))
    holds = _holds(sheet, step_id) if raw["class"] == "gated" else ()
    return Step(
        id=step_id,
        raw=raw,
        gated=raw["class"] == "gated",
        raced=raw["class"] == "raced",
        series=raw.get("series", False),
        again=raw.get("again", False),
        takes_off=_takes_off(sheet, raw),
        first=raw.get("first", False),
        lines=tuple(line["id"] for line in lines),
        known_lines=frozenset([line["id"] for line in lines] or [""]),
        needed_lines=tuple(line["id"] for line in lines if line["need"]),
        needed_fields=tuple(f["id"] for f in fields if f["need"]),
        fields={f["id"]: f for f in fields},
        least=kernel.value(raw["least"]) if "least" in raw else None,
        when=kernel.condition(raw["when"]) if "when" in raw else None,
        needs=tuple(raw.get("needs", ())),
        checks=checks,
        line_checks=tuple(check for check in checks if check.scope == "line"),
        step_checks=tuple(check for check in checks if check.scope == "step"),
        line_shows=_shows(kernel, raw, "line"),
        step_shows=_shows(kernel, raw, "step"),
        gates=gates,
        only_lines=not any("among" in f for f in fields)
        and all(
            kernel.asks.only_line(each["must"], step_id)
            for each in raw.get("checks", ())
            if each["scope"] == "line"
        ),
        judged=bool(gates or holds or (raw["class"] == "gated" and raw.get("needs"))),
        holds=holds,
        items=tuple((f["id"], f["items"]) for f in fields if f["kind"] == "item"),
        photos=raw.get("photos", 0),
    )


def _takes_off(sheet: dict[str, Any], raw: dict[str, Any]) -> tuple[str, ...]:
    # A sheet from before this was amended asks it of every further attempt.
    asked = sheet.get("amended", 0) >= 2 and raw.get("again", False)
    named = raw.get("takes_off", ()) if asked else ()
    return tuple(name for name in named if name in sheet["steps"])


def _holds(sheet: dict[str, Any], name: str) -> tuple[dict[str, Any], ...]:
    return tuple(hold for hold in sheet.get("holds", ()) if name in hold["before"])


def _shows(kernel: Kernel, raw: dict[str, Any], scope: str) -> Shows:
    return tuple(
        (each["id"], kernel.value(each["value"]))
        for each in raw.get("shows", ())
        if each["scope"] == scope
    )


def _point(kernel: Kernel, sheet: dict[str, Any], point_id: str) -> Point:
    raw = sheet["points"][point_id]
    return Point(
        id=point_id,
        raw=raw,
        covers=tuple(raw.get("covers", ())),
        shuts=tuple(raw.get("shuts", ())),
        after=tuple(raw.get("after", ())),
        requires=tuple(
            (each["id"], kernel.condition(each["must"]))
            for each in raw.get("requires", ())
        ),
        releases=tuple(raw.get("releases", ())),
        lapses=frozenset(raw.get("lapses", ())),
        independent=raw.get("independent", True),
        life_ms=raw.get("life_ms"),
        holds=_holds(sheet, point_id),
        prerequisites=tuple(
            p for p in sheet.get("prerequisites", ()) if point_id in p["before"]
        ),
    )
