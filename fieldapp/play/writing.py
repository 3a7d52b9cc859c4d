"""Turns one line of a story into the entry its phone signs.

Nothing is judged here: whether the phone would say no is asked before.
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.core.entries import Entry
from fieldapp.core.kinds import KINDS
from fieldapp.core.rules import relied_on
from fieldapp.play.asking import scene_of
from fieldapp.play.pictures import made_pictures
from fieldapp.play.registering import certificate
from fieldapp.play.sight import Sight
from fieldapp.play.story import Line, Story, offset_ms
from fieldapp.play.values import values_for
from fieldapp.play.world import PlayFault

REGISTERED = "registered"
_ABOUT = ("reason", "text", "how", "people", "verdict", "from")
Named = Mapping[str, Entry]


def sign_line(
    story: Story, line: Line, person: str, sight: Sight, named: Named
) -> Entry:
    """Sign the entry a line tells, as its phone sees things. Errors: `PlayFault`."""
    said, where = line.said, f"line {line.number}"
    on_site = KINDS[said["do"]]["on"] == "site"
    typed, values = said.get("typed"), line_values(line, sight)
    return sight.phone.write(
        said["do"],
        person=person,
        now=line.at,
        subject=None if on_site else sight.subject,
        at=None if typed is None else story.start + offset_ms(typed, where),
        sheet=None if on_site else sight.sheet.hash,
        step=said.get("step"),
        line=said.get("line"),
        point=said.get("point"),
        attempt=None if on_site else sight.attempt(said.get("step", said.get("point"))),
        values=values,
        about=_about(line, sight, named),
        needs=_needs(said, values, sight),
        photos=_photos(where, said.get("photos"), sight),
    )


def line_values(line: Line, sight: Sight) -> dict[str, int | str]:
    """Give the readings of a line as whole numbers and texts. Errors: `PlayFault`."""
    where = f"line {line.number}"
    if line.said["do"] == REGISTERED:
        told = certificate(where, line.said, sight.register, sight.wall)
        return dict(told["values"])
    step = sight.sheet.raw["steps"].get(line.said.get("step"), {})
    return values_for(where, step, line.said.get("values", {}))


def _about(line: Line, sight: Sight, named: Named) -> dict[str, Any]:
    if line.said["do"] == REGISTERED:
        where = f"line {line.number}"
        told = certificate(where, line.said, sight.register, sight.wall)
        return dict(told["about"])
    about = {name: line.said[name] for name in _ABOUT if name in line.said}
    if "target" in line.said:
        about["target"] = _target(line, sight, named)
    return {**about, **line.said.get("about", {})}


def _target(line: Line, sight: Sight, named: Named) -> str:
    wanted = line.said["target"]
    if wanted in named:
        return named[wanted].id
    faults = sight.folded.state["nonconformances"]
    found = [f["id"] for f in faults if wanted in (f.get("check"), f["code"])]
    if len(found) != 1:
        known = [*named, *(fault["code"] for fault in faults)]
        raise PlayFault(
            f"line {line.number}, target: found {wanted!r} {len(found)} times,"
            f" allowed: one of {', '.join(known) or 'none'}"
        )
    return str(found[0])


def _needs(
    said: Mapping[str, Any], values: Mapping[str, Any], sight: Sight
) -> list[str] | None:
    """Give the entries an entry relies on: other subjects' milestones, certificates."""
    if said.get("point") in sight.sheet.points:
        if not sight.sheet.points[said["point"]].prerequisites:
            return None
        return relied_on(scene_of(sight.folded, at=sight.wall), said["point"]) or None
    step = sight.sheet.steps.get(said.get("step", ""))
    named = (
        [values[field] for field, _ in step.items if field in values] if step else []
    )
    known = sight.register if named else {}
    return sorted({known[name]["entry"] for name in named if name in known}) or None


def _photos(where: str, told: object, sight: Sight) -> list[str] | None:
    if told is None or isinstance(told, list):
        return told
    if type(told) is not int or not 0 < told <= 20:
        raise PlayFault(f"{where}, photos: found {told!r}, allowed: 1 to 20, or hashes")
    words = f"{sight.subject} {where}"
    made = made_pictures(told, words, seed=sight.phone.seq)
    sight.phone.photos.update(made)
    return list(made)
