"""One signed fact: its fields, and the only way to read it from bytes.

The bytes signed are the bytes kept, so reading never repairs: what is not exactly an
entry is an `EntryError` that names field, value and what is allowed. A kind that is
not known here is read like any other, so that it can be kept, shown and carried.
"""

import re
from dataclasses import dataclass, field
from typing import Any

from fieldapp.core.canonical import NotCanonical, read_canonical, sha256_hex
from fieldapp.core.kinds import KINDS, VERDICTS

LARGEST_BYTES = 65_536
LONGEST_TEXT = 2_000
LONGEST_LIST = 1_000
QUANTITY_LIMIT = 10**12
LATEST_MS = 2**47
SHOWN_LENGTH = 80
"""Of what is refused so much is shown, of a field's name too: answers stay small."""
ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")
HASH = re.compile(r"[0-9a-f]{64}")


class EntryError(ValueError):
    """An entry that cannot be read: which field, what was found, what is allowed."""

    def __init__(self, where: str, found: object, allowed: str) -> None:
        self.where, self.found, self.allowed = where[:SHOWN_LENGTH], found, allowed
        super().__init__(
            f"{self.where}: found {str(found)[:SHOWN_LENGTH]!r}, allowed: {allowed}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry as read. Times in ms UTC; `zone` in minutes; `mono`, `offset` in ms."""

    id: str
    kind: str
    site: str
    rules: int
    person: str
    device: str
    key: str
    seq: int
    after: tuple[str, ...]
    at: int
    at_by: str
    made: int
    zone: int
    session: str
    mono: int
    shell: str
    subject: str | None = None
    sheet: str | None = None
    step: str | None = None
    line: str = ""
    point: str | None = None
    attempt: str | None = None
    values: dict[str, int | str] = field(default_factory=dict)
    about: dict[str, Any] = field(default_factory=dict)
    photos: tuple[str, ...] = ()
    prev: str | None = None
    needs: tuple[str, ...] = ()
    offset: int | None = None
    unlocked: str | None = None


def read_entry(raw: bytes) -> Entry:
    """Read the canonical bytes of one entry.

    Errors: `EntryError` naming the field, the value and what is allowed.
    """
    if len(raw) > LARGEST_BYTES:
        raise EntryError("bytes", len(raw), f"at most {LARGEST_BYTES}")
    try:
        document = read_canonical(raw)
    except NotCanonical as fault:
        raise EntryError("bytes", str(fault), "canonical JSON (RFC 8785)") from fault
    return entry_of(document, sha256_hex(raw))


def entry_of(document: object, entry_id: str) -> Entry:
    """Check a document field by field and give the entry (its id is given)."""
    if not isinstance(document, dict):
        raise EntryError("entry", type(document).__name__, "a map of fields")
    for name in document:
        if name not in _FIELDS:
            raise EntryError(name, "a field", f"only {', '.join(sorted(_FIELDS))}")
    for name, (needed, check) in _FIELDS.items():
        if name in document:
            check(name, document[name])
        elif needed:
            raise EntryError(name, "nothing", "this field is needed")
    _check_kind(document)
    known = {name: document[name] for name in document if name != "format"}
    for name in ("after", "needs", "photos"):
        if name in known:
            known[name] = tuple(known[name])
    return Entry(id=entry_id, **known)


def adds_photo(entry: Entry) -> bool:
    """Say whether a correction changes no value and no time, only brings pictures."""
    bare = entry.kind == "correction" and not entry.values and "at" not in entry.about
    return bare and bool(entry.photos)


def _check_kind(document: dict[str, Any]) -> None:
    kind = KINDS.get(document["kind"])
    if kind is None:
        return
    need = {"step": ("subject", "step"), "point": ("subject", "point")}
    for name in need.get(kind["on"], ("subject",) if kind["on"] == "subject" else ()):
        if name not in document:
            raise EntryError(name, "nothing", f"needed by kind {document['kind']}")
    if document.get("values") and not kind["values"]:
        raise EntryError("values", document["values"], "none with this kind")
    about = document.get("about", {})
    for name, wanted in kind["about"].items():
        if name in about:
            _ABOUT[wanted.rstrip("?")](f"about.{name}", about[name])
        elif not wanted.endswith("?"):
            raise EntryError(f"about.{name}", "nothing", "this field is needed")
    for name in about:
        if name not in kind["about"]:
            raise EntryError(f"about.{name}", about[name], "not a field of this kind")


def _text(where: str, value: object) -> None:
    if not isinstance(value, str) or not 0 < len(value) <= LONGEST_TEXT:
        raise EntryError(where, value, f"text of 1 to {LONGEST_TEXT} characters")


def _id(where: str, value: object) -> None:
    if not isinstance(value, str) or not ID.fullmatch(value):
        raise EntryError(where, value, "letters, digits, . _ - (1 to 64)")


def _hash(where: str, value: object) -> None:
    if not isinstance(value, str) or not HASH.fullmatch(value):
        raise EntryError(where, value, "64 hex digits")


def _whole(low: int, high: int) -> Any:
    def check(where: str, value: object) -> None:
        if type(value) is not int or not low <= value <= high:
            raise EntryError(where, value, f"a whole number from {low} to {high}")

    return check


def _one_of(*allowed: str) -> Any:
    def check(where: str, value: object) -> None:
        if value not in allowed:
            raise EntryError(where, value, f"one of {', '.join(allowed)}")

    return check


def _list(check: Any, *, ordered: bool = False) -> Any:
    def check_list(where: str, value: object) -> None:
        if not isinstance(value, list) or len(value) > LONGEST_LIST:
            raise EntryError(where, value, f"a list of at most {LONGEST_LIST}")
        for inner in value:
            check(where, inner)
        if ordered and sorted(set(value)) != value:
            raise EntryError(where, "unsorted or repeated", "sorted, each once")

    return check_list


def _values(where: str, value: object) -> None:
    if not isinstance(value, dict) or len(value) > LONGEST_LIST:
        raise EntryError(where, value, "a map of readings")
    for name, inner in value.items():
        _id(f"{where} key", name)
        if isinstance(inner, str):
            _text(f"{where}.{name}", inner)
        else:
            _quantity(f"{where}.{name}", inner)


def _about(where: str, value: object) -> None:
    if not isinstance(value, dict):
        raise EntryError(where, value, "a map")


def _conditions(where: str, value: object) -> None:
    if not isinstance(value, list) or not 0 < len(value) <= 20:
        raise EntryError(where, value, "a list of 1 to 20 conditions")
    for each in value:
        if not isinstance(each, dict) or set(each) != {"text", "before"}:
            raise EntryError(where, each, "a map of text and before")
        _text(f"{where}.text", each["text"])
        _id(f"{where}.before", each["before"])


_ms = _whole(0, LATEST_MS)
_quantity = _whole(-QUANTITY_LIMIT, QUANTITY_LIMIT)
_ABOUT: dict[str, Any] = {
    "text": _text,
    "id": _id,
    "ids": _list(_id),
    "hash": _hash,
    "ms": _ms,
    "int": _quantity,
    "verdict": _one_of(*VERDICTS),
    "conditions": _conditions,
}
_FIELDS: dict[str, tuple[bool, Any]] = {
    "format": (True, _whole(1, 1)),
    "site": (True, _id),
    "subject": (False, _id),
    "sheet": (False, _hash),
    "rules": (True, _whole(1, 1_000)),
    "kind": (True, _id),
    "step": (False, _id),
    "line": (False, _id),
    "point": (False, _id),
    "attempt": (False, _hash),
    "values": (False, _values),
    "about": (False, _about),
    "photos": (False, _list(_hash)),
    "person": (True, _id),
    "device": (True, _id),
    "key": (True, _hash),
    "seq": (True, _whole(1, 10**9)),
    "prev": (False, _hash),
    "after": (True, _list(_hash, ordered=True)),
    "needs": (False, _list(_hash, ordered=True)),
    "at": (True, _ms),
    "at_by": (True, _one_of("tap", "typed")),
    "made": (True, _ms),
    "zone": (True, _whole(-1_440, 1_440)),
    "session": (True, _id),
    "mono": (True, _whole(0, LATEST_MS)),
    "offset": (False, _whole(-LATEST_MS, LATEST_MS)),
    "shell": (True, _id),
    "unlocked": (False, _one_of("pin", "shift")),
}
