"""People, phones and a small site for the tests of the server's layers.

The site is one subject with a step, a hold point and a step behind it: small enough
to see through. Keys are made at random in each test.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.config import Running, open_door, running
from fieldapp.core.canonical import canonical, fingerprint
from fieldapp.intake.office import issue
from fieldapp.play.phone import Phone
from fieldapp.play.world import World
from fieldapp.store.database import connected

NOON = 1_780_000_000_000
"""When the tests play, ms UTC (a day in 2026)."""
SITE = "tarn"
SUBJECT = "J1"
FOREMAN, INSPECTOR = "ida", "omar"
DOCUMENT: dict[str, Any] = {
    "id": SITE,
    "title": "Tarn crossing",
    "revision": 1,
    "zone": 120,
    "roles": {"foreman": "Gang foreman", "inspector": "Inspector"},
    "organisations": [{"id": "build", "name": "Builders", "part": "contractor"}],
    "piers": [],
    "people": [
        {"id": FOREMAN, "name": "Ida Fell", "roles": ["foreman"],
         "organisation": "build"},
        {"id": INSPECTOR, "name": "Omar Beck", "roles": ["inspector"],
         "organisation": "owner"},
    ],
}  # fmt: skip


def sheet(**changes: Any) -> dict[str, Any]:
    """Give the small subject's sheet, with changes to its top level."""
    wipe: dict[str, Any] = {
        "title": "Wipe the face",
        "class": "gated",
        "by": ["foreman"],
        "fields": [
            {"id": "temp", "label": "Face", "kind": "number", "unit": "°C",
             "places": 1, "low": -400, "high": 800, "need": True},
        ],
        "checks": [
            {"id": "warm", "scope": "line", "raises": "nonconformance",
             "text": "The face is 5.0 °C or warmer",
             "must": {"word": "between", "low": 50, "value":
                      {"word": "reading", "step": "wipe", "field": "temp"}}},
        ],
    }  # fmt: skip
    whole = {
        "format": 1, "rules": 1, "site": SITE, "subject": SUBJECT, "kind": "tie",
        "title": "Joint 1", "revision": 1, "tables": {}, "items": {},
        "facts": [{"label": "Kind", "value": "A joint for tests"}],
        "flow": ["wipe", "go", "mix"],
        "steps": {
            "wipe": wipe,
            "mix": {"title": "Mix", "class": "gated", "by": ["foreman"],
                    "fields": [], "needs": ["go"]},
        },
        "points": {
            "go": {"title": "Mixing", "class": "hold", "covers": ["wipe"],
                   "shuts": ["mix"], "releases": [{"role": "inspector"}],
                   "after": ["wipe"], "requires": [], "lapses": [],
                   "independent": True},
        },
        "values": {}, "conditions": {}, "milestones": [], "clocks": [], "holds": [],
        "cards": [], "prerequisites": [], "dispose": [{"role": "inspector"}],
        "propose": [{"role": "foreman"}], "record": ["foreman"], "pictures": [],
    }  # fmt: skip
    return _whole_numbers(whole | changes)


def _whole_numbers(part: Any) -> Any:
    if isinstance(part, bool):
        return int(part)
    if isinstance(part, dict):
        return {name: _whole_numbers(inner) for name, inner in part.items()}
    return [_whole_numbers(inner) for inner in part] if isinstance(part, list) else part


@dataclass(slots=True, kw_only=True)
class Stage:
    """A site in force with its world, at noon; `now` moves only when told."""

    data: Path
    wired: Running
    world: World
    now: int = NOON

    def phone(self, device: str = "gang", *people: str) -> Phone:
        """Give a phone with people enrolled (the foreman if none is named)."""
        with connected(self.wired.door.store):
            phone = self.world.phone(device, now=self.now, zone=120)
            for person in people or (FOREMAN,):
                self.world.enrol(phone, person, self.now)
        return phone


def stage(data: Path) -> Stage:
    """Put the small site in force in a fresh data folder."""
    door = open_door(data)
    put_in_force(door, sheet())
    set_up = Stage(
        data=data, wired=running(door, lambda: set_up.now), world=World(door=door)
    )
    return set_up


def put_in_force(
    door: Any,
    *sheets: dict[str, Any],
    people: Sequence[dict[str, Any]] = (),
    tables: Sequence[dict[str, Any]] = (),
    **changes: Any,
) -> list[str]:
    """Issue sheets of the small site, with more people and changes to its picture."""
    document = DOCUMENT | {"people": [*DOCUMENT["people"], *people]} | changes
    return issue(
        door,
        site=SITE,
        document=canonical(document),
        sheets={each["subject"]: canonical(each) for each in sheets},
        tables=[canonical(each) for each in tables],
        now=NOON,
    )


def wiped(phone: Phone, now: int = NOON, temp: int = 215, **fields: Any) -> Any:
    """Have the foreman record the first step."""
    return phone.write(
        "done",
        person=FOREMAN,
        now=now,
        subject=SUBJECT,
        sheet=fingerprint(sheet()),
        step="wipe",
        values={"temp": temp},
        **fields,
    )
