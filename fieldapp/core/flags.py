"""What a reader of the record must be told about single entries: late, copied, odd.

A flag never changes what an entry means; it is listed beside it.
"""

from collections.abc import Iterator
from typing import Any

from fieldapp.core.bounds import SLACK_MS
from fieldapp.core.chain import forked
from fieldapp.core.entries import Entry
from fieldapp.core.gates import births, signed_words
from fieldapp.core.history import History
from fieldapp.core.items import named_twice
from fieldapp.core.kinds import READINGS, needs_pin
from fieldapp.core.lapses import lapse
from fieldapp.core.rules import possible
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import LATE_MS, RULES

Flag = tuple[int, str]
"""The place of an entry, and a code."""
ELSEWHERE = "item_elsewhere"


def flags(scene: Scene) -> list[dict[str, Any]]:
    """Give the flags of a subject's entries, by order of the entry, then code."""
    history = scene.view.history
    found = {
        *((place, code) for code, place in history.uncounted),
        *_of_times(history),
        *_of_people(scene),
        *_of_releases(scene),
        *_of_kinds(history),
        *_of_readings(scene),
        *_of_items(scene),
        *_of_chains(scene),
    }
    return [
        {"code": code, "entry": history.entry(place).id}
        for place, code in sorted(found)
    ]


def _of_times(history: History) -> Iterator[Flag]:
    entries, index, moments = (
        history.graph.entries,
        history.graph.index,
        history.moments,
    )
    for place, entry in enumerate(entries):
        if moments[place].unknown:
            known = None not in (moments[place].between or (None,))
            yield place, "time_taken" if known else "time_unknown"
        late = entry.made - entry.at
        if late:
            if late < 0:
                yield place, "stated_later"
            elif late > LATE_MS:
                yield place, "late"
        for parent in entry.after:
            other = index.get(parent)
            if other is not None and _contradicts(entries[other], entry):
                yield place, "time_contradicts"
                break


def _contradicts(parent: Entry, entry: Entry) -> bool:
    before, after = parent.made, entry.made
    if parent.offset is not None and entry.offset is not None:
        before, after = before + parent.offset, after + entry.offset
    return before - after > SLACK_MS


def _of_people(scene: Scene) -> Iterator[Flag]:
    history, known = scene.view.history, scene.view.standing.get("people", {})
    entries = history.graph.entries
    allowed: dict[tuple[str, str | None], bool] = {}
    for kind, places in history.by_kind.items():
        pin, reading = needs_pin(kind), kind in READINGS
        for place in places:
            entry = entries[place]
            if entry.person not in known:
                yield place, "unknown_person"
                continue
            if pin and entry.unlocked != "pin":
                yield place, "without_pin"
            if reading:
                key = (entry.person, entry.step)
                if key not in allowed:
                    allowed[key] = _by_role(scene, entry, known[entry.person]["roles"])
                if not allowed[key]:
                    yield place, "wrong_role_entry"


def _by_role(scene: Scene, entry: Entry, roles: list[str]) -> bool:
    step = scene.view.sheet.steps.get(entry.step or "")
    if step is None:
        return True
    wanted = step.raw.get("by") or scene.view.sheet.raw.get("record", ())
    return not wanted or not set(wanted).isdisjoint(roles)


def _of_releases(scene: Scene) -> Iterator[Flag]:
    # Sheets from before this was amended told nothing of what was only spoken.
    history, amended = scene.view.history, scene.view.sheet.amended >= 2
    kinds = ("release", "spoken") if amended else ("release",)
    for place in (p for kind in kinds for p in history.by_kind.get(kind, ())):
        point = scene.view.sheet.points.get(history.entry(place).point or "")
        if point is None:
            continue
        past, at = history.graph.past[place], history.moments[place]
        made = scene.case.under(place).scene(past, at)
        named = made.view.sheet.points.get(point.id, point)
        spoken = history.entry(place).kind == "spoken"
        if not spoken and signed_words(made, named, place):
            continue
        unheard = spoken and not named.raw.get("spoken_ms")
        if unheard or births(made, named, place):
            yield place, "release_void"
        elif lapse(scene, point, place) is not None:
            yield place, "release_lapsed"


def _of_kinds(history: History) -> Iterator[Flag]:
    for kind in ("copied", "correction", "anyway"):
        yield from ((place, kind) for place in history.by_kind.get(kind, ()))


def _of_readings(scene: Scene) -> Iterator[Flag]:
    history, steps = scene.view.history, scene.view.sheet.steps
    entries, past = history.graph.entries, history.graph.past
    before = {
        name: _before(scene, name) for step in steps.values() for name in step.needs
    }
    for place in (p for kind in READINGS for p in history.by_kind.get(kind, ())):
        entry = entries[place]
        step = steps.get(entry.step or "")
        if step is None:
            continue
        for name, value in entry.values.items():
            if not possible(step.fields.get(name), value):
                yield place, "bad_value"
                break
        if step.raced:
            for name in step.needs:
                if not past[place] & before[name]:
                    yield place, "out_of_order"
                    break


def _of_items(scene: Scene) -> Iterator[Flag]:
    for step in scene.view.sheet.steps.values():
        for each in named_twice(scene, step):
            yield from ((place, ELSEWHERE) for place in each.places)


def _of_chains(scene: Scene) -> Iterator[Flag]:
    history = scene.view.history
    entries = history.graph.entries
    for entry_id in forked(entries):
        yield history.graph.index[entry_id], "fork"
    attempts = {attempt for attempt, _ in scene.view.attempts()}
    for place, entry in enumerate(entries):
        if entry.rules > RULES:
            yield place, "newer_rules"
        if entry.attempt not in attempts:
            yield place, "other_attempt"


def _before(scene: Scene, name: str) -> int:
    """Give the mask of what an act that needs something should have in its past."""
    history, sheet = scene.view.history, scene.view.sheet
    if name in sheet.milestones:
        name = sheet.milestones[name].step
    before = history.readings.get(name) or history.by_point.get((name, "release"), [])
    return sum(1 << place for place in before)
