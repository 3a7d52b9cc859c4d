"""Entries as a forger would make them, and the site they are tried on."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import Any

from fieldapp.clock import utc_now_ms
from fieldapp.core.canonical import canonical
from fieldapp.play.phone import Phone
from fieldapp.signatures import (
    SigningKey,
    decode_base64url,
    encode_base64url,
    new_key,
    sign,
)
from fieldapp.store.ledger import Signed
from tests.javascript import JavaScript
from tests.people import FOREMAN, INSPECTOR, NOON, SITE
from tests.simulation.books import SHEET_HASH
from tests.simulation.forger import flipped
from tests.simulation.house import House
from tests.simulation.road import Road
from tests.simulation.shell_phone import ShellPhone
from tests.simulation.stranger import Stranger

SUBJECT = "J1"


@dataclass(slots=True, kw_only=True)
class Scene:
    """A served site with a gang's phone that has pushed, and a lost, revoked one."""

    house: House
    gang: Stranger
    lost: Stranger
    reader: ShellPhone

    def good(self) -> Signed:
        """Have the foreman record something and give it as it would travel."""
        return signed_by(self.gang)


def set_scene(house: House, javascript: JavaScript) -> Scene:
    gang, lost = _stranger(house, "gang"), _stranger(house, "lost")
    reader = ShellPhone(
        name="reader", road=gang.road, engine=javascript, address=house.office.url,
        rng=gang.road.rng,
    )  # fmt: skip
    reader.switch_on()
    reader.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    for phone in (gang, lost):
        for number in range(3):
            phone.record(
                "note", person=FOREMAN, now=NOON, subject=SUBJECT,
                about={"text": f"note {number}"},
            )  # fmt: skip
        phone.sync()
    house.revoke("lost", lost.key_ids(), utc_now_ms())
    reader.sync()
    return Scene(house=house, gang=gang, lost=lost, reader=reader)


def _stranger(house: House, name: str) -> Stranger:
    road = Road(port=house.office.port, rng=Random(name))
    pen = Phone(device=name, site=SITE, started_ms=NOON)
    phone = Stranger(name=name, site=SITE, road=road, pen=pen)
    phone.enrol(FOREMAN, house.code(FOREMAN, utc_now_ms()))
    return phone


def signed_by(phone: Stranger, **changes: Any) -> Signed:
    """Sign a reading with the foreman's key, after changes to what is signed."""
    pen = phone.pen
    entry_id = phone.record(
        "done", person=FOREMAN, now=NOON, subject=SUBJECT, sheet=SHEET_HASH[SUBJECT],
        step="wipe", values={"temp": 215 + pen.seq},
    )  # fmt: skip
    signed = phone.rows.pop(entry_id).signed
    if not changes:
        return signed
    return by_key(pen.key_of(FOREMAN), {**json.loads(signed.body), **changes})


def by_key(key: SigningKey, document: dict[str, Any]) -> Signed:
    """Sign a document with whatever key."""
    body = canonical(document)
    return Signed(body=body.decode(), sig=sign(key, body))


def _another_signature(scene: Scene) -> Signed:
    return Signed(body=scene.good().body, sig=scene.good().sig)


def _one_bit_of_the_body(scene: Scene) -> Signed:
    good = scene.good()
    told = json.loads(good.body)
    told["values"]["temp"] ^= 1
    return Signed(body=canonical(told).decode(), sig=good.sig)


def _one_bit_of_the_signature(scene: Scene) -> Signed:
    good = scene.good()
    sig = encode_base64url(flipped(decode_base64url(good.sig), 37))
    return Signed(body=good.body, sig=sig)


def _stranger_under_the_foremans_key(scene: Scene) -> Signed:
    return by_key(new_key(), json.loads(scene.good().body))


def _stranger_with_a_key_of_his_own(scene: Scene) -> Signed:
    key = new_key()
    return by_key(key, {**json.loads(scene.good().body), "key": key.id})


def _another_device(scene: Scene) -> Signed:
    return signed_by(scene.gang, device="elsewhere")


def _another_person(scene: Scene) -> Signed:
    return signed_by(scene.gang, person=INSPECTOR)


def _another_site(scene: Scene) -> Signed:
    return signed_by(scene.gang, site="elsewhere")


def _as_the_office(scene: Scene) -> Signed:
    own = scene.house.site_key()
    return signed_by(scene.gang, person="office", device="office", key=own)


def _revoked_key(scene: Scene) -> Signed:
    return signed_by(scene.lost)


FORGERIES: dict[str, Callable[[Scene], Signed]] = {
    "the signature of another entry": _another_signature,
    "one bit of a value": _one_bit_of_the_body,
    "one bit of the signature": _one_bit_of_the_signature,
    "a stranger under the foreman's key": _stranger_under_the_foremans_key,
    "a stranger with a key of his own": _stranger_with_a_key_of_his_own,
    "another device's name": _another_device,
    "another person's name": _another_person,
    "another site's entry": _another_site,
    "a phone as the office": _as_the_office,
    "a revoked key": _revoked_key,
}
