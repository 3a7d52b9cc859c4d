"""A phone that this office does not know comes back by proof, without a code.

A restored office may lack the enrolment of a phone, and a further phone that was
signed for by its owner's own never had a token. Either shows the entries that make its
key known and proves that it holds the key; the entries go through the one door, and
what does not make the key known is not kept at all.
"""

import hmac
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from fieldapp.intake.batch import take_inside
from fieldapp.intake.door import Door
from fieldapp.signatures import KeyFault, key_id, verify
from fieldapp.store.database import reading, writing
from fieldapp.store.devices import Device, find_device, give_token, token_mark
from fieldapp.store.ledger import Signed
from fieldapp.store.room import keep_room
from fieldapp.store.roster import people_of

MOST_PROVING = 16
"""So many entries may come along: an enrolment and the further keys it rests on."""
CHALLENGE_LIFE_MS = 120_000


class ReturnRefused(Exception):
    """A return that cannot be done: its code, the field, and what is allowed."""

    def __init__(self, code: str, field: str, allowed: str) -> None:
        self.code, self.field, self.allowed = code, field, allowed
        super().__init__(f"{field}: {allowed}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A phone's wish to be known again: its key, what proves it, and the proof."""

    device: str
    public: str
    entries: Sequence[Signed] = ()
    challenge: str = ""
    proof: str = ""

    def claim(self) -> bytes:
        """Give the bytes which the proof signs."""
        return f"return:{self.challenge}:{self.device}:{self.public}".encode()


def challenge_for(door: Door, wish: Wish, now: int) -> str:
    """Give what this key on this device is to sign now.

    It rests on the token the device has: with the token that a proof wins it is over,
    so that nobody can use the same proof again.
    """
    return _challenge(door, wish, now // CHALLENGE_LIFE_MS)


def come_back(door: Door, wish: Wish, now: int) -> tuple[str, str]:
    """Give a device whose key is proven a new token; gives the person and the token.

    Errors: `ReturnRefused`; then nothing of the entries is kept.
    """
    keep_room(door.store, sum(len(each.body) for each in wish.entries))
    with reading(door.store):
        _check_proof(door, wish, now)
        known = _active(door, wish) is not None
    with writing(door.store):
        # Of two that bring the same proof at once, the second finds it used.
        _check_proof(door, wish, now)
        if not known:
            pusher = Device(device=wish.device, revoked=False)
            take_inside(door, wish.entries, pusher=pusher, now=now)
        person = _person_to_return(door, wish)
        return person, give_token(door.store, wish.device, now)


def _person_to_return(door: Door, wish: Wish) -> str:
    known_as = find_device(door.store, wish.device)
    if known_as and known_as.revoked:
        raise ReturnRefused(
            "device_revoked", "device", "a phone that was not reported lost"
        )
    found = _active(door, wish)
    if found is None:
        raise ReturnRefused(
            "not_proven", "entries", "what makes this key known on this device"
        )
    person, key = found
    # Anybody may add a key and say that it is on the phone of others.
    if known_as and "by" in key and _others_on(door, wish.device, person):
        raise ReturnRefused(
            "device_known", "device", "a key that the office enrolled on this device"
        )
    return person


def _check_proof(door: Door, wish: Wish, now: int) -> None:
    turn = now // CHALLENGE_LIFE_MS
    given = [_challenge(door, wish, each) for each in (turn, turn - 1)]
    if wish.challenge not in given:
        raise ReturnRefused("challenge_over", "challenge", "the one given last")
    if not verify(wish.public, wish.claim(), wish.proof):
        raise ReturnRefused("proof_wrong", "proof", "a signature with this key")


def _challenge(door: Door, wish: Wish, turn: int) -> str:
    mark = token_mark(door.store, wish.device)
    told = f"{turn}:{mark}:{wish.device}:{wish.public}".encode()
    return hmac.new(door.secret, told, sha256).hexdigest()


def _active(door: Door, wish: Wish) -> tuple[str, dict[str, Any]] | None:
    """Give whose the key is, and the key, if it may be used on that device."""
    try:
        wanted = key_id(wish.public)
    except KeyFault:
        return None
    for person, known in people_of(door.store, door.office.id).items():
        key = known["keys"].get(wanted)
        if key and key["device"] == wish.device and key["status"] == "active":
            return person, key
    return None


def _others_on(door: Door, device: str, person: str) -> bool:
    people = people_of(door.store, door.office.id)
    return any(
        key["device"] == device
        for other, known in people.items()
        for key in known["keys"].values()
        if other != person
    )
