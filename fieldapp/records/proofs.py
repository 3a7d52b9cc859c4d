"""What can be proved of evidence with nothing but itself: keys, signatures, hashes.

Each function gives the faults it finds as text, so that a reader is told all of them.
Signatures come first: nothing unsigned is ever interpreted.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any

from fieldapp.core.canonical import NotCanonical, fingerprint, read_canonical
from fieldapp.core.entries import Entry, EntryError, read_entry
from fieldapp.core.register import numbers_of
from fieldapp.core.roster import find_key, roster
from fieldapp.records.evidence import Evidence, Receipt, SignedEntry
from fieldapp.signatures import KeyFault, key_id, verify
from fieldapp.store.ledger import next_head

_BY_PEOPLE = frozenset({"registered", "key_added"})
"""Entries about the site that people sign themselves."""
Read = tuple[tuple[Entry, SignedEntry], ...]


def read_rows(rows: tuple[SignedEntry, ...], faults: list[str]) -> Read:
    """Read signed entries; what cannot be read becomes a fault."""
    read = []
    for row in rows:
        try:
            read.append((read_entry(row.body.encode("utf-8")), row))
        except (EntryError, UnicodeEncodeError) as fault:
            faults.append(f"entry at index {row.index} cannot be read: {fault}")
    return tuple(read)


def site_faults(evidence: Evidence, office: Read) -> Iterator[str]:
    """Say which of the site's own entries the site's key did not sign."""
    try:
        site_key = key_id(evidence.site_public)
    except KeyFault as fault:
        yield f"the site's key cannot be read: {fault}"
        return
    people = roster((entry for entry, _ in office), site_key)
    for entry, row in office:
        if entry.subject is not None:
            yield f"the entry at index {row.index} is not one of the site's own"
        elif entry.kind in _BY_PEOPLE and entry.key != site_key:
            key = find_key(people, entry.person, entry.key)
            if key is None or not _holds(key["public"], row):
                yield f"no enrolled key signed what stands at index {row.index}"
        elif entry.key != site_key or not _holds(evidence.site_public, row):
            yield f"the site's key did not sign the entry at index {row.index}"


def item_faults(evidence: Evidence, office: Read) -> Iterator[str]:
    """Say which items stand in the record otherwise than they were registered.

    A record that carries no registration (as the first ones did not) is not judged by
    them: see `registered`.
    """
    known: dict[str, list[Entry]] = {}
    for entry, _ in office:
        if entry.kind == "registered":
            known.setdefault(entry.about["item"], []).append(entry)
    for name, item in evidence.standing.get("items", {}).items():
        if known and not any(_as_stated(item, entry) for entry in known.get(name, ())):
            yield f"item {name} is not stated as it was registered"


def registered(office: Read) -> bool:
    """Say whether the registrations of items are carried at all."""
    return any(entry.kind == "registered" for entry, _ in office)


def _as_stated(item: Mapping[str, Any], entry: Entry) -> bool:
    return item.get("numbers") == numbers_of(entry) and item.get(
        "expires"
    ) == entry.about.get("expires")


def entry_faults(evidence: Evidence, office: Read, entries: Read) -> Iterator[str]:
    """Say which entries no enrolled key signed, or are of something else."""
    site_key = key_id(evidence.site_public)
    people = roster((entry for entry, _ in office), site_key)
    sites = {entry.site for entry, _ in (*office, *entries)}
    if len(sites) > 1:
        yield f"entries of more than one site: {', '.join(sorted(sites))}"
    for entry, row in entries:
        where = f"entry {entry.id[:10]} at index {row.index}"
        if entry.subject != evidence.sheet["subject"]:
            yield f"{where} is of another subject: {entry.subject}"
        key = find_key(people, entry.person, entry.key)
        if key is None:
            yield f"{where}: its key is not enrolled for {entry.person}"
        elif key["device"] != entry.device:
            yield f"{where}: its key is of another device than {entry.device}"
        elif not _holds(key["public"], row):
            yield f"{where}: the signature does not hold"


def sheet_faults(evidence: Evidence, office: Read) -> Iterator[str]:
    """Say whether the sheets and tables are those that were issued."""
    subject = evidence.sheet["subject"]
    issued = [
        entry.about["sheet"]
        for entry, _ in office
        if entry.kind == "sheet_issued" and entry.about["subject"] == subject
    ]
    sheet = fingerprint(evidence.sheet)
    if not issued or issued[-1] != sheet:
        yield f"sheet {sheet[:10]} is not the last one issued for {subject}"
    for key, body in evidence.older.items():
        if fingerprint(body) != key or key not in issued:
            yield f"an earlier sheet, {key[:10]}, is not one that was issued"
    for key in evidence.sheet["tables"].values():
        if key not in evidence.tables:
            yield f"table {key[:10]} is missing"
    for key, body in evidence.tables.items():
        if fingerprint(body) != key:
            yield f"table {key[:10]} is not the one its name says"


def ledger_faults(office: Read, entries: Read) -> Iterator[str]:
    """Say where index or hash chain do not hold, as far as neighbours are here."""
    rows = sorted((*office, *entries), key=lambda each: each[1].index)
    for (_, before), (entry, after) in pairwise(rows):
        if after.index <= before.index:
            yield f"index {after.index} is there twice"
        next_to = after.index == before.index + 1
        if next_to and next_head(before.head, entry.id) != after.head:
            yield f"the ledger's chain does not hold at index {after.index}"


def receipt_faults(evidence: Evidence, entries: Read) -> Iterator[str]:
    """Say which receipts the site's key did not sign, or that say otherwise."""
    places = {entry.id: row.index for entry, row in entries}
    for receipt in evidence.receipts:
        if not verify(evidence.site_public, _bytes(receipt.body), receipt.sig):
            yield "a receipt is not signed with the site's key"
            continue
        for named in _named(receipt):
            place = places.get(named.get("id", ""))
            if place is not None and place != named.get("index"):
                yield f"a receipt names another index for {named['id'][:10]}"


def photo_faults(evidence: Evidence, entries: Read) -> Iterator[str]:
    """Say which photographs are carried that no entry names."""
    named = {name for entry, _ in entries for name in entry.photos}
    for name in evidence.photos:
        if name not in named:
            yield f"a photograph is carried that no entry names: {name[:10]}"


def revoked(office: Read, entries: Read, site_key: str) -> int:
    """Count the entries signed with a key that was revoked, now or later."""
    people = roster((entry for entry, _ in office), site_key)
    keys = [find_key(people, entry.person, entry.key) for entry, _ in entries]
    return sum(key is not None and key["status"] == "revoked" for key in keys)


def _holds(public: str, row: SignedEntry) -> bool:
    return verify(public, _bytes(row.body), row.sig)


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def _named(receipt: Receipt) -> list[Mapping[str, Any]]:
    try:
        statement = read_canonical(_bytes(receipt.body))
    except NotCanonical:
        return []
    entries = statement.get("entries", []) if isinstance(statement, dict) else []
    return [each for each in entries if isinstance(each, dict)]
