"""The one byte form of a document, and its hash (RFC 8785, whole numbers only).

What is signed or hashed must come out the same in Python and JavaScript, so a float,
a number beyond 2^53, a lone surrogate, a non-ASCII key and text that is not in
normal form C are refused rather than rounded or repaired.
"""

import hashlib
import json
import unicodedata
from collections.abc import Iterable
from typing import Any

_WRITER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), sort_keys=True)
LARGEST = 2**53 - 1
DEEPEST = 40


class NotCanonical(ValueError):
    """A document that has no canonical form here; the message names the fault."""


def canonical(document: object) -> bytes:
    """Give the canonical UTF-8 bytes of a document: maps, lists, ints, truths, text.

    Errors: `NotCanonical` for floats, null, integers beyond ±(2^53-1),
    keys that are not ASCII, text not in NFC or with lone surrogates.
    Source: RFC 8785 (JSON Canonicalization Scheme), sections 3.2.2 and 3.2.3.
    """
    _refuse_foreign(document, DEEPEST)
    # What is left after the refusals the standard library writes as RFC 8785 asks:
    # sorted ASCII keys, no spaces, the shortest escapes. A general library for it
    # took ten times as long; the tests hold the two against each other.
    return _WRITER.encode(document).encode()


def fingerprint(document: object) -> str:
    """Give the SHA-256 of the canonical bytes, 64 hex digits."""
    return hashlib.sha256(canonical(document)).hexdigest()


def sha256_hex(raw: bytes) -> str:
    """Give the SHA-256 of some bytes, 64 hex digits."""
    return hashlib.sha256(raw).hexdigest()


def read_canonical(raw: bytes) -> Any:
    """Read bytes that must already be canonical.

    Errors: `NotCanonical` if they are not UTF-8 JSON or differ from their own
    canonical form (spaces, key order, repeated keys, escapes).
    """
    try:
        document = _READER.decode(raw.decode("utf-8"))
    except (UnicodeDecodeError, ValueError, RecursionError) as fault:
        raise NotCanonical(f"not readable JSON: {fault}") from fault
    written = _WRITER.encode(document).encode() if _plain(raw) else canonical(document)
    if written != raw:
        raise NotCanonical("the bytes are not in canonical form")
    return document


def _plain(raw: bytes) -> bool:
    """Say whether bytes which were read cannot hold anything that is refused.

    Most entries are such, and walking through each took longer than reading it: in
    ASCII every text is NFC, and the bytes show a null and how deep it may go.
    """
    if not raw.isascii() or b"null" in raw or b"\\u" in raw:
        return False
    return raw.count(b"{") + raw.count(b"[") < DEEPEST


def _refuse_float(text: str) -> Any:
    raise NotCanonical(f"a fraction: {text[:20]}")


def _whole(text: str) -> int:
    number = int(text)
    if not -LARGEST <= number <= LARGEST:
        raise NotCanonical(f"a number beyond 2^53: {text[:24]}")
    return number


_READER = json.JSONDecoder(
    parse_float=_refuse_float, parse_constant=_refuse_float, parse_int=_whole
)


def _refuse_foreign(value: object, depth: int) -> None:
    if depth == 0:
        raise NotCanonical("nested too deeply")
    if isinstance(value, dict):
        for key in value:
            if not isinstance(key, str) or not key.isascii():
                raise NotCanonical(f"a key that is not ASCII text: {key!r}")
        inside: Iterable[object] = value.values()
    elif isinstance(value, list | tuple):
        inside = value
    elif isinstance(value, str):
        return _refuse_text(value)
    else:
        return _refuse_number(value)
    if depth == 1 and value:
        raise NotCanonical("nested too deeply")
    for inner in inside:
        # Nearly all there is; the rest is looked at more closely.
        if (isinstance(inner, str) and inner.isascii()) or (
            type(inner) is int and -LARGEST <= inner <= LARGEST
        ):
            continue
        _refuse_foreign(inner, depth - 1)
    return None


def _refuse_number(value: object) -> None:
    if isinstance(value, bool):
        return
    if not isinstance(value, int):
        raise NotCanonical(f"only whole numbers, text, lists and maps, not {value!r}")
    if not -LARGEST <= value <= LARGEST:
        raise NotCanonical(f"a number beyond 2^53: {str(value)[:24]}")


def _refuse_text(text: str) -> None:
    if text.isascii():
        return
    if any("\ud800" <= char <= "\udfff" for char in text):
        raise NotCanonical("text with a lone surrogate")
    if not unicodedata.is_normalized("NFC", text):
        raise NotCanonical("text that is not in normal form C")
