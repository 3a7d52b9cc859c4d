"""Evidence as the files a record carries, and evidence read back from them.

The form is for ever: a record made today must be readable in thirty years. Every
file but the list of them is named there with its SHA-256.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from fieldapp.core.canonical import canonical, fingerprint, sha256_hex
from fieldapp.records.evidence import (
    Archive,
    Earlier,
    Evidence,
    Receipt,
    SignedEntry,
    Title,
)

FORMAT = 1
LIST = "record.json"
ENTRIES, OFFICE, RECEIPTS = "entries.jsonl", "office.jsonl", "receipts.jsonl"
SHEET, OLDER, TABLES, SITE = "sheet.json", "older.json", "tables.json", "site.json"
PHOTO, PHOTO_ENDING = "photo-", ".jpg"
NAMES = (LIST, ENTRIES, OFFICE, RECEIPTS, SHEET, OLDER, TABLES, SITE)


class UnreadableFiles(ValueError):
    """Files that are not a record's: says which one and what is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class File:
    """One attached file; `relation` as PDF/A-3 names it (AFRelationship)."""

    name: str
    content: bytes
    about: str
    relation: str


def files_of(
    evidence: Evidence, state: Mapping[str, Any], set_by: str
) -> tuple[File, ...]:
    """Give the files of a record, the list of them first.

    state: what the evidence folds to; set_by: what sets the pages, as
    `record.set_by` says it.
    """
    made = tuple(_files(evidence))
    hashes = {file.name: sha256_hex(file.content) for file in made}
    listed = {
        "format": FORMAT,
        "subject": evidence.sheet["subject"],
        "title": asdict(evidence.title),
        "as_of": evidence.as_of,
        "last": evidence.last,
        "head": evidence.head,
        "site_public": evidence.site_public,
        "sheet": hashes[SHEET],
        "state": fingerprint(state),
        "standing": evidence.standing,
        "set_by": set_by,
        **({"archive": _archive_told(evidence.archive)} if evidence.archive else {}),
        "files": hashes,
    }
    about = "What this record is, and the SHA-256 of every other file"
    first = File(name=LIST, content=canonical(listed), about=about, relation="Data")
    return (first, *made)


def read_list(files: Mapping[str, bytes]) -> dict[str, Any]:
    """Read the list of files and hold every file against it.

    Errors: `UnreadableFiles`.
    """
    listed: dict[str, Any] = _document(files, LIST)
    if listed.get("format") != FORMAT:
        raise UnreadableFiles(f"{LIST}: format {listed.get('format')} is not known")
    named: Mapping[str, str] = listed.get("files", {})
    for name in sorted(set(named) | (set(files) - {LIST})):
        if name not in files:
            raise UnreadableFiles(f"{name}: listed, but not in the record")
        if name not in named:
            raise UnreadableFiles(f"{name}: in the record, but not listed")
        if sha256_hex(files[name]) != named[name]:
            raise UnreadableFiles(f"{name}: not the file that was listed")
    return listed


def read_files(files: Mapping[str, bytes]) -> Evidence:
    """Make the evidence again from a record's files. Errors: `UnreadableFiles`."""
    listed = read_list(files)
    try:
        return Evidence(
            site=_document(files, SITE),
            sheet=_document(files, SHEET),
            tables=_document(files, TABLES),
            older=_document(files, OLDER),
            entries=tuple(_entries(files, ENTRIES)),
            office=tuple(_entries(files, OFFICE)),
            receipts=tuple(Receipt(**each) for each in _lines(files, RECEIPTS)),
            site_public=listed["site_public"],
            as_of=listed["as_of"],
            title=Title(**listed["title"]),
            last=listed["last"],
            head=listed["head"],
            standing=listed["standing"],
            photos=dict(_photos(files)),
            archive=_archive(listed["archive"]) if "archive" in listed else None,
        )
    except (KeyError, TypeError) as fault:
        raise UnreadableFiles(f"{LIST}: {fault}") from fault


def _archive_told(archive: Archive) -> dict[str, Any]:
    told = asdict(archive)
    return {**told, "earlier": list(told["earlier"]), "why": list(told["why"])}


def _archive(told: dict[str, Any]) -> Archive:
    earlier = tuple(Earlier(**each) for each in told["earlier"])
    return Archive(**{**told, "earlier": earlier, "why": tuple(told["why"])})


def _files(evidence: Evidence) -> Iterator[File]:
    for name, rows, about in (
        (ENTRIES, evidence.entries, "Entries of the subject as signed, with indices"),
        (OFFICE, evidence.office, "Entries of the site: people, keys, sheets issued"),
        (RECEIPTS, evidence.receipts, "Receipts of the site's key for entries"),
    ):
        yield File(name=name, content=_lined(rows), about=about, relation="Source")
    for name, document, about in (
        (SHEET, evidence.sheet, "The sheet in force"),
        (OLDER, evidence.older, "Earlier sheets, by hash"),
        (TABLES, evidence.tables, "The sheet's tables, by hash"),
        (SITE, evidence.site, "The site: elevation, roles, organisations"),
    ):
        yield File(name=name, content=canonical(document), about=about, relation="Data")
    for digest, copy in evidence.photos.items():
        about = "A photograph as printed: a copy of the one an entry names by its hash"
        name = f"{PHOTO}{digest}{PHOTO_ENDING}"
        yield File(name=name, content=copy, about=about, relation="Supplement")


def _photos(files: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    for name, content in files.items():
        if name.startswith(PHOTO) and name.endswith(PHOTO_ENDING):
            yield name[len(PHOTO) : -len(PHOTO_ENDING)], content


def _lined(rows: Iterable[Any]) -> bytes:
    return b"".join(canonical(asdict(row)) + b"\n" for row in rows)


def _entries(files: Mapping[str, bytes], name: str) -> Iterator[SignedEntry]:
    return (SignedEntry(**each) for each in _lines(files, name))


def _lines(files: Mapping[str, bytes], name: str) -> Iterator[dict[str, Any]]:
    return (_json(name, line) for line in _content(files, name).splitlines())


def _document(files: Mapping[str, bytes], name: str) -> Any:
    return _json(name, _content(files, name))


def _content(files: Mapping[str, bytes], name: str) -> bytes:
    if name not in files:
        raise UnreadableFiles(f"{name}: not in the record")
    return files[name]


def _json(name: str, content: bytes) -> Any:
    try:
        return json.loads(content.decode("utf-8"))
    except (UnicodeDecodeError, ValueError, RecursionError) as fault:
        raise UnreadableFiles(f"{name}: not readable JSON ({fault})") from fault
