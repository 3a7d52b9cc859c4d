"""The office and the phones of a play, and the roads between them.

Everything goes through the real doors (enrolment by code, intake, ledger), only the
time and the network are made up. The store must be connected by the caller.
"""

from dataclasses import dataclass, field

from fieldapp.intake.batch import LARGEST_BATCH, Result, accept
from fieldapp.intake.door import Door
from fieldapp.intake.office import Enrolment, enrol
from fieldapp.intake.photos import take_photo
from fieldapp.lookups import person_of_plan
from fieldapp.play.phone import Phone
from fieldapp.signatures import sign
from fieldapp.store.database import read_meta, writing
from fieldapp.store.devices import Device, find_device, issue_code
from fieldapp.store.ledger import Row, rows_after

PAGE = 500


class PlayFault(ValueError):
    """A story that cannot be played: says where and what is allowed."""


@dataclass(slots=True, kw_only=True)
class World:
    """The office behind its door, and the phones by name."""

    door: Door
    phones: dict[str, Phone] = field(default_factory=dict)

    def phone(self, device: str, *, now: int, zone: int = 0) -> Phone:
        """Give a phone by its name, made on first use."""
        if device not in self.phones:
            site = read_meta(self.door.store, "site")
            assert site is not None, "a play needs a loaded site"
            self.phones[device] = Phone(
                device=device, site=site, zone=zone, started_ms=now
            )
        return self.phones[device]

    def enrol(self, phone: Phone, person: str, now: int) -> None:
        """Enrol a person on a phone by an office code. Errors: `PlayFault`."""
        known = person_of_plan(self.door.store, person)
        if known is None:
            raise PlayFault(f"{person}: the plan names no such person")
        with writing(self.door.store):
            code = issue_code(self.door.store, person=person, issued_by="play", now=now)
        wish = _wish(phone, person, code)
        token = enrol(self.door, wish, known, known=phone.token is not None, now=now)
        phone.token = token or phone.token

    def sync_all(self, now: int) -> list[Result]:
        """Let every phone that is online push, then every one of them pull."""
        online = [phone for phone in self.phones.values() if phone.online]
        results = [result for phone in online for result in self.push(phone, now)]
        oldest = min((phone.cursor for phone in online), default=0)
        rows = self._after(oldest)
        for phone in online:
            phone.take(row for row in rows if row.place > phone.cursor)
            phone.offset_ms = -phone.skew_ms
        return results

    def sync(self, phone: Phone, now: int) -> list[Result]:
        """Push what waits and pull what is new, if the phone is online."""
        if not phone.online:
            return []
        results = self.push(phone, now)
        self.pull(phone)
        phone.offset_ms = -phone.skew_ms
        return results

    def push(self, phone: Phone, now: int) -> list[Result]:
        """Offer what waits; it leaves the phone only once it was answered."""
        results: list[Result] = []
        if not phone.outbox and not phone.photos:
            return results
        device = find_device(self.door.store, phone.device)
        pusher = device or Device(device=phone.device, revoked=False)
        while phone.outbox:
            batch = phone.outbox[:LARGEST_BATCH]
            results += accept(self.door, batch, pusher=pusher, now=now).results
            del phone.outbox[: len(batch)]
        while phone.photos:
            name, raw = next(iter(phone.photos.items()))
            take_photo(self.door, raw, name=name, pusher=pusher, now=now)
            del phone.photos[name]
        return results

    def pull(self, phone: Phone) -> None:
        """Take over what the ledger has after the phone's cursor."""
        phone.take(self._after(phone.cursor))

    def _after(self, place: int) -> list[Row]:
        found: list[Row] = []
        while rows := rows_after(self.door.store, place, PAGE):
            found += rows
            place = rows[-1].place
            if len(rows) < PAGE:
                break
        return found


def _wish(phone: Phone, person: str, code: str) -> Enrolment:
    key = phone.key_of(person)
    wish = Enrolment(code=code, device=phone.device, public=key.public, proof="")
    return Enrolment(
        code=code,
        device=phone.device,
        public=key.public,
        proof=sign(key, wish.claim()),
    )
