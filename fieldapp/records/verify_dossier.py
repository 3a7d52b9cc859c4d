"""Checks a dossier with nothing but the file: each record in it, and its pages here.

Every record is proved from the file it is attached as; then each of its pages in the
dossier must draw exactly what the page of that file draws. Cover and contents are not
compared with anything but the list of records.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from fieldapp.core.canonical import sha256_hex
from fieldapp.records.dossier import FORMAT, LIST
from fieldapp.records.joining import digest_of, page_digests, reader_of
from fieldapp.records.verify import MALFORMED, NO, Verdict, verify_record


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """A record of a dossier: its file, its verdict, what is wrong with its place.

    hash: SHA-256 of the attached bytes.
    """

    file: str
    hash: str
    verdict: Verdict
    faults: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Say whether the record is proved and its pages here are its own."""
        return self.verdict.result != NO and not self.faults


@dataclass(frozen=True, slots=True, kw_only=True)
class DossierVerdict:
    """What was found in a dossier; faults: of the file as a whole.

    front: how many pages come before the first record; they are not compared.
    """

    records: tuple[Proved, ...]
    faults: tuple[str, ...]
    front: int = 0

    @property
    def holds(self) -> bool:
        """Say whether everything holds."""
        return not self.faults and all(each.holds for each in self.records)


def is_dossier(pdf: bytes) -> bool:
    """Say whether a file says of itself that it is a dossier."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        return LIST in PdfReader(BytesIO(pdf)).attachments
    except (PyPdfError, *MALFORMED):
        return False


def verify_dossier(pdf: bytes, site_key: str | None = None) -> DossierVerdict:
    """Check a dossier, against a site key's fingerprint if the reader holds one."""
    reader = reader_of(pdf)
    try:
        listed = json.loads(_attached(reader, LIST))
        if listed.get("format") != FORMAT:
            told = f"{LIST}: format {listed.get('format')} is not known"
            return DossierVerdict(records=(), faults=(told,))
        records = [_proved(reader, each, site_key) for each in listed["records"]]
        faults = tuple(_whole_faults(reader, listed["records"]))
        front = min((each["first"] for each in listed["records"]), default=1) - 1
    except MALFORMED as fault:
        told = f"not the list of a dossier: {fault!r}"
        return DossierVerdict(records=(), faults=(told,))
    return DossierVerdict(records=tuple(records), faults=faults, front=front)


def _proved(reader: Any, told: dict[str, Any], site_key: str | None) -> Proved:
    record = _attached(reader, told["file"])
    verdict = verify_record(record, site_key)
    faults = tuple(_faults(reader, told, record))
    # What was read is not needed again; a dossier may hold hundreds of records.
    reader.resolved_objects.clear()
    found = sha256_hex(record)
    return Proved(file=told["file"], hash=found, verdict=verdict, faults=faults)


def _faults(reader: Any, told: dict[str, Any], record: bytes) -> Iterator[str]:
    if sha256_hex(record) != told["hash"]:
        yield "the attached file is not the one that was listed"
    first, count = told["first"] - 1, told["pages"]
    here = [digest_of(page) for page in reader.pages[first : first + count]]
    if here != list(page_digests(record)):
        yield f"its pages here, from page {told['first']} on, are not its own"


def _whole_faults(reader: Any, records: list[dict[str, Any]]) -> Iterator[str]:
    files = {LIST, *(each["file"] for each in records)}
    if set(reader.attachments) != files:
        yield "the files attached are not those listed"
    ends = [each["first"] + each["pages"] for each in records]
    starts = [each["first"] for each in records[1:]]
    if not records or starts != ends[:-1] or ends[-1] != len(reader.pages) + 1:
        yield "there are pages that belong to no record"


def _attached(reader: Any, name: str) -> bytes:
    found = reader.attachments[name]
    if len(found) != 1:
        raise ValueError(f"{name} is attached {len(found)} times")
    content: bytes = found[0]
    return content
