"""Reads a story: a TOML file of people, phones, and lines played one after another.

    title = "A face that was too cold"
    shows = "What somebody learns from it."
    subject = "J1"                    # where a line names no other
    start = 2026-05-04T07:00:00Z      # the true time of the first line
    site = "../sample_site"           # optional; the command line may name another
    zone = 120                        # minutes east of UTC, optional
    live = true                       # optional; in a history its last line is now

    [people]                          # name in the story -> person of the plan, phone
    ida = { person = "ida", phone = "gang" }

    [story]
    lines = [
      { at = "0:00", who = "ida", do = "done", step = "wipe", values = { temp = 4.5 } },
      { expect = { "steps.wipe.status" = "failed", nonconformances = ["warm"] } },
      { at = "0:09", phone = "gang", online = false },
    ]

`at` is hours:minutes[:seconds] since the start and may not go back; without it an
entry follows a second after the line before, anything else happens in the same
moment. A line does one of three things.

*An entry*: `who`, `do` (a kind) and, as the kind wants, `step`, `line`, `point`,
`values` (as read: 4.5; a choice by its label), `reason`, `text`, `how`, `people`,
`verdict`, `from`, `target`. `target` is a name given to an earlier line by `name`, or
the check or code of a nonconformance. `phone` and `subject` override; `typed = "0:05"`
states an earlier time. `refused = "code"` expects the phone to say no and then signs
nothing; `force = true` signs in spite of a no; `result = "fork"` is what the office
must answer. `photos = 2` takes two made-up pictures and sends them; a list names
hashes of pictures that never arrive. A registration (`do = "registered"`) names its
certificate as `registering` says.
*A phone*: `phone` with `online`, `clock` ("+26:00" sets its clock wrong, "-0:10"),
`restart` (flat battery) or `enrol` (a name).
*An expectation*: `expect`, a map from places in the state to what must be there, as
the office sees it or, with `phone`, as that phone does. A list of refusals or
nonconformances is compared by their codes (or checks), in any order.
*A chapter*: `at` and `chapter` put the lines of another file here (`chapters`).
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from fieldapp.core.kinds import KINDS
from fieldapp.play.chapters import with_chapters
from fieldapp.play.registering import KEYS as CERTIFICATE
from fieldapp.play.world import PlayFault

_OFFSET = re.compile(r"(?P<sign>[+-]?)(?P<h>\d+):(?P<m>\d\d)(?::(?P<s>\d\d))?")
_HEAD = {
    "title",
    "shows",
    "subject",
    "start",
    "site",
    "zone",
    "live",
    "people",
    "story",
}
_ENTRY = {
    "at", "who", "do", "step", "line", "point", "values", "about", "reason", "text",
    "how", "people", "verdict", "from", "target", "name", "phone", "subject", "typed",
    "refused", "force", "result", "photos", *CERTIFICATE,
}  # fmt: skip
_PHONE = {"at", "phone", "online", "clock", "restart", "enrol"}
_EXPECT = {"at", "expect", "phone", "subject"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Actor:
    """Somebody of the story: who it is in the plan, and the phone they hold."""

    person: str
    phone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a story; `at` in ms UTC, `number` counts from 1."""

    number: int
    at: int
    said: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """A story as read; `site` is a folder, if the story names one."""

    title: str
    subject: str
    start: int
    zone: int
    site: Path | None
    people: Mapping[str, Actor]
    lines: tuple[Line, ...]
    live: bool = False
    shows: str = ""


def read_story(path: Path) -> Story:
    """Read a story's file. Errors: `PlayFault` with line, value, what is allowed."""
    try:
        text = path.read_text("utf-8")
        told = tomllib.loads(text, parse_float=Decimal)
    except OSError as fault:
        raise PlayFault(fault.strerror or str(fault)) from fault
    except (ValueError, RecursionError) as fault:
        raise PlayFault(str(fault)) from fault
    return story_of(told, path.parent)


def story_of(told: Mapping[str, Any], folder: Path = Path()) -> Story:
    """Read a story that is already data; paths are taken from `folder`."""
    _only("the story", told, _HEAD)
    start = told.get("start")
    if not isinstance(start, datetime) or start.tzinfo is None:
        raise PlayFault(f"start: found {start!r}, allowed: a moment with its zone")
    people = {name: _actor(name, each) for name, each in _map(told, "people").items()}
    began = int(start.timestamp() * 1_000)
    return Story(
        title=str(told.get("title", "")),
        subject=str(told.get("subject", "")),
        start=began,
        zone=int(told.get("zone", 0)),
        site=folder / told["site"] if "site" in told else None,
        people=people,
        lines=tuple(_lines(_lines_told(told, folder), began, people)),
        live=bool(told.get("live", False)),
        shows=str(told.get("shows", "")),
    )


def offset_ms(text: object, where: str) -> int:
    """Read hours:minutes[:seconds], with a sign or without, as ms."""
    found = _OFFSET.fullmatch(text) if isinstance(text, str) else None
    if found is None:
        raise PlayFault(f"{where}: found {text!r}, allowed: hours:minutes[:seconds]")
    seconds = int(found["h"]) * 3_600 + int(found["m"]) * 60 + int(found["s"] or 0)
    return seconds * (-1_000 if found["sign"] == "-" else 1_000)


def _lines_told(told: Mapping[str, Any], folder: Path) -> object:
    return with_chapters(_map(told, "story").get("lines"), folder)


def _lines(told: object, start: int, people: Mapping[str, Actor]) -> list[Line]:
    if not isinstance(told, list) or not told:
        raise PlayFault("story.lines: found none, allowed: a list of lines")
    lines: list[Line] = []
    at = start
    for number, said in enumerate(told, 1):
        where = f"line {number}"
        _check_line(where, said, people)
        follows = at + 1_000 if "do" in said else at
        here = start + offset_ms(said["at"], where) if "at" in said else follows
        if here < at:
            raise PlayFault(f"{where}: at {said['at']} lies before the line above")
        at = here
        lines.append(Line(number=number, at=at, said=said))
    return lines


def _check_line(where: str, said: object, people: Mapping[str, Actor]) -> None:
    if not isinstance(said, dict):
        raise PlayFault(f"{where}: found {said!r}, allowed: a map")
    if "do" in said:
        _only(where, said, _ENTRY)
        _one_of(f"{where}, who", said.get("who"), people)
        _one_of(f"{where}, do", said["do"], KINDS)
    elif "expect" in said:
        _only(where, said, _EXPECT)
        if not isinstance(said["expect"], dict):
            raise PlayFault(f"{where}, expect: allowed: a map")
    else:
        _only(where, said, _PHONE)
        if "phone" not in said:
            raise PlayFault(f"{where}: allowed: do, expect or phone")


def _actor(name: str, told: object) -> Actor:
    if not isinstance(told, dict) or not {"person", "phone"} <= told.keys():
        raise PlayFault(f"people.{name}: allowed: {{ person = …, phone = … }}")
    return Actor(person=str(told["person"]), phone=str(told["phone"]))


def _map(told: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = told.get(name)
    if not isinstance(found, dict):
        raise PlayFault(f"{name}: found {found!r}, allowed: a table")
    return found


def _only(where: str, told: Mapping[str, Any], allowed: set[str]) -> None:
    for name in told:
        if name not in allowed:
            raise PlayFault(
                f"{where}: found {name}, allowed: {', '.join(sorted(allowed))}"
            )


def _one_of(where: str, found: object, allowed: Mapping[str, Any]) -> None:
    if found not in allowed:
        raise PlayFault(f"{where}: found {found!r}, allowed: {', '.join(allowed)}")
