"""What the benchmarks of syncing share: a served site, signed entries, a client."""

import http.client
import json
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.config import open_door
from fieldapp.core.canonical import canonical, sha256_hex
from fieldapp.intake.batch import Door
from fieldapp.intake.office import Enrolment, enrol
from fieldapp.play.phone import Phone
from fieldapp.signatures import SigningKey, sign
from fieldapp.store.database import connected, writing
from fieldapp.store.devices import issue_code
from fieldapp.store.ledger import Signed
from tests.people import DOCUMENT, FOREMAN, NOON, SITE, put_in_force, sheet
from tests.phone.office import Office, free_port

BATCH = 200
"""The most entries a push may carry."""
PAGE = 500


@dataclass(slots=True, kw_only=True)
class Sender:
    """A phone of the benchmark: its key, its token, and where its chain stands."""

    device: str
    key: SigningKey
    token: str
    seq: int = 0
    prev: str | None = None

    def sign(self, count: int) -> list[Signed]:
        """Sign so many readings, each linked to the one before."""
        return [self._one() for _ in range(count)]

    def _one(self) -> Signed:
        self.seq += 1
        document: dict[str, Any] = {
            "format": 1, "site": SITE, "subject": "J1", "sheet": "ab" * 32, "rules": 1,
            "kind": "done", "step": "wipe", "values": {"temp": 200 + self.seq % 100},
            "person": FOREMAN, "device": self.device, "key": self.key.id,
            "seq": self.seq, "after": [self.prev] if self.prev else [], "at": NOON,
            "at_by": "tap", "made": NOON + self.seq, "zone": 120, "session": "s1",
            "mono": self.seq, "shell": "bench", "unlocked": "shift",
        }  # fmt: skip
        if self.prev:
            document["prev"] = self.prev
        body = canonical(document)
        self.prev = sha256_hex(body)
        return Signed(body=body.decode(), sig=sign(self.key, body))


@dataclass(slots=True, kw_only=True)
class Line:
    """One kept connection to the server, as a phone has."""

    connection: http.client.HTTPConnection
    token: str

    def push(self, batch: Sequence[Signed]) -> list[str]:
        """Offer entries; gives what became of each."""
        body = {"entries": [{"bytes": each.body, "sig": each.sig} for each in batch]}
        told = self._ask("POST", "/api/push", json.dumps(body).encode())
        return [each["result"] for each in told["results"]]

    def pull(self, after: int) -> dict[str, Any]:
        """Take what is new."""
        return self._ask("GET", f"/api/pull?after={after}&limit={PAGE}", None)

    def _ask(self, method: str, path: str, body: bytes | None) -> dict[str, Any]:
        headers = {"Authorization": f"Bearer {self.token}"}
        if body is not None:
            headers["Content-Type"] = "application/json"
        self.connection.request(method, path, body, headers)
        answer = self.connection.getresponse()
        raw = answer.read()
        assert answer.status == 200, raw[:300]
        told: dict[str, Any] = json.loads(raw)
        return told


@dataclass(slots=True, kw_only=True)
class Served:
    """A site that is served; phones are enrolled past the network."""

    door: Door
    office: Office

    def sender(self, device: str) -> Sender:
        """Enrol a phone of the foreman's."""
        with connected(self.door.store):
            with writing(self.door.store):
                code = issue_code(
                    self.door.store, person=FOREMAN, issued_by="o", now=NOON
                )
            pen = Phone(device=device, site=SITE)
            key = pen.key_of(FOREMAN)
            claim = f"enrol:{code}:{device}:{key.public}".encode()
            wish = Enrolment(
                code=code, device=device, public=key.public, proof=sign(key, claim)
            )
            person = next(p for p in DOCUMENT["people"] if p["id"] == FOREMAN)
            token = enrol(self.door, wish, person, known=False, now=NOON)
        assert token is not None
        return Sender(device=device, key=key, token=token)

    @contextmanager
    def line(self, sender: Sender) -> Iterator[Line]:
        """Open a connection for a phone."""
        connection = http.client.HTTPConnection(
            "127.0.0.1", self.office.port, timeout=60
        )
        try:
            yield Line(connection=connection, token=sender.token)
        finally:
            connection.close()


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """Put the small site in force and serve it as a process of its own."""
    door = open_door(folder / "office")
    put_in_force(door, sheet())
    office = Office(data=folder / "office", port=free_port())
    office.start()
    try:
        yield Served(door=door, office=office)
    finally:
        office.kill()


def batches(entries: Sequence[Signed], size: int = BATCH) -> Iterator[Sequence[Signed]]:
    """Cut a list into batches."""
    for start in range(0, len(entries), size):
        yield entries[start : start + size]


def seconds(began: float) -> float:
    """Give how long something took since a moment of the same clock."""
    return time.perf_counter() - began
