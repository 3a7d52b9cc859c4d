"""A phone that is the program's own: `static/device` and `static/core` in Node.

What a browser lends it (flash, locks, clock, road) is made up in `tests/js`, so that
it can be killed at any step of a write; everything it decides is the served code.
"""

from dataclasses import dataclass, field
from itertools import count
from random import Random
from typing import Any

from fieldapp.core.entries import Entry, read_entry
from fieldapp.store.ledger import Signed
from tests.javascript import JavaScript
from tests.simulation.road import FAULTS, Lost, Refused, Request, Road

HANDHELD = "tests/js/handheld.js"
PIN = "274951"
LONGEST_KILL = 45
"""A write or a round takes about so many steps of the flash."""
_NUMBER = count(1)


class Killed(Exception):
    """The browser died in the middle; it is on again, on what its flash holds."""


class StorageFull(Exception):
    """The flash is full: the phone said so and called nothing saved."""


@dataclass(slots=True, kw_only=True, eq=False)
class ShellPhone:
    """One phone in Node; `road` draws its faults and keeps what is held up."""

    name: str
    road: Road
    engine: JavaScript
    address: str
    rng: Random
    device: str = ""
    people: tuple[str, ...] = ()
    keys: dict[str, set[str]] = field(default_factory=dict)
    alarms: list[str] = field(default_factory=list)
    skew_ms: int = 0
    inner: str = ""

    def switch_on(self) -> None:
        """Bring it to life, empty."""
        self.inner = f"{self.name} {next(_NUMBER)}"
        self._call("appear", self.address)

    def enrol(self, person: str, code: str) -> None:
        """Enrol a person by an office code. Errors: `Lost`, `Refused`."""
        told = self._ask("enrol", code)
        self.device = told["device"]
        self.keys.setdefault(person, set()).add(told["key"])
        if person not in self.people:
            self.people = (*self.people, person)

    def begin_shift(self, person: str, key: str | None = None) -> None:
        """Let a person record from now on; by another of their keys if one is given."""
        self._call("beginShift", person, *([key] if key else []))

    def come_back(self) -> bool:
        """Begin a shift: the phone then proves in its round whose it is.

        Errors: `Lost`, `Refused`, `Killed`, `StorageFull`.
        """
        self.begin_shift(self.people[0])
        self.sync()
        return True

    def signers(self) -> list[str]:
        """Give who may sign on this phone, as its screens list them."""
        told: list[str] = self._call("signersHere")
        return told

    def ask_key(self) -> dict[str, str]:
        """Make a key that another phone is to sign for; gives its `about`."""
        told = self._call("have", "roads/further", "askForKey", PIN)
        _, _, _, device, public, _ = told["text"].split(":")
        return {"key": told["key"], "public": public, "device": device}

    def key_ids(self) -> list[tuple[str, str]]:
        """Give the keys on this phone, each with its person."""
        return [(person, key) for person in self.keys for key in self.keys[person]]

    def entries_of(self, subject: str) -> list[Entry]:
        """Give what this phone would fold of a subject."""
        texts = self._call("soundTexts", subject)
        return [read_entry(text.encode()) for text in texts]

    def record(self, kind: str, *, person: str, now: int, **fields: Any) -> str:
        """Sign an entry and keep it. Errors: `Killed`, `StorageFull`."""
        assert now, "the phone has a clock of its own"
        draft = {"kind": kind, **fields}
        told = self._ask("record", draft, person, more=self._misfortune())
        entry_id: str = told["id"]
        return entry_id

    def photograph(
        self, raw: bytes, kind: str, *, person: str, now: int, **fields: Any
    ) -> str:
        """Take a picture and sign an entry that names it. Errors as of `record`."""
        assert now, "the phone has a clock of its own"
        draft = {"kind": kind, **fields}
        told = self._ask("photograph", raw, draft, person, more=self._misfortune())
        entry_id: str = told["id"]
        return entry_id

    def photos(self) -> set[str]:
        """Give the hashes of the photos that are whole on this phone."""
        return {each["hash"] for each in self._call("pictures") if each["whole"]}

    def waiting_photos(self) -> set[str]:
        """Give the hashes of the photos that will be offered again."""
        rows = self._call("pictures")
        return {each["hash"] for each in rows if each["waiting"] and each["whole"]}

    def holds(self) -> dict[str, Signed]:
        """Give every entry on this phone by its id."""
        return {
            row["id"]: Signed(body=row["bytes"], sig=row["sig"]) for row in self._rows()
        }

    def waiting(self) -> set[str]:
        """Give the ids that will be offered again."""
        return {row["id"] for row in self._rows() if row.get("waiting")}

    def elsewhere(self) -> set[str]:
        """Give the ids that this phone knows to be on another phone too."""
        return {row["id"] for row in self._rows() if row.get("elsewhere")}

    def token(self) -> str:
        """Give the token by which the office knows this phone."""
        told: str = self._call("token")
        return told

    def doubted(self) -> dict[str, str]:
        """Give what this phone found wrong with entries, by id."""
        return {row["id"]: row["fault"] for row in self._rows() if "fault" in row}

    def not_accepted(self) -> set[str]:
        """Give what this phone tells its people the office did not take."""
        told = self._call("have", "faulty", "faultyRows")
        return {row["id"] for row in told}

    def bring(self, *entries: Signed) -> dict[str, Any]:
        """Take in what another phone showed; gives the phone's report of it."""
        sent = [{"bytes": each.body, "sig": each.sig} for each in entries]
        told: dict[str, Any] = self._call("bring", sent)
        return told

    def sync(self) -> None:
        """One round with the office. Errors: `Lost`, `Refused`, `Killed`, …"""
        faults = [self._fault() for _ in range(30)]
        self._ask("sync", more={"faults": faults, **self._misfortune()})
        self._note_alarm()

    def meet_an_old_office(self) -> None:
        """Hear from now on only what the first version of the office told."""
        self._call("setOld")

    def sync_until_answered(self) -> None:
        """Push, and lose the road before the first pull. Errors: `Lost`."""
        self._ask("sync", more={"faults": [None, *["request lost"] * 20]})

    def sync_killed(self, after: int) -> None:
        """Begin a round and die after so many steps of the flash. Errors: `Killed`."""
        self._ask("sync", more={"killAfter": after})

    def copy(self, road: Road) -> "ShellPhone":
        """Give this phone once more, as brought back from a backup of it."""
        other = ShellPhone(
            name=self.name, road=road, engine=self.engine, address=self.address,
            rng=Random(self.rng.random()), device=self.device, people=self.people,
            keys={person: set(ids) for person, ids in self.keys.items()},
            skew_ms=self.skew_ms, inner=f"{self.name} {next(_NUMBER)}",
        )  # fmt: skip
        self.engine.call(HANDHELD, "appearLike", other.inner, self.inner)
        return other

    def shift_clock(self, ms: int, _now: int) -> None:
        """Set the clock wrong by so much more, and switch off and on."""
        self.skew_ms += ms
        self._call("setClock", self.skew_ms)
        self._call("boot", {"power": True})

    def vanish(self) -> None:
        """Drown."""
        self._call("vanish")

    def _rows(self) -> list[dict[str, Any]]:
        rows: list[dict[str, Any]] = self._call("holds")["rows"]
        return rows

    def _note_alarm(self) -> None:
        told = self._call("holds")
        if "alarm" in told and told["alarm"] not in self.alarms:
            self.alarms.append(told["alarm"])

    def _fault(self) -> str | None:
        return self.rng.choice(FAULTS) if self.rng.random() < self.road.rate else None

    def _misfortune(self) -> dict[str, Any]:
        if self.road.rate == 0 or self.rng.random() > self.road.rate:
            return {}
        if self.rng.random() < 0.3:
            return {"full": self.rng.choice(("request", "commit"))}
        return {"killAfter": self.rng.randint(1, LONGEST_KILL)}

    def _ask(self, what: str, *arguments: Any, more: Any = None) -> dict[str, Any]:
        told: dict[str, Any] = self._call(what, *arguments, more or {})
        self.road.met.update(told["met"])
        self.road.late += [_request(each) for each in told["late"]]
        if told.get("killed"):
            self.road.met["phone killed"] += 1
            raise Killed(self.name)
        if told.get("fault") in ("QuotaExceededError", "AbortError"):
            self.road.met["flash full"] += 1
            raise StorageFull(self.name)
        if "fault" in told:
            if told["status"] > 200:
                raise Refused(told["status"], {"told": told["message"]})
            raise Lost(told["message"])
        return told

    def _call(self, what: str, *arguments: Any) -> Any:
        return self.engine.call(HANDHELD, what, self.inner, *arguments)


def _request(told: dict[str, Any]) -> Request:
    token = told["headers"].get("Authorization", "").removeprefix("Bearer ")
    return Request(
        method=told["method"],
        path=told["path"],
        body=told["body"] or None,
        token=token or None,
        photo=told["headers"].get("X-Photo-Hash"),
    )
