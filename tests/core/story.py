"""A builder of unsigned entries for tests: phones that know what they have seen."""

from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.core.entries import Entry, entry_of
from fieldapp.core.fold import fold
from fieldapp.core.sheet import Sheet

START_MS = 1_800_000_000_000
MINUTE_MS = 60_000


@dataclass(slots=True, kw_only=True)
class Phone:
    """One phone: its clock runs by its own error, and it knows what it was shown."""

    id: str
    session: str = "s1"
    error_ms: int = 0
    offset: int | None = None
    known: set[str] = field(default_factory=set)
    seq: int = 0
    prev: str | None = None


@dataclass(slots=True)
class Story:
    """Entries of one subject, made minute by minute on several phones."""

    sheet: Sheet
    minute: float = 0.0
    entries: dict[str, Entry] = field(default_factory=dict)
    phones: dict[str, Phone] = field(default_factory=dict)
    milestones: dict[str, dict[str, str]] = field(default_factory=dict)
    people: dict[str, dict[str, Any]] = field(default_factory=dict)
    moments: dict[str, dict[str, int]] = field(default_factory=dict)
    heard: dict[str, dict[str, float]] = field(default_factory=dict)

    def phone(self, name: str) -> Phone:
        """Give a phone, new when not seen before."""
        return self.phones.setdefault(name, Phone(id=name))

    def at(self, minute: float) -> "Story":
        """Move the world's clock."""
        self.minute = minute
        return self

    def sync(self, *names: str) -> "Story":
        """Let phones show each other everything they know (default: all phones)."""
        chosen = [self.phone(name) for name in names] or list(self.phones.values())
        known = set().union(*(phone.known for phone in chosen))
        for phone in chosen:
            phone.known = set(known)
        return self

    def say(self, kind: str, *, by: str, on: str = "a", **parts: Any) -> str:
        """Make an entry on a phone and give its id.

        parts: step, line, point, attempt, values, about, needs, unlocked, and `ago`
        (minutes before now that the entry states, typed).
        """
        phone = self.phone(on)
        ago = parts.pop("ago", None)
        world = START_MS + round(self.minute * MINUTE_MS)
        made = world + phone.error_ms
        phone.seq += 1
        document = {
            "format": 1,
            "site": "test",
            "subject": self.sheet.subject,
            "sheet": self.sheet.hash,
            "rules": 1,
            "kind": kind,
            "person": by,
            "device": phone.id,
            "key": sha256_hex(by.encode()),
            "seq": phone.seq,
            "after": self._heads(phone),
            "at": made - round((ago or 0) * MINUTE_MS),
            "at_by": "tap" if ago is None else "typed",
            "made": made,
            "zone": 60,
            "session": phone.session,
            "mono": round(self.minute * MINUTE_MS),
            "shell": "test",
            **parts,
        }
        if phone.prev is not None:
            document["prev"] = phone.prev
        if phone.offset is not None:
            document["offset"] = phone.offset
        entry = entry_of(document, sha256_hex(canonical(document)))
        self.entries[entry.id] = entry
        phone.known.add(entry.id)
        phone.prev = entry.id
        return entry.id

    def done(self, step: str, *, by: str = "foreman", **parts: Any) -> str:
        """Record a step as done; keyword `values` are its readings."""
        return self.say("done", by=by, step=step, **parts)

    def release(self, point: str, *, by: str = "inspector", **parts: Any) -> str:
        """Release a point by PIN."""
        return self.say("release", by=by, point=point, unlocked="pin", **parts)

    def state(self, minute: float | None = None) -> dict[str, Any]:
        """Fold everything, seen at a minute (default: the world's now)."""
        seen = self.minute if minute is None else minute
        now = {"at": START_MS + round(seen * MINUTE_MS)}
        return fold(self.sheet, self.entries.values(), self.standing(), now)

    def standing(self) -> dict[str, Any]:
        """Give what the fold knows of people and other subjects."""
        subjects: dict[str, dict[str, Any]] = {
            name: {"milestones": self.milestones.get(name, {})}
            for name in {*self.milestones, *self.moments, *self.heard}
        }
        for name, minutes in self.moments.items():
            subjects[name]["moments"] = {
                step: START_MS + minute * MINUTE_MS for step, minute in minutes.items()
            }
        for name, signed in self.heard.items():
            subjects[name]["heard"] = {
                entry: {"at": START_MS + round(minute * MINUTE_MS)}
                for entry, minute in signed.items()
            }
        return {"people": self.people or PEOPLE, "subjects": subjects}

    def _heads(self, phone: Phone) -> list[str]:
        parents = {p for i in phone.known for p in self.entries[i].after}
        return sorted(phone.known - parents)


def person(role: str, organisation: str) -> dict[str, Any]:
    """Give a person of the roster with one role."""
    return {"name": role, "roles": [role], "organisation": organisation}


PEOPLE = {
    "foreman": person("foreman", "builder"),
    "second": person("foreman", "builder"),
    "inspector": person("inspector", "owner"),
    "engineer": person("erection_engineer", "builder"),
    "designer": person("designers_engineer", "designer"),
}
