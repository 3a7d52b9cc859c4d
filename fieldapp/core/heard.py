"""How lately another arm was heard of: no lift is allowed on what may have changed.

What an entry tells is known as of its signing. A release names the entry it rested on
in `needs`, so that what is heard later never makes it right. Where nobody was heard, a
person who looked may sign what was seen: that counts from then as an entry would.
"""

from collections.abc import Iterable
from typing import Any, NamedTuple

from fieldapp.core.clocks import Moment, elapsed_ms
from fieldapp.core.entries import Entry
from fieldapp.core.refusals import Refusal, refusal
from fieldapp.core.scene import Scene
from fieldapp.core.sheet import Point

AHEAD_MS = 2 * 60 * 1000
"""Further in the future than clocks may differ, an entry says nothing of now."""


class Heard(NamedTuple):
    """What was heard last: when, ms UTC; how long ago, ms; the other's entry, if one.

    Without an id it was seen and signed here.
    """

    at: int
    age_ms: int
    entry: str | None


def heard_of(entries: Iterable[Entry], mine: Iterable[Entry]) -> dict[str, Any]:
    """Give, of another subject's entries, each device's last and those that mine name.

    By id: when it was signed, ms UTC, and that device's offset to the server, if known.
    """
    known = {entry.id: entry for entry in entries}
    last: dict[str, Entry] = {}
    for entry in known.values():
        before = last.get(entry.device)
        if before is None or (before.seq, before.id) < (entry.seq, entry.id):
            last[entry.device] = entry
    wanted = {entry.id for entry in last.values()}
    wanted.update(name for each in mine for name in each.needs if name in known)
    return {name: _signed(known[name]) for name in sorted(wanted)}


def last_heard(
    scene: Scene, point: Point, needs: tuple[str, ...] | None
) -> Heard | None:
    """Give what was heard last of those a point asks about; None: nothing ever.

    needs: only these entries count, those a release named; None asks what is known now.
    """
    subjects = scene.view.standing.get("subjects", {})
    found = []
    for subject in point.raw["heard"]["subjects"]:
        for name, told in subjects.get(subject, {}).get("heard", {}).items():
            if needs is None or name in needs:
                moment = Moment(told["at"], None, None, told.get("offset"))
                found.append(_heard(scene, moment, name))
    view, people = scene.view, scene.view.standing.get("people", {})
    found += [
        _heard(scene, view.history.moments[place], None)
        for place in view.among(view.history.by_kind.get("sighting"))
        if view.history.entry(place).person in people
    ]
    good = [each for each in found if each.age_ms >= -AHEAD_MS]
    return min(good, key=lambda each: (each.age_ms, each.entry or ""), default=None)


def unheard(scene: Scene, point: Point, needs: tuple[str, ...] | None) -> list[Refusal]:
    """Give why what is known of the others is too old for a point; empty if not."""
    asked = point.raw.get("heard")
    if asked is None:
        return []
    found = last_heard(scene, point, needs)
    if found is None:
        return [refusal("never_heard", point=point.id)]
    if found.age_ms > asked["within_ms"]:
        return [refusal("heard_long_ago", point=point.id, at=found.at)]
    return []


def _heard(scene: Scene, moment: Moment, entry: str | None) -> Heard:
    age_ms = elapsed_ms(moment, scene.at, use_by=True)
    return Heard(at=moment.at, age_ms=age_ms, entry=entry)


def _signed(entry: Entry) -> dict[str, int]:
    told = {"at": entry.made}
    return told if entry.offset is None else {**told, "offset": entry.offset}
