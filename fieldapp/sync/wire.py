"""Reads what phones send: strict JSON, each field checked, nothing repaired.

Only the envelope is read here. A fault in it is a `WireError` that names the field,
what was found and what is allowed; a fault in one entry is that entry's own answer
and never the batch's.
"""

import json
import re
from dataclasses import replace
from typing import Any

from fieldapp.core.entries import ID
from fieldapp.intake.batch import LARGEST_BATCH
from fieldapp.intake.comeback import MOST_PROVING, Wish
from fieldapp.intake.office import Enrolment
from fieldapp.store.ledger import Signed

LONGEST_FIELD = 300
LARGEST_PAGE = 500
LAST_INDEX = 2**53 - 1
_WHOLE = re.compile(r"[0-9]{1,16}")


class WireError(ValueError):
    """A request that cannot be read: code, field, what was found, what is allowed."""

    def __init__(
        self, code: str, field: str, found: object, allowed: str, status: int = 400
    ) -> None:
        self.code, self.field, self.allowed = code, field, allowed
        self.status = status
        self.found = found if isinstance(found, int) else str(found)[:80]
        super().__init__(f"{field}: {allowed}")

    def answer(self) -> dict[str, Any]:
        """Give the body of the error answer."""
        fault = {"code": self.code, "field": self.field, "allowed": self.allowed}
        return {"error": {**fault, "value": self.found}}


def read_batch(raw: bytes) -> list[Signed]:
    """Read `{"entries": [{"bytes", "sig"}, …]}`; an odd item stays, to be answered.

    Errors: `WireError`.
    """
    return _entries(_read_object(raw), LARGEST_BATCH)


def read_enrolment(raw: bytes) -> Enrolment:
    """Read `{"code", "device", "public", "proof"}`. Errors: `WireError`."""
    document = _read_object(raw)
    return Enrolment(
        code=_field(document, "code"),
        device=_device(document),
        public=_field(document, "public"),
        proof=_field(document, "proof"),
    )


def read_return(raw: bytes) -> Wish:
    """Read `{"device", "public"}`, and with it `{"entries", "challenge", "proof"}`.

    Errors: `WireError`.
    """
    document = _read_object(raw)
    wish = Wish(device=_device(document), public=_field(document, "public"))
    if "proof" not in document:
        return wish
    return replace(
        wish,
        entries=_entries(document, MOST_PROVING),
        challenge=_field(document, "challenge"),
        proof=_field(document, "proof"),
    )


def read_code(raw: bytes) -> str:
    """Read `{"code"}`. Errors: `WireError`."""
    return _field(_read_object(raw), "code")


def read_whole(text: str | None, field: str, low: int, high: int) -> int:
    """Read a whole number of a query. Errors: `WireError`."""
    allowed = f"a whole number from {low} to {high}"
    if text is None or not _WHOLE.fullmatch(text):
        raise WireError("not_allowed", field, text or "nothing", allowed)
    number = int(text)
    if not low <= number <= high:
        raise WireError("not_allowed", field, text, allowed)
    return number


def _read_object(raw: bytes) -> dict[str, Any]:
    try:
        document = json.loads(
            raw.decode("utf-8"),
            object_pairs_hook=_each_once,
            parse_constant=_no_constant,
        )
    except (ValueError, RecursionError) as fault:
        if isinstance(fault, WireError):
            raise
        raise WireError("not_json", "body", fault, "JSON in UTF-8") from fault
    if not isinstance(document, dict):
        raise WireError("wrong_type", "body", _named(document), "a JSON object")
    return document


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    document = dict(pairs)
    if len(document) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise WireError("repeated", twice, "the field twice", "each field once")
    return document


def _no_constant(text: str) -> Any:
    raise WireError("not_json", "body", text, "JSON without NaN or Infinity")


def _entries(document: dict[str, Any], most: int) -> list[Signed]:
    entries = document.get("entries")
    if not isinstance(entries, list):
        raise WireError("wrong_type", "entries", _named(entries), "a list of entries")
    if len(entries) > most:
        allowed = f"at most {most} entries"
        raise WireError("too_many", "entries", len(entries), allowed, 413)
    return [_signed(item) for item in entries]


def _device(document: dict[str, Any]) -> str:
    device = _field(document, "device")
    if not ID.fullmatch(device):
        allowed = "letters, digits, . _ - (1 to 64)"
        raise WireError("not_allowed", "device", device, allowed)
    return device


def _signed(item: object) -> Signed:
    if not isinstance(item, dict):
        return Signed(body="", sig="")
    body, sig = item.get("bytes"), item.get("sig")
    return Signed(
        body=body if isinstance(body, str) else "",
        sig=sig if isinstance(sig, str) and len(sig) <= LONGEST_FIELD else "",
    )


def _field(document: dict[str, Any], name: str) -> str:
    value = document.get(name)
    if not isinstance(value, str):
        raise WireError("wrong_type", name, _named(value), "text")
    if not 0 < len(value) <= LONGEST_FIELD or not value.isascii():
        allowed = f"ASCII text of 1 to {LONGEST_FIELD} characters"
        raise WireError("not_allowed", name, value, allowed)
    return value


def _named(value: object) -> str:
    names = {type(None): "nothing", dict: "an object", list: "a list", str: "text"}
    return names.get(type(value), type(value).__name__)
