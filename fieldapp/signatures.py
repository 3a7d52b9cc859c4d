"""ECDSA P-256 signatures as browsers make them, and the site's own key.

The algorithm is fixed here and never read from a message. A signature is r||s, 64
bytes, as text in base64url without padding; a public key is the raw uncompressed
point, 65 bytes; a key id is the SHA-256 of that point in hex. This module must never
print or log a private key.
"""

import base64
import binascii
import os
import re
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import (
    decode_dss_signature,
    encode_dss_signature,
)
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

from fieldapp.core.canonical import sha256_hex

POINT_BYTES = 65
HALF_BYTES = 32
_BASE64URL = re.compile(r"[A-Za-z0-9_-]*")
_ECDSA = ec.ECDSA(SHA256())


Claim = tuple[str, bytes, str]
"""A public key, the bytes, and the signature said to be over them."""
WORTH_SHARING = 16
_OTHER_CORE = ThreadPoolExecutor(1, "verify")


class KeyFault(ValueError):
    """A key that cannot be read, with what was wrong about it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SigningKey:
    """A private key with its public point (base64url) and key id (hex)."""

    private: ec.EllipticCurvePrivateKey
    public: str
    id: str


def new_key() -> SigningKey:
    """Make a key at random."""
    return _with_public(ec.generate_private_key(ec.SECP256R1()))


def sign(key: SigningKey, message: bytes) -> str:
    """Sign the bytes; gives r||s in base64url."""
    r, s = decode_dss_signature(key.private.sign(message, _ECDSA))
    return encode_base64url(
        r.to_bytes(HALF_BYTES, "big") + s.to_bytes(HALF_BYTES, "big")
    )


def verify(public: str, message: bytes, signature: str) -> bool:
    """Say whether `signature` over the bytes was made with the key of `public`.

    Anything that is not a key or not a signature is simply not valid: False.
    """
    try:
        point = _load_point(public)
        raw = decode_base64url(signature)
    except KeyFault:
        return False
    if len(raw) != 2 * HALF_BYTES:
        return False
    halves = int.from_bytes(raw[:HALF_BYTES]), int.from_bytes(raw[HALF_BYTES:])
    try:
        point.verify(encode_dss_signature(*halves), message, _ECDSA)
    except InvalidSignature:
        return False
    return True


def verify_all(claims: Sequence[Claim]) -> list[bool]:
    """Say of each claim whether it holds, on two cores where there are two.

    The library lets other threads run while it verifies. What nobody has begun with
    when this thread has done its half, it does itself: it never waits for a turn.
    """
    if len(claims) < WORTH_SHARING:
        return _verify_some(claims)
    half = len(claims) // 2
    other = _OTHER_CORE.submit(_verify_some, claims[half:])
    found = _verify_some(claims[:half])
    return found + (_verify_some(claims[half:]) if other.cancel() else other.result())


def key_id(public: str) -> str:
    """Give the id of a public key; `KeyFault` if it is not a point of the curve."""
    _load_point(public)
    return sha256_hex(decode_base64url(public))


def site_key(path: Path) -> SigningKey:
    """Load the site's key, made once on first use, readable by its owner only.

    Errors: `KeyFault` if the file holds something else or others may read it.
    """
    if not path.exists():
        _write_new(path, ec.generate_private_key(ec.SECP256R1()))
    return kept_key(path)


def kept_key(path: Path) -> SigningKey:
    """Load the site's key, which must be there. Errors: `KeyFault`, `OSError`."""
    if path.stat().st_mode & 0o077:
        raise KeyFault(f"{path}: others may read the site's key; set mode 600")
    try:
        return read_key(path.read_bytes())
    except KeyFault as fault:
        raise KeyFault(f"{path}: {fault}") from fault


def read_key(pem: bytes) -> SigningKey:
    """Read a private key in PEM form. Errors: `KeyFault`."""
    try:
        private = load_pem_private_key(pem, password=None)
    except ValueError as fault:
        raise KeyFault("not a private key in PEM form") from fault
    if not isinstance(private, ec.EllipticCurvePrivateKey):
        raise KeyFault("not an elliptic-curve key")
    return _with_public(private)


def encode_base64url(raw: bytes) -> str:
    """Give base64url text without padding."""
    return base64.urlsafe_b64encode(raw).decode("ascii").rstrip("=")


def decode_base64url(text: str) -> bytes:
    """Read base64url without padding, in its one canonical form; else `KeyFault`."""
    if not _BASE64URL.fullmatch(text):
        raise KeyFault("not base64url without padding")
    try:
        raw = base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except binascii.Error as fault:
        raise KeyFault("not base64url without padding") from fault
    if encode_base64url(raw) != text:
        raise KeyFault("base64url with stray bits at its end")
    return raw


def _verify_some(claims: Sequence[Claim]) -> list[bool]:
    return [verify(*each) for each in claims]


def _with_public(private: ec.EllipticCurvePrivateKey) -> SigningKey:
    raw = private.public_key().public_bytes(
        Encoding.X962, PublicFormat.UncompressedPoint
    )
    return SigningKey(private=private, public=encode_base64url(raw), id=sha256_hex(raw))


# The keys of a site are few and read for every entry.
@lru_cache(maxsize=4_096)
def _load_point(public: str) -> ec.EllipticCurvePublicKey:
    raw = decode_base64url(public)
    if len(raw) != POINT_BYTES:
        raise KeyFault(f"a public key has {POINT_BYTES} bytes, not {len(raw)}")
    try:
        return ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), raw)
    except ValueError as fault:
        raise KeyFault("not a point of the curve P-256") from fault


def _write_new(path: Path, private: ec.EllipticCurvePrivateKey) -> None:
    pem = private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    write_secret(path, pem)


def write_secret(path: Path, content: bytes) -> None:
    """Write a new file only its owner may read; `FileExistsError` if it is there."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        os.write(handle, content)
        os.fsync(handle)
    finally:
        os.close(handle)
