"""Who is who: people and their keys, folded from the entries the site's key signed.

One thing people do themselves: with a key they have, and its PIN, they add a further
one that is theirs too, on another phone. Only the site ends a key.
"""

from collections.abc import Iterable
from typing import Any

from fieldapp.core.entries import Entry

ROSTER_KINDS = frozenset({"enrolled", "key_added", "key_retired", "key_revoked"})
"""Kinds of entry that say who is who."""


def roster(entries: Iterable[Entry], office_key: str) -> dict[str, dict[str, Any]]:
    """Fold enrolments and key endings into `{person: {name, roles, …, keys}}`.

    Entries are taken in the given (ledger) order; but for a key that its person adds,
    only those signed by `office_key` (its key id) count, since enrolling people is the
    site's own act. Each key gives `{public, device, status, since}` with status active,
    retired or revoked; a revoked one `ended` too, the entry that says so, and an added
    one `by`, the key that added it.
    """
    people: dict[str, dict[str, Any]] = {}
    for entry in entries:
        if entry.kind == "key_added":
            _add(people, entry)
        if entry.key != office_key:
            continue
        if entry.kind == "enrolled":
            _enrol(people, entry)
        elif entry.kind in ("key_retired", "key_revoked"):
            _end_key(people, entry)
    return people


def find_key(
    people: dict[str, dict[str, Any]], person: str, key: str
) -> dict[str, Any] | None:
    """Give a person's key by its id, or None if it is not theirs."""
    found: dict[str, Any] | None = people.get(person, {}).get("keys", {}).get(key)
    return found


def _enrol(people: dict[str, dict[str, Any]], entry: Entry) -> None:
    about = entry.about
    person = people.setdefault(about["person"], {"keys": {}})
    person["name"] = about["name"]
    person["roles"] = list(about["roles"])
    person["organisation"] = about["organisation"]
    person["keys"].setdefault(
        about["key"],
        {
            "public": about["public"],
            "device": about["device"],
            "status": "active",
            "since": entry.at,
        },
    )


def _add(people: dict[str, dict[str, Any]], entry: Entry) -> None:
    by = find_key(people, entry.person, entry.key)
    # A key whose PIN was forgotten adds nothing; of a lost one only what is known to
    # be older than the loss gets this far.
    if by is None or by["status"] == "retired" or entry.unlocked != "pin":
        return
    known = {key for each in people.values() for key in each["keys"]}
    if entry.about["key"] not in known:
        people[entry.person]["keys"][entry.about["key"]] = {
            "public": entry.about["public"],
            "device": entry.about["device"],
            "status": "active",
            "since": entry.at,
            "by": entry.key,
        }


def _end_key(people: dict[str, dict[str, Any]], entry: Entry) -> None:
    key = find_key(people, entry.about["person"], entry.about["key"])
    if key is None:
        return
    if entry.kind == "key_retired" and key["status"] == "active":
        key["status"] = "retired"
    elif entry.kind == "key_revoked" and key["status"] != "revoked":
        key["status"], key["ended"] = "revoked", entry.id
