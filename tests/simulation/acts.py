"""What people do on a phone in the simulation: readings, corrections, calls, releases.

A phone asks its own rules first, as the real one does; what the rules forbid is now
and then recorded as *happened anyway*, since steel and glue do not ask.
"""

from io import BytesIO
from random import Random
from typing import Any, Protocol

from PIL import Image

from fieldapp.core.entries import Entry
from fieldapp.core.fold import record_refusals
from fieldapp.core.rules import release_refusals
from tests.people import FOREMAN, INSPECTOR
from tests.simulation.books import PREPARED, SHEET_HASH, SUBJECTS, scene


class Handset(Protocol):
    """What a phone must be able to do for people to work on it."""

    people: tuple[str, ...]

    def entries_of(self, subject: str) -> list[Entry]:
        """Give what this phone trusts of a subject."""
        ...

    def record(self, kind: str, **fields: Any) -> str:
        """Sign an entry and keep it; gives its id."""
        ...

    def photograph(self, raw: bytes, kind: str, **fields: Any) -> str:
        """Keep a picture and sign an entry that names it; gives the entry's id."""
        ...


def act(phone: Handset, rng: Random, now: int) -> str | None:
    """Do one thing on a phone; gives the new entry's id, or None."""
    subject = rng.choice(SUBJECTS)
    known = phone.entries_of(subject)
    doing = rng.choice(
        (_wipe, _wipe, _correct, _call, _release, _release, _mix, _note, _photo)
    )
    fields = doing(phone, rng, subject, known)
    if fields is None:
        return None
    person = fields.pop("person", FOREMAN)
    if person not in phone.people:
        return None
    fields |= {"person": person, "now": now, "subject": subject}
    fields["sheet"] = SHEET_HASH[subject]
    if raw := fields.pop("picture", None):
        return phone.photograph(raw, fields.pop("kind"), **fields)
    return phone.record(fields.pop("kind"), **fields)


def _wipe(
    _phone: Handset, rng: Random, _subject: str, _known: list[Entry]
) -> dict[str, Any]:
    return {"kind": "done", "step": "wipe", "values": {"temp": rng.randint(20, 400)}}


def _correct(
    _phone: Handset, rng: Random, _subject: str, known: list[Entry]
) -> dict[str, Any] | None:
    wiped = [each for each in known if each.kind == "done" and each.step == "wipe"]
    if not wiped:
        return None
    about = {"target": rng.choice(wiped).id, "reason": "misread"}
    values = {"temp": rng.randint(60, 400)}
    return {"kind": "correction", "step": "wipe", "about": about, "values": values}


def _call(
    _phone: Handset, _rng: Random, _subject: str, _known: list[Entry]
) -> dict[str, Any]:
    return {"kind": "called", "point": "go"}


def _release(
    _phone: Handset, rng: Random, subject: str, known: list[Entry]
) -> dict[str, Any]:
    seen = scene(subject, known)
    if release_refusals(seen, "go", INSPECTOR):
        about = {"reason": "not as it should be"}
        refused = {"kind": "refusal", "point": "go", "about": about}
        note = {"kind": "note", "about": {"text": "looked at"}}
        return {**(refused if rng.random() < 0.3 else note), "person": INSPECTOR}
    return {"kind": "release", "point": "go", "person": INSPECTOR}


def _mix(
    _phone: Handset, rng: Random, subject: str, known: list[Entry]
) -> dict[str, Any] | None:
    seen = scene(subject, known)
    if not record_refusals(seen, PREPARED[subject].steps["mix"]):
        return {"kind": "done", "step": "mix"}
    if rng.random() < 0.3:
        return {"kind": "anyway", "step": "mix", "about": {"reason": "it was alive"}}
    return None


def _note(
    _phone: Handset, rng: Random, _subject: str, _known: list[Entry]
) -> dict[str, Any]:
    return {"kind": "note", "about": {"text": f"Größe {rng.randint(0, 10**6)} ✓"}}


def _photo(
    _phone: Handset, rng: Random, _subject: str, _known: list[Entry]
) -> dict[str, Any]:
    about = {"text": "as the face looked"}
    return {"kind": "note", "about": about, "picture": picture(rng)}


def picture(rng: Random) -> bytes:
    """Give a small picture unlike any other."""
    shades = bytes(rng.randrange(256) for _ in range(16 * 16))
    drawn = BytesIO()
    Image.frombytes("L", (16, 16), shades).save(drawn, "JPEG")
    return drawn.getvalue()
