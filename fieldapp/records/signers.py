"""Everybody who signed an entry of the subject, and every key in their name.

A key's fingerprint is printed whole: it is what ties a name on paper to a signature.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fieldapp.records.figures import day, grouped
from fieldapp.records.opened import Opened


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """A key that signed: whole fingerprint, device, status now, entries signed.

    enrolled: the day, and whether a code or a key they had already let it in.
    """

    fingerprint: str
    device: str
    status: str
    enrolled: str
    entries: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person of the record with the keys they used in it."""

    name: str
    roles: str
    organisation: str
    keys: tuple[Key, ...]


def signers(opened: Opened) -> Iterator[Person]:
    """Tell who signed, in the order of their first entry."""
    for person in dict.fromkeys(entry.person for entry in opened.entries):
        known = opened.people.get(person, {})
        organisation = known.get("organisation", "")
        yield Person(
            name=opened.words.fact("person", person),
            roles=opened.words.roles(known.get("roles", ())) or "not on the roster",
            organisation=opened.words.fact("organisation", organisation),
            keys=tuple(_keys(opened, person)),
        )


def _keys(opened: Opened, person: str) -> Iterator[Key]:
    mine = [entry for entry in opened.entries if entry.person == person]
    enrolled = opened.people.get(person, {}).get("keys", {})
    for key in dict.fromkeys(entry.key for entry in mine):
        known = enrolled.get(key, {})
        yield Key(
            fingerprint=grouped(key),
            device=str(known.get("device", "unknown device")),
            status=str(known.get("status", "not enrolled")),
            enrolled=_enrolled(known, opened.zone),
            entries=sum(entry.key == key for entry in mine),
        )


def _enrolled(known: Mapping[str, Any], zone: int) -> str:
    if "since" not in known:
        return ""
    how = "by their own phone" if known.get("by") else "by code"
    return f"{how} {day(known['since'], zone)}"
