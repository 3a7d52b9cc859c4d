"""A phone written from the protocol page alone: hashlib, cryptography, nothing of ours.

Whatever it needs and cannot find on the page is a gap of the page.
"""

import base64
import hashlib
import json
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, utils

ALGORITHM = ec.ECDSA(hashes.SHA256())


def text_of(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).decode().rstrip("=")


def bytes_of(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def sha256(text: str | bytes) -> str:
    raw = text.encode() if isinstance(text, str) else text
    return hashlib.sha256(raw).hexdigest()


def canonical(document: Any) -> str:
    return json.dumps(
        document, ensure_ascii=False, sort_keys=True, separators=(",", ":")
    )


def holds(public: str, text: str, sig: str) -> bool:
    """Say whether r and s, 32 bytes each, are a signature by this point."""
    raw = bytes_of(sig)
    point = ec.EllipticCurvePublicKey.from_encoded_point(
        ec.SECP256R1(), bytes_of(public)
    )
    halves = int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big")
    try:
        point.verify(utils.encode_dss_signature(*halves), text.encode(), ALGORITHM)
    except InvalidSignature:
        return False
    return len(raw) == 64


class Stranger:
    """A key on a device, and what it was told."""

    def __init__(self, device: str) -> None:
        self.device = device
        self.private = ec.generate_private_key(ec.SECP256R1())
        point = self.private.public_key().public_bytes(
            serialization.Encoding.X962,
            serialization.PublicFormat.UncompressedPoint,
        )
        self.public, self.key = text_of(point), sha256(point)
        self.seq, self.prev = 0, ""

    def sign(self, text: str) -> str:
        """Sign a text: r and s, 32 bytes each, big-endian, in base64url."""
        r, s = utils.decode_dss_signature(self.private.sign(text.encode(), ALGORITHM))
        return text_of(r.to_bytes(32, "big") + s.to_bytes(32, "big"))

    def wish(self, code: str) -> dict[str, str]:
        """Give the body of an enrolment."""
        claim = f"enrol:{code}:{self.device}:{self.public}"
        told = {"code": code, "device": self.device, "public": self.public}
        return told | {"proof": self.sign(claim)}

    def note(self, site: str, person: str, subject: str, text: str) -> dict[str, str]:
        """Sign a note as the next entry of this device."""
        self.seq += 1
        entry: dict[str, Any] = {
            "format": 1, "site": site, "subject": subject, "rules": 1, "kind": "note",
            "about": {"text": text}, "person": person, "device": self.device,
            "key": self.key, "seq": self.seq, "after": [self.prev] if self.prev else [],
            "at": 1_780_000_000_000, "at_by": "tap", "made": 1_780_000_000_001,
            "zone": 60, "session": "s1", "mono": 5, "shell": "stranger",
            "unlocked": "shift",
        }  # fmt: skip
        if self.prev:
            entry["prev"] = self.prev
        body = canonical(entry)
        self.prev = sha256(body)
        return {"bytes": body, "sig": self.sign(body)}


def believed(entries: list[dict[str, Any]], office_public: str) -> tuple[int, str]:
    """Check a whole pull from index 1: gapless, signed by whom it says; gives the head.

    Errors: AssertionError that names what does not hold.
    """
    office = sha256(bytes_of(office_public))
    keys: dict[tuple[str, str], tuple[str, str]] = {}
    last, head = 0, "0" * 64
    for each in entries:
        entry = json.loads(each["bytes"])
        assert each["index"] == last + 1, "a hole"
        assert canonical(entry) == each["bytes"], "not canonical"
        own = (office_public, "office") if entry["key"] == office else None
        public, device = own or keys[entry["person"], entry["key"]]
        assert holds(public, each["bytes"], each["sig"]), "a forged entry"
        assert device == entry["device"], "another device"
        about = entry.get("about", {})
        if entry["kind"] == "enrolled" and entry["key"] == office:
            keys[about["person"], about["key"]] = (about["public"], about["device"])
        last, head = last + 1, sha256(head + sha256(each["bytes"]))
    return last, head
