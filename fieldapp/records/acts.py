"""One entry as a line of the record: who, as what, when, where, and what it meant.

Times are told in the site's zone, with the phone's own where it is another; where an
entry was signed later than it happened, both are told.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.core.entries import Entry, adds_photo
from fieldapp.core.kinds import READINGS
from fieldapp.records.figures import day, short, time_of_day, zone
from fieldapp.records.opened import Opened
from fieldapp.records.wording import named, worded

MINUTE_MS = 60_000
SAME_GO_MS = 15 * MINUTE_MS
"""The phone asks for a missing picture itself: one added so soon is no later news."""
PHOTO_ADDED = "photograph added"


@dataclass(frozen=True, slots=True, kw_only=True)
class Signer:
    """A person with the titles of their roles, their organisation, and the key used."""

    name: str
    roles: str
    organisation: str
    key: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """An entry told in words; `signed` is empty where it was signed as it happened."""

    entry: str
    index: int
    kind: str
    place: str
    who: Signer
    when: str
    signed: str
    text: str


def act(opened: Opened, entry: Entry) -> Act:
    """Tell one entry of the subject."""
    return Act(
        entry=short(entry.id),
        index=opened.rows[entry.id].index,
        kind=kind_told(opened, entry),
        place=place_of(opened, entry),
        who=signer(opened, entry),
        when=when(opened, entry),
        signed=signed(opened, entry),
        text=said(opened, entry),
    )


def kind_told(opened: Opened, entry: Entry) -> str:
    """Give the kind of an entry in words; a picture that was added corrects nothing."""
    return PHOTO_ADDED if adds_photo(entry) else opened.words.kind(entry.kind)


def flag_told(flag: Mapping[str, Any], entry: Entry, said: str) -> str:
    """Give what is said of a flag; a picture added is not called a correction."""
    bare = flag["code"] == "correction" and adds_photo(entry)
    return "A photograph was added later." if bare else said


def with_reading(entry: Entry, by_id: Mapping[str, Entry]) -> bool:
    """Say whether a picture was added to a reading by who took it, in the same go."""
    target = by_id.get(str(entry.about.get("target", "")))
    return bool(
        adds_photo(entry)
        and target is not None
        and target.person == entry.person
        and abs(entry.at - target.at) <= SAME_GO_MS
    )


def signer(opened: Opened, entry: Entry) -> Signer:
    """Give who signed an entry, by the roster the site's key signed."""
    person = opened.people.get(entry.person, {})
    organisation = person.get("organisation", "")
    return Signer(
        name=opened.words.fact("person", entry.person),
        roles=opened.words.roles(person.get("roles", ())),
        organisation=opened.words.fact("organisation", organisation),
        key=short(entry.key),
    )


def when(opened: Opened, entry: Entry) -> str:
    """Give when it happened, in the site's time and, where it differs, the phone's."""
    return local(opened, entry.at, entry.zone)


def local(opened: Opened, at: int, zone_min: int) -> str:
    """Give a moment in the site's time, so that what is listed follows on the clock.

    With the time of the phone that stated it, where its zone is another.
    """
    told = f"{day(at, opened.zone)} {time_of_day(at, opened.zone)}"
    if zone_min == opened.zone:
        return told
    return f"{told} ({time_of_day(at, zone_min)} {zone(zone_min)})"


def signed(opened: Opened, entry: Entry) -> str:
    """Give when it was signed, where that is a minute or more from when it happened."""
    if abs(entry.made - entry.at) < MINUTE_MS:
        return ""
    if day(entry.made, opened.zone) == day(entry.at, opened.zone):
        return time_of_day(entry.made, opened.zone)
    return local(opened, entry.made, entry.zone)


def place_of(opened: Opened, entry: Entry) -> str:
    """Give the title of the step or point of an entry, with its line."""
    name = entry.step or entry.point or ""
    title = opened.words.fact("name", name)
    line = line_label(opened, entry.step or "", entry.line)
    return ", ".join(text for text in (title, line) if text)


def line_label(opened: Opened, step: str, line: str) -> str:
    """Give what the sheet calls a line; empty for the one line of a step."""
    part = opened.part(step)
    labels = {each["id"]: str(each["label"]) for each in part.get("lines", ())}
    return "" if part.get("series") else labels.get(line, line)


def said(opened: Opened, entry: Entry) -> str:
    """Give what an entry says beyond its kind and place: reason, text, changes."""
    return "; ".join(text for text in _said(opened, entry) if text)


def beside(opened: Opened, entry: Entry) -> str:
    """Give what an entry says but its readings: who wrote it, its photographs."""
    return "; ".join(text for text in _beside(opened, entry) if text)


def readings(opened: Opened, entry: Entry) -> str:
    """Give the readings an entry states, by the labels of its step."""
    fields = opened.part(entry.step or "").get("fields", ())
    told = []
    for field in fields:
        if field["id"] in entry.values:
            text = worded(field, entry.values[field["id"]], opened.items)
            told.append(f"{named(str(field['label']), text)} {text}".lstrip())
    known = {field["id"] for field in fields}
    told += [f"{n} {value}" for n, value in entry.values.items() if n not in known]
    return ", ".join(told)


def _said(opened: Opened, entry: Entry) -> Iterator[str]:
    if entry.kind in READINGS:
        yield readings(opened, entry)
    yield from _beside(opened, entry)


def _beside(opened: Opened, entry: Entry) -> Iterator[str]:
    about, words = entry.about, opened.words
    if entry.kind == "correction":
        yield _changes(opened, entry)
    if entry.kind == "stopped":
        yield words.fact("reason", about["reason"])
    if "people" in about:
        yield ", ".join(words.fact("person", who) for who in about["people"])
    if "verdict" in about:
        yield words.verdict(about["verdict"])
    if "from" in about:
        yield f"again from {words.fact('name', about['from'])}"
    if "writer" in about:
        yield f"written by {about['writer']}"
    if entry.kind != "stopped":
        yield str(about.get("reason", ""))
    yield from (str(about[name]) for name in ("text", "how") if name in about)
    yield from _heard(opened, about)
    if entry.photos:
        yield f"photographs: {len(entry.photos)}"


def _heard(opened: Opened, about: dict[str, Any]) -> Iterator[str]:
    """Tell what only releases say: who spoke and heard, conditions, what was unseen."""
    for name, told in (("said_by", "said by"), ("heard_by", "heard by")):
        if name in about:
            yield f"{told} {opened.words.fact('person', about[name])}"
    for each in about.get("conditions", ()):
        before = opened.words.fact("name", each["before"])
        yield f"on condition, before {before}: {each['text']}"
    if "unseen" in about:
        yield f"photographs not seen on this phone: {len(about['unseen'])}"


def _changes(opened: Opened, entry: Entry) -> str:
    target = opened.by_id.get(entry.about["target"])
    if target is None:
        return f"entry {short(entry.about['target'])}, which has not arrived"
    fields = opened.part(entry.step or "").get("fields", ())
    known = {field["id"]: field for field in fields}
    told = [
        f"{known[name]['label'] if name in known else name}"
        f" {_value(opened, known, name, target.values.get(name))}"
        f" → {_value(opened, known, name, value)}"
        for name, value in entry.values.items()
    ]
    at = entry.about.get("at")
    if adds_photo(entry):
        return f"to entry {short(target.id)}"
    if at is not None:
        was = when(opened, target)
        told.append(f"time {was} → {local(opened, at, entry.zone)}")
    return ", ".join(told) + f" (entry {short(target.id)})"


def _value(
    opened: Opened, known: dict[str, dict[str, object]], name: str, value: object
) -> str:
    if not isinstance(value, int | str):
        return "nothing"
    return worded(known[name], value, opened.items) if name in known else str(value)
