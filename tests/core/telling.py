"""The telling of a random story: phones with wrong clocks that know only so much.

Only how entries come to be signed is here; what happens is told elsewhere.
"""

from dataclasses import dataclass, field
from random import Random
from typing import Any

from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.core.entries import Entry, read_entry
from fieldapp.core.sheet import Sheet

START_MS = 1_800_000_000_000
MINUTE_MS = 60_000
YEAR_MS = 365 * 24 * 60 * MINUTE_MS
PEOPLE = {
    "foreman": {"name": "F", "roles": ["foreman"], "organisation": "builder"},
    "second": {
        "name": "S",
        "roles": ["foreman", "engineer"],
        "organisation": "builder",
    },
    "inspector": {"name": "I", "roles": ["inspector"], "organisation": "owner"},
    "valueOf": {"name": "V", "roles": ["inspector"], "organisation": "builder"},
    "engineer": {"name": "E", "roles": ["engineer"], "organisation": "builder"},
    "designer": {"name": "D", "roles": ["designer"], "organisation": "d"},
}
EVERYBODY = (*PEOPLE, "toString")
NOWHERE = "ab" * 32


@dataclass(slots=True, kw_only=True)
class Phone:
    """A phone: its clock's error, what it has seen, where its chain stands."""

    id: str
    error_ms: int
    offset: int | None
    session: int = 1
    session_start: int = START_MS
    known: set[str] = field(default_factory=set)
    seq: int = 0
    prev: str | None = None


class Telling:
    """The phones of a site and the world they see: who knows what, and when."""

    def __init__(
        self,
        rng: Random,
        raw: dict[str, Any],
        sheet: Sheet,
        older: list[str],
    ) -> None:
        """Take the sheet and draw how this site behaves."""
        self.rng, self.raw, self.sheet = rng, raw, sheet
        self.older = older
        self.world = START_MS
        self.texts: list[str] = []
        self.entries: dict[str, Entry] = {}
        self.phones = [phone_of(rng, n) for n in range(rng.choice([1, 1, 2, 3]))]
        self.cursor = 0
        self.attempts: list[tuple[str | None, int]] = [(None, 0)]
        self.loss = rng.choice([0, 0, 0, 0.03])
        self.order = rng.choice([0.97, 0.9, 0.6])
        self.sync = rng.choice([1.0, 0.8, 0.3])
        self.pace = rng.choice([2, 6, 45])
        self.standing = _standing(rng)
        _tell_moments(rng, raw, self.standing)
        _tell_heard(rng, self.standing)

    def now(self) -> dict[str, Any]:
        """Give the moment of asking, on no phone or on one of them."""
        self.world += self.rng.choice([0, 1, 1, 100]) * self.rng.randint(0, 30_000_000)
        if self.rng.random() < 0.5:
            return {"at": self.world}
        phone = self.rng.choice(self.phones)
        found = {"at": max(self.world + phone.error_ms, 0), "device": phone.id}
        found |= {"session": f"s{phone.session}", "mono": self._mono(phone)}
        return found if phone.offset is None else {**found, "offset": phone.offset}

    def share(self) -> None:
        """Let some phones show each other everything they know."""
        some = [p for p in self.phones if self.rng.random() < 0.8]
        known = set().union(*(phone.known for phone in some)) if some else set()
        for phone in some:
            phone.known = set(known)

    def seen_by(self, phone: Phone, kinds: tuple[str, ...]) -> list[Entry]:
        """Give the entries of some kinds that a phone knows."""
        found = [self.entries[i] for i in sorted(phone.known)]
        return [entry for entry in found if entry.kind in kinds]

    def say(self, phone: Phone, kind: str, who: str, **parts: Any) -> str:
        """Sign an entry on a phone; give its id."""
        document = self._document(phone, kind, who, parts)
        text = canonical(document)
        entry = read_entry(text)
        self.texts.append(text.decode())
        phone.prev = entry.id
        if entry.subject == self.raw["subject"]:
            self.entries[entry.id] = entry
            phone.known.add(entry.id)
        return entry.id

    def _document(
        self, phone: Phone, kind: str, who: str, parts: dict[str, Any]
    ) -> dict[str, Any]:
        phone.seq += 1
        made = max(self.world + phone.error_ms, 0)
        other = self.rng.random() < 0.01
        document = {
            "format": 1,
            "site": "test",
            "subject": "J2" if other else self.raw["subject"],
            "sheet": self._sheet_hash(),
            "rules": 2 if self.rng.random() < 0.01 else 1,
            "kind": kind,
            "person": who,
            "device": phone.id,
            "key": sha256_hex(who.encode()),
            "seq": phone.seq,
            "after": self._heads(phone),
            "at_by": "tap",
            "made": made,
            "at": made,
            "zone": self.rng.choice([0, 60, -330]),
            "session": f"s{phone.session}",
            "mono": self._mono(phone),
            "shell": "test",
            **parts,
        }
        self._state_time(document)
        attempt = self._attempt(parts)
        extra = {"prev": phone.prev, "offset": phone.offset, "attempt": attempt}
        return document | {k: v for k, v in extra.items() if v is not None}

    def _state_time(self, document: dict[str, Any]) -> None:
        draw = self.rng.random()
        if draw < 0.06:
            ago = self.rng.choice([-30, 5, 20, 100, 60 * 24]) * MINUTE_MS
            document["at"] = max(document["made"] - ago, 0)
            document["at_by"] = "typed"

    def _sheet_hash(self) -> str:
        draw = self.rng.random()
        if draw < 0.02:
            return NOWHERE
        return (
            self.rng.choice(self.older)
            if self.older and draw < 0.3
            else self.sheet.hash
        )

    def _heads(self, phone: Phone) -> list[str]:
        parents = {p for i in phone.known for p in self.entries[i].after}
        heads = phone.known - parents
        if self.rng.random() < 0.01:
            heads = {*heads, NOWHERE}
        return sorted(heads)

    def _attempt(self, parts: dict[str, Any]) -> str | None:
        if self.rng.random() < 0.02:
            return self.rng.choice(
                [*(attempt for attempt, _ in self.attempts), NOWHERE]
            )
        name = parts.get("step") or parts.get("point")
        place = len(self.raw["flow"])
        if name in self.raw["flow"]:
            place = self.raw["flow"].index(name)
        return next(found for found, start in reversed(self.attempts) if start <= place)

    def _mono(self, phone: Phone) -> int:
        return max(self.world - phone.session_start, 0)


def phone_of(rng: Random, number: int) -> Phone:
    """Give a phone; its clock may be years wrong."""
    error = rng.choice([0, 0, 0, 3_000, -240_000, 5 * MINUTE_MS, -30 * YEAR_MS])
    offset = rng.choice([None, -error, -error + 700])
    return Phone(id=f"{number}", error_ms=error, offset=offset)


def restart(rng: Random, phone: Phone, world: int) -> None:
    """Start a new session; the battery was flat, so the clock may have fallen back."""
    phone.session += 1
    phone.session_start = world
    if rng.random() < 0.4:
        phone.error_ms -= rng.choice([10 * MINUTE_MS, YEAR_MS])
        phone.offset = None


def _standing(rng: Random) -> dict[str, Any]:
    """Give what is known of people, other subjects, the register and the pace."""
    found: dict[str, Any] = {
        "people": {name: PEOPLE[name] for name in PEOPLE if rng.random() < 0.97},
        "subjects": {},
    }
    if rng.random() < 0.7:
        found["subjects"] = {"J0": {"milestones": {"hung": NOWHERE}}}
    if rng.random() < 0.5:
        found["items"] = {name: _item(rng) for name in ("jack-1", "7", "lost")}
    if rng.random() < 0.5:
        found["pace"] = {"joint": dict.fromkeys(("wipe", "10", "mix"), 77_000)}
    return found


def _tell_moments(rng: Random, raw: dict[str, Any], standing: dict[str, Any]) -> None:
    """Say when the other subject did some of the same steps."""
    if rng.random() < 0.8:
        other = standing["subjects"].setdefault("J0", {"milestones": {}})
        other["moments"] = {
            step: START_MS + rng.randint(-100, 30) * MINUTE_MS
            for step in raw["steps"]
            if rng.random() < 0.7
        }


def _tell_heard(rng: Random, standing: dict[str, Any]) -> None:
    """Say when the other subject was heard: long ago, just now, by a clock ahead."""
    if rng.random() < 0.8:
        other = standing["subjects"].setdefault("J0", {"milestones": {}})
        other["heard"] = {
            name: {"at": START_MS + rng.choice([-900, -5, 1, 60, 600]) * MINUTE_MS}
            | ({} if rng.random() < 0.5 else {"offset": rng.randint(-9, 9) * 100_000})
            for name in (NOWHERE, "ab" * 32)
            if rng.random() < 0.7
        }


def _item(rng: Random) -> dict[str, Any]:
    item: dict[str, Any] = {"kind": rng.choice(["jack"] * 9 + ["lot"])}
    item["numbers"] = {"slope": 11} if rng.random() < 0.8 else {"uses_max": 3}
    if rng.random() < 0.3:
        item["uses"] = rng.randint(2, 4)
    drawn = rng.random()
    if drawn < 0.3:
        item["expires"] = START_MS + rng.randint(-10, 300) * MINUTE_MS
    elif drawn < 0.9:
        # Without another draw: what follows in a story stays as it was.
        item["expires"] = START_MS + round((drawn - 0.3) * 100) * MINUTE_MS
    if rng.random() < 0.3:
        item["older"] = [NOWHERE]
    return item
